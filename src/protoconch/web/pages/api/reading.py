"""What other programs may ask for."""

from datetime import date, datetime
from typing import Annotated, Any, cast
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404, HttpRequest
from django.utils import timezone
from pydantic import AfterValidator, Field

from protoconch.errors import BadInput
from protoconch.log.state import State
from protoconch.records.models import Entry as Row
from protoconch.records.models import Role, Site
from protoconch.records.queries.answers import planned
from protoconch.records.queries.answers import tasks as tasks_of
from protoconch.records.queries.log import rows
from protoconch.records.queries.log import state as state_of
from protoconch.web.pages.api.entrance import api, needs
from protoconch.web.pages.api.shapes import Entries, EntryShape, Refused, entry_shapes, plain

PLAN_PARTS = ("target", "feasible", "odds", "expected", "p10", "p90", "batches", "egg_masses",
              "tanks", "tray_area_cm2", "nursery_m2", "work_hours", "limits", "binding_limit",
              "offers", "notes")  # fmt: skip
Told = dict[str, Any]
"""Whatever there is, by its name."""

LAST_NUMBER = 2**63 - 1
REFUSED = {(400, 401, 403, 404, 409, 422)[n]: Refused for n in range(6)}


def _written(text: str) -> str:
    if "\0" in text:
        raise ValueError("it holds a character that cannot be written")
    return text


def _in_time(moment: datetime | date | None) -> Any:
    if moment is not None and not 2000 <= moment.year <= 2100:
        raise ValueError("give a day from 2000 to 2100")
    return moment


Words = Annotated[str, Field(max_length=80), AfterValidator(_written)]
Moment = Annotated[datetime | None, AfterValidator(_in_time)]
Day = Annotated[date | None, AfterValidator(_in_time)]
After = Annotated[int, Field(ge=0, le=LAST_NUMBER)]
Limit = Annotated[int, Field(ge=1, le=500)]


@api.get("/entries", response={200: Entries, **REFUSED}, summary="Entries in order of arrival")
@needs(Role.VIEWER)
def entries(
    request: HttpRequest, kind: Words = "", where: Words = "", batch: Words = "",
    since: Moment = None, until: Moment = None, after: After = 0, limit: Limit = 100,
) -> dict[str, Any]:  # fmt: skip
    """Entries as they were written, a page of them. after: `next` of the page before."""
    found = rows(_site(request), kind=kind, where=where, batch=batch,
                 since=_aware(since), until=_aware(until))  # fmt: skip
    return _page(found, after, limit)


@api.get("/entries/{uuid:id}", response={200: EntryShape, **REFUSED}, summary="One entry")
@needs(Role.VIEWER)
def entry(request: HttpRequest, id: UUID) -> dict[str, Any]:  # noqa: A002 - as an entry calls it
    """One entry as it was written."""
    row = Row.objects.filter(site=_site(request), uuid=id).first()
    if row is None:
        raise Http404
    return entry_shapes([row])[0]


@api.get("/readings", response={200: Entries, **REFUSED}, summary="Readings in order of arrival")
@needs(Role.VIEWER)
def readings(
    request: HttpRequest, quantity: Words = "", where: Words = "", since: Moment = None,
    until: Moment = None, after: After = 0, limit: Limit = 100,
) -> dict[str, Any]:  # fmt: skip
    """Entries that are readings, a page of them. quantity: as "temperature"."""
    found = rows(_site(request), kind="read", where=where, since=_aware(since),
                 until=_aware(until))  # fmt: skip
    return _page(found.filter(payload__quantity=quantity) if quantity else found, after, limit)


@api.get("/state", response={200: Told, **REFUSED}, summary="All there is, as of a moment")
@needs(Role.VIEWER)
def state(request: HttpRequest, at: Moment = None) -> Any:
    """Tanks, batches, cultures, readings, reservoirs, parts and jars, folded from the log."""
    return _told(state_of(_site(request), _aware(at)))


@api.get("/tasks", response={200: Told, **REFUSED}, summary="The work of a day")
@needs(Role.VIEWER)
def tasks(request: HttpRequest, day: Day = None) -> Any:
    """The lines of a day's work list, today's where no day is named."""
    on = day or timezone.localdate()
    found = [{**plain(one), "key": one.key} for one in tasks_of(_site(request), on)]
    return {"day": on.isoformat(), "tasks": found}


@api.get("/plan", response={200: Told, **REFUSED}, summary="The plan in force and its odds")
@needs(Role.VIEWER)
def plan(request: HttpRequest) -> Any:
    """The season's plan; null while there is none, with what is known of its making."""
    known = planned(_site(request))
    made = {name: plain(getattr(known.plan, name)) for name in PLAN_PARTS} if known.plan else None
    return {"making": known.making, "why": known.why, "plan": made}


@api.get("/batches", response={200: Told, **REFUSED}, summary="The batches under way")
@needs(Role.VIEWER)
def batches(request: HttpRequest) -> Any:
    """All batches that the log has heard of, with their accounts and what was seen of them."""
    return {"batches": plain(list(state_of(_site(request)).batches.values()))}


@api.get("/batches/{code}", response={200: Told, **REFUSED}, summary="One batch")
@needs(Role.VIEWER)
def batch(request: HttpRequest, code: str) -> Any:
    """One batch by its name in the log, "27A"."""
    found = state_of(_site(request)).batches.get(code)
    if found is None:
        raise Http404
    return plain(found)


@api.get("/cultures", response={200: Told, **REFUSED}, summary="The algae cultures")
@needs(Role.VIEWER)
def cultures(request: HttpRequest) -> Any:
    """The cultures that live, by vessel, with their counts."""
    return {"cultures": plain(list(state_of(_site(request)).cultures.values()))}


def _site(request: HttpRequest) -> Site:
    return cast("Site", cast("Any", request).site)


def _aware(moment: datetime | None) -> datetime | None:
    """A moment with a zone; without one it is by the site's clock."""
    if moment is None:
        return None
    try:
        return moment if moment.tzinfo else timezone.make_aware(moment)
    except (ValueError, OverflowError):
        raise BadInput("This time cannot be read; write it such as 2027-07-14T08:30Z.") from None


def _page(found: QuerySet[Row], after: int, limit: int) -> dict[str, Any]:
    asked = found.filter(number__gt=after).select_related("site").order_by("number")
    got = list(asked[: limit + 1])
    more = got[limit - 1].number if len(got) > limit else None
    return {"entries": entry_shapes(got[:limit]), "next": more}


def _told(found: State) -> dict[str, Any]:
    told: dict[str, Any] = plain(found)
    return told


__all__ = ["api"]
