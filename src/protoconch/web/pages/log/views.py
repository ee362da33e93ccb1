"""The log: what happened, the latest first, and each entry by itself."""

from urllib.parse import urlencode
from uuid import UUID, uuid4

from django.http import Http404, HttpResponse
from django.shortcuts import render

from protoconch.errors import MissingInput
from protoconch.log.state import Doubt
from protoconch.records.queries.log import state
from protoconch.records.queries.photos import photos
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.log.fields import told_fields
from protoconch.web.pages.log.looking_for import LookingFor, query
from protoconch.web.pages.log.reading import Told, one, page_of, several, told
from protoconch.web.pages.log.titles import title_of
from protoconch.web.pages.log.working import working_of

DOUBTS_SHOWN = 20


@allowed(Role.VIEWER)
def entries(request: Request) -> HttpResponse:
    """All entries, or those looked for, a page of them."""
    form = LookingFor(request.GET)
    form.full_clean()
    before = request.GET.get("before", "")
    found, mark = page_of(form.rows(request.site), before)
    try:
        shown, doubts = told(request.site, found), _doubts(request) if not before else ()
    except MissingInput:
        shown, doubts = (), ()
    here = query(form)
    return render(request, "log/entries.html", {
        "form": form,
        "fresh": uuid4,
        "looking": form.any(),
        "entries": shown,
        "doubts": doubts,
        "title": title_of(
            shown, len(doubts), looking=form.any(), more=bool(mark), first=not before
        ),
        "next": urlencode({**here, "before": mark}) if mark else "",
        "first": urlencode(here) if before else None,
    })  # fmt: skip


@allowed(Role.VIEWER)
def entry(request: Request, uuid: UUID) -> HttpResponse:
    """One entry: all it says, who, when, what was put right."""
    found = one(request.site, uuid)
    if found is None:
        raise Http404
    now = state(request.site)
    seen = next(
        (s for batch in now.batches.values() for s in batch.sightings if s.entry == uuid), None
    )
    return render(request, "log/entry.html", {
        "told": found,
        "sighting": seen,
        "working": working_of(found.entry, seen),
        "fresh": uuid4,
        "photos": photos(request.site, [uuid]).get(uuid, ()),
        "fields": told_fields(found.entry),
        "was": told_fields(found.first) if found.changed else (),
        "culture_count": next(
            (seen for culture in now.cultures.values() for seen in culture.counts
             if seen.entry == uuid), None,
        ),
        "pointing": several(request.site, [each.id for each in found.pointing]),
        "of": one(request.site, getattr(found.first.payload, "of", None) or uuid)
        if found.points else None,
        "doubts": [doubt for doubt in now.doubts if uuid in doubt.entries],
    })  # fmt: skip


def _doubts(request: Request) -> tuple[tuple[Doubt, tuple[Told, ...]], ...]:
    """The first doubts of the log, each with its entries."""
    found = state(request.site).doubts[:DOUBTS_SHOWN]
    ids = dict.fromkeys(uuid for doubt in found for uuid in doubt.entries)
    known = {each.first.id: each for each in several(request.site, list(ids))}
    return tuple(
        (doubt, tuple(known[uuid] for uuid in doubt.entries if uuid in known)) for doubt in found
    )
