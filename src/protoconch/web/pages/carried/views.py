"""The page of what waits on a phone, and where a phone sends it."""

from datetime import datetime

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_POST

from protoconch.web.access import ANYONE, Request, Role, allowed
from protoconch.web.pages.carried.taking import Taken, local, taken
from protoconch.web.shell.surroundings import surroundings


@allowed(ANYONE)
@ensure_csrf_cookie
def waiting(request: HttpRequest) -> HttpResponse:
    """What waits on this phone; the page itself holds nothing, its script reads the phone."""
    hands = surroundings(request)["hands"]
    return render(request, "carried/waiting.html", {"names": hands})


@allowed(ANYONE)
@ensure_csrf_cookie
@never_cache
def clock(request: HttpRequest) -> HttpResponse:
    """The time by the server's clock, who is signed in, and a cookie to send forms with."""
    return JsonResponse({"now": _ms(timezone.now()), "person": _person(request)})


@allowed(Role.CREW)
@require_POST
@never_cache
def take(request: Request) -> HttpResponse:
    """A form that was kept on a phone; the answer says what became of it."""
    now = timezone.now()
    if request.POST.get("carried.person", "") != _person(request):
        return JsonResponse({"now": _ms(now), "outcome": "other", "person": _person(request)})
    return JsonResponse(_as_json(taken(request.person, request.POST, now), now))


def _as_json(what: Taken, now: datetime) -> dict[str, object]:
    words = _("See it in the log")
    if what.outcome == "doubtful":
        words = _("Look at it and settle it")
    return {
        "now": _ms(now),
        "outcome": what.outcome,
        "sentences": [str(sentence) for sentence in what.sentences],
        "links": [[address, words] for address in what.entries],
        "choices": [local(one) for one in what.choices],
    }


def _person(request: HttpRequest) -> str:
    """Number of whoever is signed in on this browser, the tablet's own on the tablet."""
    return str(request.user.pk or "")


def _ms(at: datetime) -> int:
    return round(at.timestamp() * 1000)
