"""Where the codes on paper lead, and what every sheet says of itself."""

import ipaddress

from django.conf import settings
from django.http import HttpResponse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from protoconch.sheets.paper.page import Words
from protoconch.sheets.paper.press import PAPERS
from protoconch.web.access import Request
from protoconch.web.network import address_here

FIRST_PAPER = next(iter(PAPERS))


def address(request: Request) -> str:
    """The address that codes begin with, without a slash at the end.

    The one that was set for the program; else the one that this page was asked by; and where that
    is one that only this computer knows, this computer's address in its network.
    """
    if settings.ADDRESS:
        return str(settings.ADDRESS).rstrip("/")
    host = request.get_host()
    if only_here(request) and (here := address_here()):
        host = f"{here}:{request.get_port()}"
    return f"{request.scheme}://{host}"


def only_here(request: Request) -> bool:
    """Whether the page was asked by an address of this very computer alone, and none was set."""
    if settings.ADDRESS:
        return False
    name = request.get_host().rpartition(":")[0] or request.get_host()
    if name == "localhost":
        return True
    try:
        return ipaddress.ip_address(name.strip("[]")).is_loopback
    except ValueError:
        return False


def leads(request: Request, path: str) -> str:
    """An address of this site as a code has it."""
    return address(request) + path


def words(scan: str) -> Words:
    """What every sheet says besides its own. scan: under the code."""
    return Words(
        get_language() or "en", _("Done by"), _("on"), _("Seen besides"), scan, _("Care first"),
        _("done"), _("not done"), _("time"), _("by"),
    )  # fmt: skip


def foot(request: Request) -> str:
    """When it was printed and where its codes lead."""
    now = timezone.localtime()
    return _("printed %(day)s, %(time)s; the codes lead to %(address)s") % {
        "day": date_format(now, _("j F")), "time": date_format(now, "H:i"),
        "address": address(request),
    }  # fmt: skip


def paper_of(request: Request) -> str:
    """The size of paper: the one asked for, else the one chosen last on this device."""
    asked = request.GET.get("paper", "")
    if asked in PAPERS:
        if request.session.get("paper") != asked:
            request.session["paper"] = asked
        return asked
    chosen = request.session.get("paper", FIRST_PAPER)
    return chosen if chosen in PAPERS else FIRST_PAPER


def as_pdf(pdf: bytes, name: str) -> HttpResponse:
    """A PDF that the browser shows. name: of the file, without its ending."""
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer
