"""Entries read from the table in great numbers."""

from collections.abc import Iterator
from datetime import datetime
from typing import Any, NamedTuple
from uuid import UUID
from zoneinfo import ZoneInfo

from protoconch.log.entry import Entry
from protoconch.log.kinds import KINDS
from protoconch.records.models import Entry as Row
from protoconch.records.models import Site


class Arrival(NamedTuple):
    """Up to which entry the log had come; all empty before the first.

    The number alone would not do: after a transaction is rolled back it is given once more.
    """

    number: int = 0
    uuid: UUID | None = None
    arrived: datetime | None = None


NONE_YET = Arrival()
COLUMNS = ("number", "uuid", "kind", "happened", "arrived", "who", "where", "payload", "task",
           "unasked")  # fmt: skip


def numbered(site: Site, **asked: Any) -> Iterator[tuple[int, Entry]]:
    """Entries with their number of arrival, in no order that counts; times by the site's clock.

    asked: conditions as the table's `filter` takes them.
    """
    found = Row.objects.filter(site=site, **asked).order_by().values_list(*COLUMNS)
    zone = ZoneInfo(site.zone)
    for row in found.iterator(5000):
        number, uuid, kind, happened, arrived, who, where, payload, *rest = row
        content = KINDS[kind].payload.model_validate(payload)
        moments = happened.astimezone(zone), arrived.astimezone(zone)
        yield number, Entry(uuid, kind, *moments, who, where, content, *rest)


def read(site: Site, **asked: Any) -> list[Entry]:
    """Entries without their numbers."""
    return [entry for _, entry in numbered(site, **asked)]


def last_arrived(site: Site) -> Arrival:
    """Which entry arrived last."""
    rows = Row.objects.filter(site=site).order_by("-number")
    last = rows.values_list("number", "uuid", "arrived").first()
    return Arrival(*last) if last else NONE_YET


def still_there(site: Site, arrival: Arrival) -> bool:
    """False where a transaction was rolled back that had added that entry."""
    number, uuid, arrived = arrival
    if uuid is None or arrived is None:
        return True
    return Row.objects.filter(site=site, number=number, uuid=uuid, arrived=arrived).exists()
