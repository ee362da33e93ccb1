"""Corrections and confirmations with what they point at: how far back a new entry reaches."""

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from itertools import accumulate
from uuid import UUID

from protoconch.log.entry import Entry
from protoconch.log.fold.corrections import POINTING, target
from protoconch.log.payloads.words import Correction
from protoconch.records.models import Entry as Row
from protoconch.records.models import Site
from protoconch.records.queries.reading import (
    NONE_YET,
    Arrival,
    last_arrived,
    numbered,
    still_there,
)

AT_ONCE = 400
"""Ids asked for in one query; databases limit the number of parameters."""


@dataclass(slots=True)
class Trees:
    """All entries that point at another, and those they point at, by id.

    last: the entry that had arrived last when they were read.
    """

    known: dict[UUID, Entry] = field(default_factory=dict)
    numbers: dict[UUID, int] = field(default_factory=dict)
    last: Arrival = NONE_YET
    spans: dict[UUID, tuple[int, datetime]] = field(default_factory=dict)
    """By the entry at the end of the pointers: last number, first moment of the whole tree."""


def brought_up(site: Site, trees: Trees) -> Trees:
    """The trees with what arrived since they were read."""
    last = last_arrived(site)
    if trees.last == last:
        return trees
    if not still_there(site, trees.last):
        trees = Trees()
    fresh = numbered(site, number__gt=trees.last.number, kind__in=POINTING)
    changed = _taken(trees, fresh)
    missing = {of for entry in trees.known.values() if (of := target(entry))} - set(trees.known)
    while missing:
        found = _taken(trees, _by_id(site, missing))
        changed += found
        missing = {of for entry in found if (of := target(entry))} - set(trees.known)
    if changed:
        trees.spans = _spans(trees)
    trees.last = last
    return trees


class Reach:
    """How far back the entries touch that arrived after a number."""

    def __init__(self, site: Site, trees: Trees, after: int) -> None:
        """Look at all entries that arrived after a number.

        after: the smallest number that will be asked for.
        """
        new = Row.objects.filter(site=site, number__gt=after).order_by("-number")
        touched = [*new.values_list("number", "happened"), *trees.spans.values()]
        touched.sort(key=lambda one: -one[0])
        self._numbers = [-number for number, _ in touched]  # the last first
        self._earliest = list(accumulate((moment for _, moment in touched), min))

    def back_to(self, number: int) -> datetime | None:
        """The earliest moment touched by what arrived after that number; None by nothing."""
        count = bisect_left(self._numbers, -number)
        return self._earliest[count - 1] if count else None


def _taken(trees: Trees, found: Iterable[tuple[int, Entry]]) -> list[Entry]:
    taken = []
    for number, entry in found:
        if entry.id not in trees.known:
            taken.append(entry)
        trees.known[entry.id] = entry
        trees.numbers[entry.id] = number
    return taken


def _by_id(site: Site, ids: set[UUID]) -> Iterator[tuple[int, Entry]]:
    wanted = sorted(ids)
    for start in range(0, len(wanted), AT_ONCE):
        yield from numbered(site, uuid__in=wanted[start : start + AT_ONCE])


def _spans(trees: Trees) -> dict[UUID, tuple[int, datetime]]:
    spans: dict[UUID, tuple[int, datetime]] = {}
    for entry in trees.known.values():
        root = _end(entry, trees.known)
        moments = [entry.happened]
        if isinstance(entry.payload, Correction) and entry.payload.happened is not None:
            moments.append(entry.payload.happened)
        number, first = spans.get(root, (0, entry.happened))
        spans[root] = (max(number, trees.numbers[entry.id]), min(first, *moments))
    return spans


def _end(entry: Entry, known: dict[UUID, Entry]) -> UUID:
    """The id at the end of the pointers; of a circle, the smallest."""
    seen = {entry.id}
    at = entry
    while (of := target(at)) is not None:
        if of in seen:
            return min(seen)
        if of not in known:
            return of
        seen.add(of)
        at = known[of]
    return at.id
