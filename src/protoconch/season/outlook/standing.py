"""The entries of a log as they stand: corrected, confirmed or taken back."""

from collections.abc import Iterable, Set
from dataclasses import dataclass, replace
from uuid import UUID

from pydantic import ValidationError

from protoconch.log.entry import Entry
from protoconch.log.kinds import kind
from protoconch.log.payloads.words import Confirmed, Correction


@dataclass(frozen=True, slots=True)
class Standing:
    """Entries in the order in which they happened; confirmed: those that a person stands by."""

    entries: tuple[Entry, ...]
    confirmed: frozenset[UUID]


def standing(entries: Iterable[Entry], left_out: Set[UUID] = frozenset()) -> Standing:
    """The entries that count, whatever the order in which they are given.

    left_out: ids that the log itself doubts; a confirmed entry counts all the same. A correction
    puts the entry right that it names, the latest to arrive last; one of a correction puts that
    right.
    """
    given = {entry.id: entry for entry in entries}
    confirmed, refused = set[UUID](), set[UUID]()
    for entry in sorted(given.values(), key=lambda e: (e.arrived, str(e.id))):
        if isinstance(entry.payload, Confirmed):
            (confirmed if entry.payload.stands else refused).add(entry.payload.of)
            (refused if entry.payload.stands else confirmed).discard(entry.payload.of)
    told = [e for e in given.values() if isinstance(e.payload, Correction)]
    told.sort(key=lambda e: (e.arrived, str(e.id)))
    taken_back = set[UUID]()
    for entry in reversed(told):
        change = entry.payload
        if isinstance(change, Correction) and change.withdraw and entry.id not in taken_back:
            taken_back.add(change.of)
    for entry in told:
        change = entry.payload
        if isinstance(change, Correction) and entry.id not in taken_back and change.of in given:
            given[change.of] = _corrected(given[change.of], change)
    out = (set(left_out) - confirmed) | refused | taken_back
    kept = [
        entry for entry in given.values()
        if entry.id not in out and not isinstance(entry.payload, (Correction, Confirmed))
    ]  # fmt: skip
    return Standing(tuple(sorted(kept, key=lambda e: e.order)), frozenset(confirmed))


def _corrected(entry: Entry, change: Correction) -> Entry:
    """The entry as it should have been; as it was, where the correction makes no sense."""
    try:
        payload = (
            entry.payload if change.payload is None
            else kind(entry.kind).payload.model_validate(change.payload)
        )  # fmt: skip
    except ValidationError:
        return entry
    return replace(
        entry, payload=payload, happened=change.happened or entry.happened,
        where=entry.where if change.where is None else change.where,
    )  # fmt: skip
