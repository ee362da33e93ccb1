"""Algae: the room at one look, and each culture's own page."""

from datetime import timedelta

from django.db.models import Q
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from protoconch.algae.sterilising import CHLORINE_CAUTIONS, HEAT_CAUTIONS
from protoconch.errors import MissingInput
from protoconch.hatchery.vessels import vessels
from protoconch.log.fold.corrections import POINTING
from protoconch.log.fold.replay import by_name, items_of
from protoconch.log.sentences import sentence
from protoconch.pictures.algae_curve import algae_curve
from protoconch.records.queries.log import entries, rows
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.algae import saying
from protoconch.web.pages.algae.seen import room_now
from protoconch.web.pages.algae.showing import shown

LAST_ENTRIES = 40
EMPTY_DAYS_BACK = timedelta(days=120)
"""How far back the story of an empty vessel is told."""


@allowed(Role.VIEWER)
def algae(request: Request) -> HttpResponse:
    """What to inoculate and harvest."""
    try:
        room = room_now(request.site, timezone.localtime())
    except MissingInput as missing:
        return render(request, "algae/first.html", {"why": str(missing)})
    cautions = {"cautions": (*CHLORINE_CAUTIONS, *HEAT_CAUTIONS)}
    return render(request, "algae/algae.html", shown(room) | cautions)


@allowed(Role.VIEWER)
def culture(request: Request, vessel: str) -> HttpResponse:
    """The culture in a vessel: how it grows, and what the log tells of it."""
    try:
        room = room_now(request.site, timezone.localtime())
    except MissingInput as missing:
        return render(request, "algae/first.html", {"why": str(missing)})
    known = {one.name for one in vessels(room.hatchery) if one.kind == "algae vessel"}
    if vessel not in known:
        raise Http404
    one = next((found for found in room.cultures if found.vessel == vessel), None)
    begin = one.started if one else timezone.now() - EMPTY_DAYS_BACK
    asked = Q(where=vessel) | Q(kind__in=POINTING)
    kept = entries(rows(request.site, since=begin).filter(asked).select_related("site"))
    items = items_of(kept, by_name(room.hatchery))
    found = [item.entry for item in reversed(items) if item.counted and item.entry.where == vessel]
    told = {
        "vessel": vessel, "one": one, "line": saying.line_of(one) if one else None,
        "curve": algae_curve(one.curve) if one and one.curve else None,
        "counts": saying.counts(one) if one else (), "dirty": vessel in room.state.dirty,
        "harvested": saying.harvested(one) if one else "",
        "story": [(entry, sentence(entry)) for entry in found[:LAST_ENTRIES]],
    }  # fmt: skip
    return render(request, "algae/culture.html", told)
