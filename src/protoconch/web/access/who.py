"""On the tablet of the room: whoever sends a form says who they are first."""

from functools import partial
from typing import Any, cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _

from protoconch.operations.people.roles import hands, pin_fits
from protoconch.operations.people.tries import TooSoon, count_try, forget_tries
from protoconch.records.models import Person, Role

ASKED = 428
"""Status of the question: something is lacking that must come first."""

OWN_FIELDS = ("csrfmiddlewaretoken", "who", "pin")


def who_question(request: HttpRequest) -> HttpResponse | None:
    """The page that asks who it is, with all that was typed kept; None once that is known.

    The person named takes the tablet's place on the request, in no higher role than crew.
    """
    tablet: Person = cast("Any", request).person
    names = hands(tablet.site)
    chosen = next((p for p in names if str(p.pk) == request.POST.get("who")), None)
    if chosen is None:
        return _asked(request, names, None, "")
    fault = _pin_fault(request, chosen)
    if fault is not None:
        return _asked(request, names, chosen, fault)
    cast("Any", request).person = at_tablet(chosen)
    return None


def at_tablet(person: Person) -> Person:
    """The person as the tablet knows them: crew, whatever else they are."""
    limited = cast("Any", person)
    limited.may = partial(_may_as_crew, person.may)
    limited.at_tablet = True
    return person


def _may_as_crew(may: Any, role: str) -> bool:
    return role != Role.MANAGER and bool(may(role))


def _pin_fault(request: HttpRequest, person: Person) -> str | None:
    """None where the number is right or not needed, empty where it is still to be asked."""
    if not person.pin:
        return None
    typed = request.POST.get("pin", "")
    if not typed:
        return ""
    account = f"pin {person.pk}"
    try:
        count_try(account, account, timezone.now())
    except TooSoon as fault:
        return _("Too many tries. Wait %(n)s seconds, then try once more.") % {"n": fault.seconds}
    if not pin_fits(person, typed):
        return _("This is not the number.")
    forget_tries(account)
    return None


def _asked(
    request: HttpRequest, names: list[Person], chosen: Person | None, fault: str
) -> HttpResponse:
    kept = [
        (key, value)
        for key in request.POST
        if key not in OWN_FIELDS
        for value in request.POST.getlist(key)
    ]
    said = {"names": names, "chosen": chosen, "fault": fault, "kept": kept,
            "files": bool(request.FILES), "where": request.get_full_path()}  # fmt: skip
    return render(request, "who.html", said, status=ASKED)
