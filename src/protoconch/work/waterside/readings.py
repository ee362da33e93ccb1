"""What was read, by place and quantity, in its order."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from protoconch.log.entry import Entry
from protoconch.log.payloads.water import Read

TOGETHER = timedelta(hours=1)
"""Readings of one place within this time are taken as one look at it; assumption."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A value that was read, in the unit of its quantity."""

    entry: UUID
    when: datetime
    value: float
    who: str


Readings = Mapping[tuple[str, str], tuple[Seen, ...]]
"""By place and quantity, the earliest first."""


def readings_of(entries: Iterable[Entry]) -> Readings:
    """All readings among entries; the entries are as they read after corrections."""
    found: dict[tuple[str, str], list[Seen]] = {}
    for entry in sorted(entries, key=lambda each: each.order):
        if isinstance(entry.payload, Read):
            one = Seen(entry.id, entry.happened, entry.payload.value, entry.who)
            found.setdefault((entry.where, entry.payload.quantity), []).append(one)
    return {key: tuple(each) for key, each in found.items()}


def since(seen: Sequence[Seen], begin: datetime | None) -> tuple[Seen, ...]:
    """Those from a moment on; all where it is None."""
    return tuple(one for one in seen if begin is None or one.when >= begin)


def nearest(seen: Sequence[Seen], when: datetime) -> Seen | None:
    """The one read together with that moment, None where there is none."""
    near = [one for one in seen if abs(one.when - when) <= TOGETHER]
    return min(near, key=lambda one: abs(one.when - when), default=None)
