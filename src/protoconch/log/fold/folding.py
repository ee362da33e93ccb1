"""A log that grows, folded as it grows: late entries and corrections redo only what they touch."""

from bisect import bisect_left, insort
from collections.abc import Iterable
from uuid import UUID

from protoconch.hatchery.description import Hatchery
from protoconch.log.entry import Entry
from protoconch.log.fold.corrections import (
    POINTING,
    Item,
    below,
    plain_item,
    pointing_item,
    target,
)  # fmt: skip
from protoconch.log.fold.ledger import Ledger
from protoconch.log.fold.replay import apply, by_name, first_of, items_of
from protoconch.log.state import EMPTY, State

CLOSEST = 64
"""Entries between the nearest resting points; each further one lies about twice as far back."""


class Folding:
    """All entries, the state they give, and states on the way to start again from.

    `add` gives the same state as a replay from nothing, whatever came before in whatever order.
    One object belongs to one thread at a time.
    """

    def __init__(self, hatchery: Hatchery, entries: Iterable[Entry] = ()) -> None:
        """Fold the entries there are."""
        self._hatchery, self._vessels = hatchery, by_name(hatchery)
        self._known: dict[UUID, Entry] = {}
        self._pointers: dict[UUID, list[Entry]] = {}
        self._places: list[int] = []
        self._items: dict[int, Item] = {}
        self._place_of: dict[UUID, int] = {}
        self._rests: list[tuple[int, State]] = [(0, EMPTY)]
        self._ledger = Ledger(EMPTY, self._vessels, hatchery)
        self.state = EMPTY
        self.add(entries)

    def __len__(self) -> int:
        """How many entries there are, each once."""
        return len(self._known)

    def add(self, entries: Iterable[Entry]) -> State:
        """The state with these entries as well; those that are known already change nothing."""
        new = [entry for entry in entries if self._known.get(entry.id) != entry]
        if not self._known:
            self._begin(new)
            return self.state
        earliest = len(self._places)
        for entry in new:
            earliest = min(earliest, self._take(entry))
        if new:
            self._refold(earliest)
        return self.state

    def _begin(self, entries: list[Entry]) -> None:
        items = items_of(entries, self._vessels)
        self._places = [item.place for item in items]
        self._items = {item.place: item for item in items}
        self._place_of = {item.entry.id: item.place for item in items}
        for entry in entries:
            before = self._known.get(entry.id)
            self._known[entry.id] = entry if before is None else first_of(before, entry)
        for entry in self._known.values():
            self._point(entry)
        self._refold(0)

    def _point(self, entry: Entry) -> None:
        of = target(entry)
        if of is not None:
            self._pointers.setdefault(of, []).append(entry)

    def _take(self, entry: Entry) -> int:
        """Put one entry in its place, with all that it changes; the first position touched."""
        before = self._known.get(entry.id)
        if before is not None:
            entry = first_of(before, entry)
            if entry == before:
                return len(self._places)
            of = target(before)
            if of is not None:
                self._pointers[of].remove(before)
        touched = {e.id for e in self._tree(before)} if before is not None else set()
        self._known[entry.id] = entry
        self._point(entry)
        touched |= {e.id for e in self._tree(entry)}
        return min(self._place(self._known[identity]) for identity in touched)

    def _tree(self, entry: Entry) -> list[Entry]:
        """Entries that read otherwise when this one comes: what it points at, what points at it."""
        touched = {e.id: e for e in below(entry, self._pointers)}
        of = target(entry)
        while of in self._known and of not in touched:
            touched[of] = self._known[of]
            of = target(self._known[of])
        return [e for e in touched.values() if e.id in self._known]

    def _place(self, entry: Entry) -> int:
        if entry.kind in POINTING:
            item = pointing_item(entry, self._known, self._pointers, self._vessels, {})
        else:
            item = plain_item(entry, self._pointers, self._vessels)
        position = len(self._places)
        old = self._place_of.get(entry.id)
        if old is not None:
            position = bisect_left(self._places, old)
            if old != item.place:
                del self._places[position], self._items[old]
        if old != item.place:
            insort(self._places, item.place)
        self._items[item.place] = item
        self._place_of[entry.id] = item.place
        return min(position, bisect_left(self._places, item.place))

    def _refold(self, position: int) -> None:
        """Fold anew from the last resting point that lies before a position."""
        end = len(self._places)
        self._rests = [rest for rest in self._rests if rest[0] <= position]
        at, state = self._rests[-1]
        if self._ledger.entries == position and position > at:
            at = position  # the books of the last entry are still open
        else:
            self._ledger = Ledger(state, self._vessels, self._hatchery)
        for stop in _stops(at, end):
            apply(self._ledger, (self._items[p] for p in self._places[at:stop]))
            at = stop
            if stop < end:
                self._rests.append((stop, self._ledger.state()))
        self.state = self._ledger.state()
        if end - self._rests[-1][0] >= CLOSEST:
            self._rests.append((end, self.state))
            self._rests = _thinned(self._rests, end)


def _stops(start: int, end: int) -> list[int]:
    """Where to rest on the way: at distances from the end that halve, and at the end itself."""
    stops = [end]
    back = CLOSEST
    while end - back > start:
        stops.append(end - back)
        back *= 2
    return stops[::-1]


def _thinned(rests: list[tuple[int, State]], end: int) -> list[tuple[int, State]]:
    """Two resting points for each doubling of the distance from the end, and always the first."""
    kept: list[tuple[int, State]] = []
    groups: dict[int, int] = {}
    for rest in reversed(rests):
        group = ((end - rest[0]) // CLOSEST).bit_length()
        groups[group] = groups.get(group, 0) + 1
        if groups[group] <= 2 or rest[0] == 0:
            kept.append(rest)
    return kept[::-1]
