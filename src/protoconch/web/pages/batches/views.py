"""Batches: a line for each, and each batch's own story."""

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from protoconch.log.entry import Entry
from protoconch.records.queries.answers import planned
from protoconch.records.queries.log import state
from protoconch.records.queries.outlook import looked_ahead
from protoconch.records.queries.photos import photos, photos_of_batch
from protoconch.records.queries.site import hatchery
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.batches.lines import Known, alive, known, line, stage, where
from protoconch.web.pages.batches.story import Story, story


@allowed(Role.VIEWER)
def batches(request: Request) -> HttpResponse:
    """All batches, those under way first."""
    plan = planned(request.site).plan
    now, here = state(request.site), hatchery(request.site)
    lines = [line(one, plan, now, here) for one in known(plan, now, looked_ahead(request.site))]
    begun = [one for one in lines if one.begun]
    told: dict[str, Any] = {
        "begun": begun, "planned": [one for one in lines if not one.begun],
        "title": _title(begun, now.batches),
    }  # fmt: skip
    return render(request, "batches/batches.html", told)


@allowed(Role.VIEWER)
def batch(request: Request, code: str) -> HttpResponse:
    """The story of one batch."""
    plan = planned(request.site).plan
    now, today = state(request.site), timezone.localdate()
    ahead = looked_ahead(request.site)
    one = next((found for found in known(plan, now, ahead) if found.code == code), None)
    if one is None:
        raise Http404
    its_story = story(request.site, one, plan, now, today)
    told: dict[str, Any] = {
        "one": one, "story": its_story, "by_log": ahead.outlook is not None,
        "photos": _photos(request, one.code, its_story),
        "line": line(one, plan, now, hatchery(request.site)), "title": _batch_title(one, now),
        "masses": [now.masses[name] for name in one.state.masses if name in now.masses]
        if one.state else [],
    }  # fmt: skip
    return render(request, "batches/batch.html", told)


def _photos(request: Request, code: str, its_story: Story) -> list[Entry]:
    """The photos of its entries and of its vessels while they held it, in the log's order."""
    found = {one.id: one for one in photos_of_batch(request.site, code)}
    beside = photos(request.site, [one.entry.id for one in its_story.photos])
    found |= {one.id: one for each in beside.values() for one in each}
    return sorted(found.values(), key=lambda entry: entry.order)


def _title(begun: list[Any], all_batches: Any) -> str:
    """How many batches live, in words."""
    if not begun:
        return _("No batch has begun yet")
    living = sum(1 for one in begun if all_batches[one.code].vessels)
    if not living:
        return _("No batch is in the hatchery now")
    said = ngettext("%(n)s batch is alive", "%(n)s batches are alive", living)
    return said % {"n": living}


def _batch_title(one: Known, now: Any) -> str:
    """The batch in words."""
    if one.state is None:
        return _("Batch %(code)s is planned") % {"code": one.code}
    number = alive(one.state)
    if not one.state.vessels:
        return _("Batch %(code)s has left the hatchery") % {"code": one.code}
    named = {"code": one.code, "n": number, "stage": stage(one.state, now),
             "where": where(one.state)}  # fmt: skip
    if not number:
        return _("Batch %(code)s: %(stage)s in %(where)s") % named
    return _("Batch %(code)s: %(n)s %(stage)s in %(where)s") % named
