"""A person's own keys: for the calendar and for the API; shown once, ended at any time."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from protoconch.errors import BadInput
from protoconch.operations.exchange.keys import API, CALENDAR, end_key, make_key
from protoconch.web.access import Request, Role, allowed


@allowed(Role.VIEWER)
def keys(request: Request) -> HttpResponse:
    """The keys there are; sent, one more is made and shown this once."""
    _on_own_device(request)
    told: dict[str, object] = {"title": _("Your keys for other programs")}
    status = 200
    if request.method == "POST":
        purpose = request.POST.get("purpose", "")
        try:
            secret = make_key(
                request.person, purpose, request.POST.get("words", ""), timezone.now()
            )
        except BadInput as fault:
            told |= {"fault": str(fault), "title": _("No key was made")}
            status = 422
        else:
            told["title"] = _("Keep this now: it is not shown again")
            told["secret"] = secret
            if purpose == CALENDAR:
                told["address"] = request.build_absolute_uri(
                    reverse("exchange:feed", args=[secret])
                )
    told |= {
        "keys": request.person.keys.order_by("-made"), "api": API, "calendar": CALENDAR,
        "api_address": request.build_absolute_uri("/api/openapi.json"),
    }  # fmt: skip
    answer = render(request, "exchange/keys.html", told, status=status)
    answer["Cache-Control"] = "no-store"
    return answer


@allowed(Role.VIEWER)
def end(request: Request, number: int) -> HttpResponse:
    """End a key; whatever used it is let in no more."""
    _on_own_device(request)
    return _ended(request, number)


@require_POST
def _ended(request: Request, number: int) -> HttpResponse:
    if not end_key(request.person, number):
        raise Http404
    messages.success(request, _("The key is ended."))
    return redirect("exchange:keys")


def _on_own_device(request: Request) -> None:
    if getattr(request.person, "at_tablet", False):
        raise PermissionDenied
