"""What is said when something cannot be shown: always a sentence, never a trace."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.translation import gettext as _


def _said(
    request: HttpRequest, status: int, title: str, what: str, again: str = ""
) -> HttpResponse:
    said = {"title": title, "what": what, "again": again}
    return render(request, "fault.html", said, status=status)


def not_understood(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """The browser sent something that no form of ours sends."""
    what = _("Go back, look at what you typed, and send it again.")
    return _said(request, 400, _("This was not understood"), what)


def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """The person's role does not reach so far."""
    what = _("Your manager can open it to you, or do it for you.")
    return _said(request, 403, _("This page is not open to you"), what)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """There is nothing at the address."""
    what = _("The address may be mistyped, or what it showed may have another name now.")
    return _said(request, 404, _("There is nothing here"), what)


def our_fault(request: HttpRequest) -> HttpResponse:
    """Something in the program broke."""
    what = _("The program made a mistake. What was saved before is safe; please try once more.")
    said = {"title": _("This is our fault"), "what": what, "again": request.path}
    # without the request: what broke may be the very thing that the frame would ask
    return HttpResponse(render_to_string("fault.html", said), status=500)


def stale_form(request: HttpRequest, reason: str = "", **_parts: Any) -> HttpResponse:  # noqa: ARG001
    """A form from a page that was open too long, or from another site."""
    what = _("Load the page again and send it once more; copy a long text first.")
    return _said(request, 403, _("This form has grown too old to send"), what, request.path)
