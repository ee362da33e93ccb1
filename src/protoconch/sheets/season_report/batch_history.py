"""What the log tells of one batch: its entries, where it was when, what it ate, what was lost."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from protoconch.log.entry import Entry
from protoconch.log.payloads import animals, care, words
from protoconch.log.state import BatchState, State


@dataclass(frozen=True, slots=True)
class Stay:
    """A vessel that held the batch; until: None where it still does."""

    vessel: str
    since: datetime
    until: datetime | None


@dataclass(frozen=True, slots=True)
class FoodEaten:
    """One food over the whole life: in how many feedings, how many litres and grams."""

    food: str
    feedings: int
    litres: float
    grams: float


@dataclass(frozen=True, slots=True)
class BatchHistory:
    """The batch's entries in order, its stays, its food, its losses, its notes and photos."""

    entries: tuple[Entry, ...]
    stays: tuple[Stay, ...]
    food: tuple[FoodEaten, ...]
    losses: tuple[Entry, ...]
    notes: tuple[Entry, ...]
    photos: tuple[Entry, ...]


@dataclass(slots=True)
class _Reading:
    """A batch followed through the log."""

    code: str
    held: dict[str, datetime] = field(default_factory=dict)
    stays: list[Stay] = field(default_factory=list)
    mine: list[Entry] = field(default_factory=list)

    def take(self, entry: Entry) -> None:
        """One entry after another, in the order in which they happened."""
        said = entry.payload
        own = getattr(said, "batch", "") == self.code
        if own and isinstance(said, animals.IncubatorLoaded | animals.Stocked):
            self.held.setdefault(entry.where, entry.happened)
        elif entry.where in self.held and isinstance(
            said, animals.Stocked | animals.IncubatorLoaded
        ):
            self._left(entry.where, entry.happened)
        shows = isinstance(said, words.Photo) and said.of in {each.id for each in self.mine}
        if own or shows or entry.where in self.held:
            self.mine.append(entry)
        if entry.where in self.held:
            self._gone_on(entry)

    def _gone_on(self, entry: Entry) -> None:
        said = entry.payload
        to: tuple[str, ...] = ()
        if isinstance(said, animals.Moved):
            to = said.to
        elif isinstance(said, animals.Graded):
            to = tuple(heap.to for heap in said.classes if heap.to)
        for vessel in to:
            self.held.setdefault(vessel, entry.happened)
        emptied = isinstance(said, animals.Moved | animals.Lost) and said.animals is None
        if emptied and entry.where not in to:
            self._left(entry.where, entry.happened)

    def _left(self, vessel: str, when: datetime) -> None:
        self.stays.append(Stay(vessel, self.held.pop(vessel), when))

    def close(self, batch: BatchState, state: State) -> None:
        """What the ledger says is empty now is left, when it says so."""
        for vessel in list(self.held):
            emptied = state.emptied.get(vessel)
            if emptied is not None and emptied.when >= self.held[vessel]:
                self._left(vessel, emptied.when)
            elif vessel not in batch.vessels and batch.hatched:
                self._left(vessel, batch.hatched)
        self.stays += [Stay(vessel, since, None) for vessel, since in self.held.items()]


def batch_history(batch: BatchState, state: State, entries: Iterable[Entry]) -> BatchHistory:
    """The history of a batch from the entries that may concern it.

    entries: as they read now, in the order in which they happened; those of its vessels and those
    that name it, others do no harm.
    """
    reading = _Reading(batch.code)
    for entry in entries:
        reading.take(entry)
    reading.close(batch, state)
    mine = reading.mine
    return BatchHistory(
        tuple(mine),
        tuple(sorted(reading.stays, key=lambda stay: (stay.since, stay.vessel))),
        _eaten(mine),
        tuple(e for e in mine if isinstance(e.payload, animals.Lost)),
        tuple(e for e in mine if isinstance(e.payload, words.Note) or e.payload.note),
        tuple(e for e in mine if isinstance(e.payload, words.Photo)),
    )  # fmt: skip


def _eaten(entries: Iterable[Entry]) -> tuple[FoodEaten, ...]:
    foods: dict[str, FoodEaten] = {}
    for entry in entries:
        if isinstance(entry.payload, care.Fed):
            for food in entry.payload.foods:
                before = foods.get(food.food, FoodEaten(food.food, 0, 0.0, 0.0))
                foods[food.food] = FoodEaten(
                    food.food, before.feedings + 1, before.litres + (food.litres or 0.0),
                    before.grams + (food.grams or 0.0),
                )  # fmt: skip
    return tuple(foods.values())
