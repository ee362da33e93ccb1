"""The books that are open while the log is folded: the parts of a state, ready to be changed.

What is kept for how long: sightings, counts of cultures and open doubts for 800 days, so that a
live batch keeps all of them from egg to release; settled lines of the work list for 400 days.
Accounts, dates, masses and jars stay. So ten years of log do not make the state grow.
"""

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from uuid import UUID

from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import Vessel
from protoconch.log.entry import Entry
from protoconch.log.fold.corrections import Item
from protoconch.log.payloads.animals import Moved
from protoconch.log.state import (
    STAGES,
    Account,
    BatchState,
    Doubt,
    Emptied,
    Holding,
    Settled,
    Sighting,
    State,
)  # fmt: skip
from protoconch.words import day_text, say

KEPT = timedelta(days=800)
SETTLED_KEPT = timedelta(days=400)
SAME_FORM = timedelta(seconds=30)
"""Entries of one person for one line that are no further apart came from one form."""
MAPS = ("holdings", "batches", "masses", "cultures", "readings", "levels", "cartridges", "lamps",
        "jars", "settled", "emptied")  # fmt: skip


class Ledger:
    """The parts of a state by name, changed entry by entry; `state` closes the books."""

    def __init__(self, state: State, vessels: Mapping[str, Vessel], hatchery: Hatchery) -> None:
        """Open the books on a state; the state itself is not changed.

        vessels: those of the hatchery by name.
        """
        self.vessels, self.hatchery = vessels, hatchery
        self.reservoir = next((v.name for v in vessels.values() if v.kind == "reservoir"), "")
        self.before = state
        self.holdings = dict(state.holdings)
        self.batches = dict(state.batches)
        self.masses = dict(state.masses)
        self.cultures = dict(state.cultures)
        self.readings = dict(state.readings)
        self.levels = dict(state.levels)
        self.cartridges = dict(state.cartridges)
        self.lamps = dict(state.lamps)
        self.jars = dict(state.jars)
        self.settled = dict(state.settled)
        self.emptied = dict(state.emptied)
        self.dirty = set(state.dirty)
        self.awaited = set(state.awaited)
        self.doubts = list(state.doubts)
        self.clumping = state.clumping
        self.seen: dict[str, list[Sighting]] = {}
        self.entries = state.entries
        self.upto, self.last = state.upto, state.last
        self.confirmed = False

    def open(self, item: Item) -> None:
        """Turn to the next entry in order."""
        entry = item.entry
        self.entries += 1
        self.upto, self.last, self.confirmed = entry.happened, entry.id, item.confirmed
        self.doubts += item.doubts
        if item.awaits is not None:
            self.awaited.add(item.awaits)

    def at_odds(self, entry: Entry, sentence: str, *earlier: Emptied) -> bool:
        """True where the entry must not count, with the doubt noted; False once it is confirmed."""
        if self.confirmed:
            return False
        ids = (entry.id, *(one.entry for one in earlier))
        self.doubts.append(Doubt(ids, entry.where, entry.happened, sentence))
        return True

    def refuse(self, entry: Entry, sentence: str) -> None:
        """Note a doubt about an entry that cannot count even when confirmed, only corrected."""
        self.doubts.append(Doubt((entry.id,), entry.where, entry.happened, sentence))

    def wonder(self, entry: Entry, sentence: str, *earlier: UUID) -> None:
        """Note a doubt about an entry that counts all the same, unless it is confirmed."""
        if not self.confirmed:
            ids = (entry.id, *earlier)
            self.doubts.append(Doubt(ids, entry.where, entry.happened, sentence, counted=True))

    def kind_of(self, vessel: str) -> str:
        """The kind of a vessel; of one that the hatchery no longer has, as its name suggests."""
        if vessel in self.vessels:
            return self.vessels[vessel].kind
        guesses = (kind for kind in STAGES if kind.split(maxsplit=1)[0] in vessel)
        return next(guesses, "larval tank" if "tank" in vessel else "")

    def batch(self, code: str) -> BatchState:
        """The batch of that code, begun where the log had not heard of it."""
        if code not in self.batches:
            self.batches[code] = BatchState(code, (), None, None, None, None, Account(), ())
        return self.batches[code]

    def book(
        self, code: str, *, stocked: int = 0, lost: int = 0, removed: int = 0, released: int = 0,
        missing: int = 0,
    ) -> None:  # fmt: skip
        """Write to a batch's account; what is alive follows from its vessels."""
        batch = self.batch(code)
        old = batch.account
        account = Account(
            old.stocked + stocked, old.lost + lost, old.removed + removed,
            old.released + released, old.missing + missing, old.alive,
        )  # fmt: skip
        self.batches[code] = replace(batch, account=account)

    def sight(self, code: str, sighting: Sighting) -> None:
        """Add to what was seen of a batch."""
        if code not in self.seen:
            self.seen[code] = list(self.batch(code).sightings)
        self.seen[code].append(sighting)

    def empty(self, vessel: str, entry: Entry) -> None:
        """Nothing is left in the vessel after this entry; it is dirty until cleaned."""
        holding = self.holdings.pop(vessel)
        into = entry.payload.to if isinstance(entry.payload, Moved) else ()
        self.emptied[vessel] = Emptied(holding.batch, entry.id, entry.happened, into)
        self.dirty.add(vessel)

    def fill(self, holding: Holding) -> None:
        """Write down what a vessel holds."""
        self.holdings[holding.vessel] = holding
        self.emptied.pop(holding.vessel, None)
        self.dirty.discard(holding.vessel)

    def settle(self, entry: Entry, *, skipped: bool) -> None:
        """The entry settles a line of the work list.

        Done twice, where one of the two could not know of the other, is worth a look.
        """
        before = self.settled.pop(entry.task, None)  # so that the oldest line stays the first
        if before is not None and not before.skipped and not skipped:
            together = before.who == entry.who and entry.happened - before.when < SAME_FORM
            if (entry.unasked or before.unasked) and not together:
                self.wonder(entry, _twice(before, entry), before.entry)
        self.settled[entry.task] = Settled(
            entry.task, entry.id, entry.who, entry.happened, skipped, entry.unasked
        )  # fmt: skip

    def state(self) -> State:
        """The state as it stands now; the ledger can be written on."""
        upto = self.upto
        if upto is None:
            return self.before
        self._forget(upto)
        maps = {name: dict(getattr(self, name)) for name in MAPS}
        maps["batches"] = self._batches(upto)
        maps["cultures"] = {
            name: c if not c.counts or c.counts[0].when >= upto - KEPT
            else replace(c, counts=tuple(n for n in c.counts if n.when >= upto - KEPT))
            for name, c in self.cultures.items()
        }  # fmt: skip
        return State(
            upto=upto, entries=self.entries, dirty=frozenset(self.dirty), last=self.last,
            awaited=frozenset(self.awaited), clumping=self.clumping,
            doubts=tuple(self.doubts), **maps,
        )  # fmt: skip

    def _batches(self, upto: datetime) -> dict[str, BatchState]:
        """The batches with their vessels, what is alive in them and what was seen lately."""
        held: dict[str, list[Holding]] = {}
        for holding in self.holdings.values():
            held.setdefault(holding.batch, []).append(holding)
        closed = {}
        for code, batch in self.batches.items():
            here = held.get(code, ())
            vessels = tuple(sorted(h.vessel for h in here))
            alive = sum(h.alive for h in here if not self.in_incubator(h.vessel))
            seen = tuple(self.seen.get(code, batch.sightings))
            if seen and seen[0].when < upto - KEPT:
                seen = tuple(s for s in seen if s.when >= upto - KEPT)
            same = (batch.vessels, batch.account.alive) == (vessels, alive)
            if not same or seen is not batch.sightings:
                account = replace(batch.account, alive=alive)
                batch = replace(batch, account=account, vessels=vessels, sightings=seen)  # noqa: PLW2901
            closed[code] = batch
        return closed

    def in_incubator(self, vessel: str) -> bool:
        """True where the animals of a vessel are in no account yet."""
        return self.kind_of(vessel) == "incubator"

    def _forget(self, upto: datetime) -> None:
        oldest, old = upto - SETTLED_KEPT, []
        for task, line in self.settled.items():
            if line.when >= oldest:
                break
            old.append(task)
        for task in old:
            del self.settled[task]
        first = bisect_left(self.doubts, upto - KEPT, key=lambda doubt: doubt.when)
        del self.doubts[:first]


def _twice(before: Settled, entry: Entry) -> str:
    told = {
        "first": before.who, "clock": day_text(before.when, "%H:%M"), "second": entry.who,
        "again": day_text(entry.happened, "%H:%M"), "day": day_text(entry.happened, "%d %B"),
    }  # fmt: skip
    if entry.where:
        return say(
            "The same work at {where} was entered by {first} at {clock} and by {second} on {day} at"
            " {again}. Was it done twice?",
            where=entry.where, **told,
        )  # fmt: skip
    return say(
        "The same work was entered by {first} at {clock} and by {second} on {day} at {again}."
        " Was it done twice?",
        **told,
    )
