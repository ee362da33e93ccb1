"""The log folded to a state: a pure function of the entries, in whatever order they came.

What the state counts: an entry counts as it reads after its corrections (see `corrections`), once
however often it came, in the order of when it happened. Where it cannot be true beside the earlier
ones (a count in an empty tank, a tank emptied twice, another batch in the tank, more out than in),
it does not count, and a doubt says so, until it is confirmed, or one of the entries is corrected.
Unlikely ones that may be true (a tenth of the animals left) count at once, and the doubt says
`counted`. An entry about which nobody could be asked when it was written is judged here, as it
would have been then: what would have been refused does not count, and what would have been asked
about leaves a doubt. The task that an entry settles is settled all the same.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from protoconch.animals.profiles import species
from protoconch.errors import BadInput
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import Vessel, vessels
from protoconch.log.checking import beside
from protoconch.log.entry import Entry
from protoconch.log.fold import animals, cultures, eggs, looking, stores, water
from protoconch.log.fold.corrections import (
    POINTING,
    Item,
    Roots,
    plain_item,
    pointing_item,
    target,
)  # fmt: skip
from protoconch.log.fold.ledger import Ledger
from protoconch.log.fold.order import last_place, place
from protoconch.log.payloads.care import Done
from protoconch.log.state import EMPTY, State
from protoconch.words import say

EFFECTS: Mapping[str, Callable[[Ledger, Entry, Any], None]] = {
    "egg mass collected": eggs.collected,
    "incubator loaded": eggs.loaded,
    "hatched": eggs.hatched,
    "stocked": eggs.stocked,
    "counted": looking.counted,
    "measured": looking.measured,
    "competence checked": looking.competence_checked,
    "weighed": looking.weighed,
    "settled": looking.settled,
    "thinned": animals.thinned,
    "moved": animals.moved,
    "graded": animals.graded,
    "lost": animals.lost,
    "released": animals.released,
    "water changed": water.water_changed,
    "fed": water.fed,
    "cleaned": water.cleaned,
    "read": water.read,
    "pumped": water.pumped,
    "drawn": water.drawn,
    "medium made": water.medium_made,
    "cartridge changed": water.cartridge_changed,
    "lamp changed": water.lamp_changed,
    "inoculated": cultures.inoculated,
    "harvested": cultures.harvested,
    "culture counted": cultures.culture_counted,
    "culture ended": cultures.culture_ended,
    "received": stores.received,
    "used": stores.used,
}
"""What each kind does to the ledger; notes, photos and work without numbers only settle tasks."""


def fold(entries: Iterable[Entry], hatchery: Hatchery, start: State = EMPTY) -> State:
    """The state after these entries, in order of when they happened.

    start: the state of all entries before these, as an earlier fold gave it.
    Raises: BadInput, where an entry reaches back behind `start` (see `can_follow`): then fold the
        whole log.
    """
    known = by_name(hatchery)
    items = items_of(entries, known)
    if start is not EMPTY and not _follow(start, items):
        raise BadInput(
            say(
                "An entry happened before the state that is to be carried on, or corrects an entry"
                " before it; fold the whole log."
            )
        )
    ledger = Ledger(start, known, hatchery)
    apply(ledger, items)
    return ledger.state()


def as_of(
    entries: Iterable[Entry], moment: datetime, hatchery: Hatchery, *,
    known_by: datetime | None = None,
) -> State:  # fmt: skip
    """The state at a moment, by all that is known of it today.

    moment: with a zone; what happened at that very moment counts.
    known_by: only what had arrived by then, corrections too: the state as it looked at that time.
    """
    arrived = (e for e in entries if known_by is None or e.arrived <= known_by)
    known = by_name(hatchery)
    last = last_place(moment)
    ledger = Ledger(EMPTY, known, hatchery)
    apply(ledger, (item for item in items_of(arrived, known) if item.place <= last))
    return ledger.state()


def can_follow(start: State, entries: Iterable[Entry], hatchery: Hatchery) -> bool:
    """True where a state and these entries give what the whole log would: none reaches back."""
    return _follow(start, items_of(entries, by_name(hatchery)))


def _follow(start: State, items: list[Item]) -> bool:
    if start.upto is None or start.last is None:
        return True
    last = place(start.upto, start.last)
    return all(
        item.place > last and item.awaits is None and item.entry.id not in start.awaited
        for item in items
    )


def by_name(hatchery: Hatchery) -> dict[str, Vessel]:
    """The vessels of the hatchery by name."""
    return {vessel.name: vessel for vessel in vessels(hatchery)}


def items_of(entries: Iterable[Entry], known: Mapping[str, Vessel]) -> list[Item]:
    """All entries once, as they read now, in order."""
    once: dict[UUID, Entry] = {}
    pointers: dict[UUID, list[Entry]] = {}
    for entry in entries:
        once[entry.id] = first_of(once[entry.id], entry) if entry.id in once else entry
    for entry in once.values():
        of = target(entry)
        if of is not None:
            pointers.setdefault(of, []).append(entry)
    roots: Roots = {}
    items = [
        pointing_item(entry, once, pointers, known, roots) if entry.kind in POINTING
        else plain_item(entry, pointers, known)
        for entry in once.values()
    ]  # fmt: skip
    items.sort(key=lambda item: item.place)
    return items


def first_of(one: Entry, other: Entry) -> Entry:
    """Of two entries with one id, the one that arrived first, whichever order they are met in."""
    if one == other:
        return one
    return min(one, other, key=lambda e: (e.arrived, e.happened, repr(e)))


def apply(ledger: Ledger, items: Iterable[Item]) -> None:
    """Write items into the ledger, in their order."""
    for item in items:
        ledger.open(item)
        if not item.counted:
            continue
        entry = item.entry
        if entry.unasked and not item.confirmed:
            _take_unasked(ledger, entry)
        else:
            _take(ledger, entry)
        if entry.task:
            payload = entry.payload
            ledger.settle(entry, skipped=isinstance(payload, Done) and payload.skipped)


def _take(ledger: Ledger, entry: Entry) -> None:
    effect = EFFECTS.get(entry.kind)
    if effect is not None:
        effect(ledger, entry, entry.payload)


def _take_unasked(ledger: Ledger, entry: Entry) -> None:
    """An entry that nobody was asked about, with one doubt where something speaks against it."""
    here = ledger.hatchery
    verdict = beside(entry, ledger, here, species(here.species), ledger.vessels)
    before = len(ledger.doubts)
    if verdict.refused:
        ledger.at_odds(entry, " ".join(verdict.refused))
        return
    _take(ledger, entry)
    if verdict.unlikely and len(ledger.doubts) == before:
        ledger.wonder(entry, " ".join(verdict.unlikely))
