"""In whose words and units the pages are told: the language in force, the units of the site."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache

from django.http import HttpRequest, HttpResponse
from django.utils.translation import get_language, gettext, ngettext, override

from protoconch.records.models import Person
from protoconch.units.preferred import measured, shown
from protoconch.words import ENGLISH, Reader, read_by

BARE = re.compile(r"[-+\d.,\s/]*\d")
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


@contextmanager
def read_for(person: Person) -> Iterator[None]:
    """Within it, a person reads who is not signed in: their language, the units of their site."""
    before = _us.set(frozenset(person.site.us_units.split()))
    try:
        with override(person.language or get_language()):
            yield
    finally:
        _us.reset(before)


def reader() -> Reader:
    """Who reads now."""
    return _reader((get_language() or "en").startswith("en"), _us.get())


def unit_typed(unit: str) -> str:
    """The unit that numbers without one are typed in at this site, for a metric unit."""
    found = shown(unit, _us.get())
    return found.unit if found else unit


def as_shown(value: float, unit: str) -> float:
    """A metric value as it stands in a field of this site."""
    found = shown(unit, _us.get())
    return found.of(value) if found else value


def with_unit(typed: str, unit: str) -> str:
    """What was typed, with the unit of this site where a bare number was and it is another one."""
    found = shown(unit, _us.get())
    return f"{typed} {found.unit}" if found and BARE.fullmatch(typed.strip()) else typed


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
