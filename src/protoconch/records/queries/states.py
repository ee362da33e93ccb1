"""The state folded from the log, carried on from where it stood; what is kept is only a cache.

A point serves for as long as nothing that arrived after it reaches back behind it: a late entry
does, and so does a correction of an old one. Then the nearest point before it is taken, in the
worst case the empty state.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from itertools import chain
from threading import RLock

from protoconch.hatchery.vessels import Vessel
from protoconch.log.fold import can_follow, fold
from protoconch.log.fold.corrections import Item
from protoconch.log.fold.ledger import Ledger
from protoconch.log.fold.order import last_place
from protoconch.log.fold.replay import apply, by_name, items_of
from protoconch.log.state import State
from protoconch.records.models import Description, Site
from protoconch.records.queries.pointers import Reach, Trees, brought_up
from protoconch.records.queries.reading import Arrival, last_arrived, read, still_there
from protoconch.records.queries.resting import (
    CLOSEST,
    NOTHING,
    Resting,
    keep,
    opened,
    snapshots,
    stops,
    thinned,
)  # fmt: skip
from protoconch.records.queries.site import description, hatchery

SITES_HELD, MOMENTS_HELD = 50, 32
"""How many hatcheries' states stay in memory, and how many past moments of each."""
MUCH = 2000
"""Entries whose folding is worth a snapshot."""


@dataclass(slots=True)
class Held:
    """What is in memory of one hatchery: the end of its log, points on the way, past moments.

    refolded: entries folded once more since the points were written as snapshots.
    """

    end: Resting = NOTHING
    points: list[Resting] = field(default_factory=list)
    trees: Trees = field(default_factory=Trees)
    moments: dict[tuple[Arrival, datetime], State] = field(default_factory=dict)
    refolded: int = 0
    lock: RLock = field(default_factory=RLock)


_held: dict[tuple[object, ...], Held] = {}
_held_lock = RLock()


def state(site: Site, at: datetime | None = None) -> State:
    """The state at the end of the log, or at a moment by all that is known today.

    at: with a zone; what happened at that very moment counts.
    Raises: MissingInput, where the hatchery is not described yet.
    """
    described = description(site)
    held = _of(site, described)
    with held.lock:
        last = last_arrived(site)
        end = _carried_on(site, held, described, last)
        if at is None or end.state.upto is None or at >= end.state.upto:
            return end.state
        if (last, at) not in held.moments:
            while len(held.moments) >= MOMENTS_HELD:
                del held.moments[next(iter(held.moments))]
            held.moments[last, at] = _folded(site, held, described, last, at).state
        return held.moments[last, at]


def keep_snapshots(site: Site) -> None:
    """Write what is in memory into the table of snapshots."""
    described = description(site)
    state(site)
    held = _of(site, described)
    with held.lock:
        points, held.refolded = (*held.points, held.end), 0
    # outside the lock: whoever writes to the log has the database first and asks for this second
    keep(site, described, points)


def much_refolded(site: Site) -> bool:
    """Whether a restart would have to fold much that was folded already."""
    return _of(site, description(site)).refolded >= MUCH


def forget() -> None:
    """Forget all that is in memory."""
    with _held_lock:
        _held.clear()


def _of(site: Site, described: Description) -> Held:
    key = (site.pk, site.made, described.pk, described.made)  # numbers alone are used again
    with _held_lock:
        if key not in _held:
            if len(_held) >= SITES_HELD:
                del _held[next(iter(_held))]
            _held[key] = Held()
        return _held[key]


def _carried_on(site: Site, held: Held, described: Description, last: Arrival) -> Resting:
    """The end of the log, from the end that is held where the new entries follow it."""
    end = held.end
    if end.last == last:
        return end
    if end is NOTHING:
        end = _from_table(site, described)
    if end is not NOTHING and still_there(site, end.last):
        new, here = read(site, number__gt=end.last.number), hatchery(site)
        if can_follow(end.state, new, here):
            _rest(held, end)
            held.end = Resting(fold(new, here, end.state), last)
            return held.end
    held.end = _folded(site, held, described, last)
    return held.end


def _from_table(site: Site, described: Description) -> Resting:
    """The snapshot of the latest end of the log."""
    kept = max(snapshots(site, described), key=lambda one: (one.number, one.entries), default=None)
    if kept is None or site.entries.filter(number__lte=kept.number).count() != kept.entries:
        return NOTHING
    return opened(kept) or NOTHING


def _folded(
    site: Site, held: Held, described: Description, last: Arrival, until: datetime | None = None
) -> Resting:
    """The state up to a moment, from the nearest point that still serves."""
    held.trees = brought_up(site, held.trees)
    here = hatchery(site)
    vessels = by_name(here)
    point = _before(site, held, described, until)
    items = _items_after(site, point, held.trees, until, vessels)
    held.refolded += len(items)
    ledger = Ledger(point.state, vessels, here)
    done = 0
    for stop in stops(len(items)):
        apply(ledger, items[done:stop])
        done = stop
        if until is None and stop < len(items):
            _rest(held, Resting(ledger.state(), last))
    return Resting(ledger.state(), last)


def _before(site: Site, held: Held, described: Description, until: datetime | None) -> Resting:
    """The last point before a moment that nothing reaches behind; those that do not serve go."""
    kept = snapshots(site, described)
    numbers = [point.last.number for point in held.points] + [one.number for one in kept]
    reach = Reach(site, held.trees, min(numbers, default=0))
    held.points = [
        point for point in held.points
        if _serves(reach, point.last.number, point.state.upto) and still_there(site, point.last)
    ]  # fmt: skip
    limit = None if until is None else last_place(until)
    found = (point for point in reversed(held.points) if limit is None or point.place <= limit)
    nearest = next(found, NOTHING)
    for snapshot in kept:
        if nearest.state.upto is not None and snapshot.upto <= nearest.state.upto:
            break
        late = until is not None and snapshot.upto > until
        if not late and _serves(reach, snapshot.number, snapshot.upto):
            point = opened(snapshot)
            if point is not None:
                return point
    return nearest


def _serves(reach: Reach, number: int, upto: datetime | None) -> bool:
    """Whether nothing that arrived after a number reaches behind a moment."""
    first = reach.back_to(number)
    return first is None or upto is None or first > upto


def _items_after(
    site: Site, point: Resting, trees: Trees, until: datetime | None, vessels: Mapping[str, Vessel]
) -> list[Item]:
    """What comes after a point in the log, up to a moment, as it reads after all corrections."""
    asked: dict[str, datetime] = {}
    if point.state.upto is not None:
        asked["happened__gte"] = point.state.upto
    if until is not None:
        asked["happened__lte"] = until
    items = items_of(chain(read(site, **asked), trees.known.values()), vessels)
    limit = None if until is None else last_place(until)
    return [
        item for item in items
        if item.place > point.place and (limit is None or item.place <= limit)
    ]  # fmt: skip


def _rest(held: Held, point: Resting) -> None:
    """Keep a point in memory, where it is far enough from the one before it."""
    if point.state.upto is None:
        return
    before = held.points[-1].state.entries if held.points else 0
    if 0 <= point.state.entries - before < CLOSEST:
        return
    held.points = sorted((*held.points, point), key=lambda one: one.place)
    end = held.points[-1].state.entries
    keeps = list(thinned(end - one.state.entries for one in reversed(held.points)))
    held.points = [one for one, wanted in zip(held.points, reversed(keeps), strict=True) if wanted]
