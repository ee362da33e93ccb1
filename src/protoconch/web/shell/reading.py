"""In whose words and units the pages are told: the language in force, the units of the site."""

from collections.abc import Callable
from contextvars import ContextVar
from functools import cache

from django.http import HttpRequest, HttpResponse
from django.utils.translation import get_language, gettext, ngettext

from protoconch.units.preferred import Shown, measured, shown
from protoconch.words import ENGLISH, Reader, read_by

_us: ContextVar[frozenset[str]] = ContextVar("us", default=frozenset())


class Reading:
    """Puts the units of the site in force."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        """Say who reads the texts of the program, and keep what answers the request."""
        self.get_response = get_response
        read_by(reader)

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request in the units that its site prefers."""
        site = getattr(request, "site", None)
        before = _us.set(frozenset(site.us_units.split()) if site else frozenset())
        try:
            return self.get_response(request)
        finally:
            _us.reset(before)


def reader() -> Reader:
    """Who reads now."""
    return _reader((get_language() or "en").startswith("en"), _us.get())


def shown_unit(unit: str) -> Shown | None:
    """How a metric unit is shown and typed at this site, None where as it is."""
    return shown(unit, _us.get())


@cache
def _reader(english: bool, us: frozenset[str]) -> Reader:
    units = (lambda value, unit, _: measured(value, unit, us)) if us else None
    if english:
        return Reader(measured=units) if units else ENGLISH
    return Reader(_translated, _counted, units)


def _translated(template: str) -> str:
    return gettext(template) if template else ""


def _counted(one: str, many: str, number: float) -> str:
    # a share of a thing is told as several; gettext counts whole things only
    return ngettext(one, many, 1 if number == 1 else 2)
