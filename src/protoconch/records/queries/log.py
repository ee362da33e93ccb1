"""The log and the state folded from it."""

from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db.models import Q, QuerySet

from protoconch.log.entry import Entry
from protoconch.log.kinds import KINDS
from protoconch.log.state import State
from protoconch.records.models import Entry as Row
from protoconch.records.models import Site
from protoconch.records.queries import states


def rows(
    site: Site, *, kind: str = "", where: str = "", batch: str = "",
    since: datetime | None = None, until: datetime | None = None, words: str = "",
) -> QuerySet[Row]:  # fmt: skip
    """Rows of the log, the latest first.

    since, until: when it happened, both included. words: each of them stands somewhere in the row,
    in small or capital letters.
    """
    asked = Q(site=site)
    for name, value in (("kind", kind), ("where", where), ("batch", batch)):
        if value:
            asked &= Q(**{name: value})
    if since is not None:
        asked &= Q(happened__gte=since)
    if until is not None:
        asked &= Q(happened__lte=until)
    for word in words.split():
        columns = ("kind", "where", "who", "batch", "payload")
        said = Q()
        for column in columns:
            said |= Q(**{f"{column}__icontains": word})
        asked &= said
    return Row.objects.filter(asked).order_by("-happened", "-uuid")


def entries(found: Iterable[Row]) -> tuple[Entry, ...]:
    """Rows as entries of the log, in the order of the rows; times by the clock of their site."""
    zones: dict[int, ZoneInfo] = {}
    made = []
    for row in found:
        if row.site_id not in zones:
            zones[row.site_id] = ZoneInfo(row.site.zone)
        zone = zones[row.site_id]
        moments = row.happened.astimezone(zone), row.arrived.astimezone(zone)
        payload = KINDS[row.kind].payload.model_validate(row.payload)
        made.append(Entry(row.uuid, row.kind, *moments, row.who, row.where, payload, row.task,
                          row.unasked))  # fmt: skip
    return tuple(made)


def state(site: Site, at: datetime | None = None) -> State:
    """The state now, or as of a moment, by all that is known today; its times by the site's clock.

    Raises: MissingInput, where the hatchery is not described yet.
    """
    return states.state(site, at)
