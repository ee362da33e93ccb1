"""A line of the work list beside the state: what its entry can know already."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import Vessel, vessels
from protoconch.log.state import Holding, State
from protoconch.units import text
from protoconch.words import say
from protoconch.work.task import Task, Working


@dataclass(frozen=True)
class Line:
    """A task with the state and the hatchery it is done in."""

    task: Task
    state: State
    hatchery: Hatchery
    algae: AlgaeAnswer | None = None

    @cached_property
    def known(self) -> dict[str, Vessel]:
        """The vessels by name."""
        return {vessel.name: vessel for vessel in vessels(self.hatchery)}

    @property
    def workings(self) -> tuple[Working, ...]:
        """All workings of the amount."""
        return (self.task.working, *self.task.also) if self.task.working else self.task.also

    def result(self, unit: str, place: int = 0) -> float | None:
        """What the workings in that unit give, the first by default."""
        found = [working.result for working in self.workings if working.unit == unit]
        return found[place] if len(found) > place else None

    def held(self, kind: str) -> list[str]:
        """Vessels of a kind that hold the batch."""
        found = (h for h in self.state.holdings.values() if h.batch == self.task.batch)
        return [h.vessel for h in found if self.kind_of(h.vessel) == kind]

    def free(self, kind: str) -> list[str]:
        """Empty vessels of a kind, those first that are clean."""
        empty = [vessel.name for vessel in self.known.values()
                 if vessel.kind == kind and vessel.name not in self.state.holdings]  # fmt: skip
        return sorted(empty, key=lambda name: name in self.state.dirty)

    def kind_of(self, name: str) -> str:
        """The kind of a vessel, empty where it is none."""
        return self.known[name].kind if name in self.known else ""

    def holding(self, name: str) -> Holding | None:
        """What is in a vessel."""
        return self.state.holdings.get(name)

    def water_l(self, name: str) -> float:
        """Water in a vessel [L]; 0 where it is not told."""
        there, vessel = self.holding(name), self.known.get(name)
        if there is not None and there.litres:
            return there.litres
        return vessel.size if vessel is not None and vessel.unit == "L" else 0.0


def last_count(there: Holding | None) -> str:
    """The last count of a vessel in words, empty where there was none."""
    if there is None or there.last_count is None:
        return ""
    seen = there.last_count
    return last_told(text(round(seen.value), "1", 3), seen.when.date())


def last_length(there: Holding | None, unit: str = "mm") -> str:
    """The last mean length of a vessel in words, empty where there was none."""
    if there is None or there.length_mm is None or there.length_seen is None:
        return ""
    value = there.length_mm * (1000 if unit == "µm" else 1)
    return last_told(text(value, unit, 3), there.length_seen.date())


def last_told(value: str, day: date) -> str:
    """A value as it was last: "last: 35,100 on 12 July"."""
    return say("last: {value} on {day:%-d %B}", value=value, day=day)
