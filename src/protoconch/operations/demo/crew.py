"""How the invented crew fills in the work list: what it counts is a sample of the truth."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from protoconch.errors import BadInput
from protoconch.hatchery.description import Hatchery
from protoconch.operations.demo.truth import Truth
from protoconch.operations.demo.writing import Writing
from protoconch.words import english
from protoconch.work.entries.asked import Asked, Blank, Way, filled
from protoconch.work.entries.line import Line
from protoconch.work.lots import lots
from protoconch.work.task import Task


@dataclass(slots=True)
class Crew:
    """The crew with the truth that it works in. day: today."""

    writing: Writing
    truth: Truth
    hatchery: Hatchery
    day: date

    def does(self, task: Task, way: Way) -> bool:
        """Log a line in one way; False where it could not be done."""
        payloads = []
        for asked in way.asked:
            try:
                payloads.append(filled(asked, self._typed(task, asked)))
            except BadInput:
                return False
        for place, (asked, payload) in enumerate(zip(way.asked, payloads, strict=True)):
            before = dict(self.truth.animals)
            minutes = max(task.minutes / len(way.asked), 1.0) / 4 if place == 0 else 0.5
            self.writing.write(asked.kind, asked.where, payload, task=task.key,
                               minutes=min(minutes, 12.0))  # fmt: skip
            self._happens(asked, payload, before)
        return True

    def _typed(self, task: Task, asked: Asked) -> dict[str, Any]:
        """What the crew types into the blanks that must be filled."""
        typed: dict[str, Any] = {}
        for blank in asked.fields:
            number = self._number(task, asked, blank)
            if number is not None:
                typed[blank.name] = number
        return typed

    def _number(self, task: Task, asked: Asked, blank: Blank) -> Any:
        """What the crew saw of that; None where it leaves the box as it is."""
        if (asked.kind, blank.name) == ("thinned", "kept") and asked.prefilled:
            return max(1, round(self._there(asked) * float(self.truth.rng.uniform(0.8, 0.95))))
        seen = SEEN.get((asked.kind, blank.name))
        return seen(self, task, asked, blank) if seen else None

    def _there(self, asked: Asked) -> float:
        """Animals that really are in the vessel."""
        return self.truth.animals.get(asked.where, 0.0)

    def eggs(self, task: Task, _asked: Asked, _blank: Blank) -> int:
        """Eggs of a piece."""
        return round(float(self.truth.rng.normal(1.0, 0.06)) * _expected(task, 80_000.0))

    def depth_m(self, _task: Task, _asked: Asked, _blank: Blank) -> float:
        """Where the mass lay [m]."""
        return round(float(self.truth.rng.uniform(6, 15)), 1)

    def sea_c(self, _task: Task, _asked: Asked, _blank: Blank) -> float:
        """Temperature of the sea [°C]."""
        return round(self.hatchery.temperature_c[self.day.month - 1] - 0.4, 1)

    def stocked(self, task: Task, _asked: Asked, _blank: Blank) -> float:
        """Larvae poured in, as counted in the bucket."""
        return round(_expected(task, 20_000.0), -2)

    def aliquots(self, task: Task, asked: Asked, blank: Blank) -> list[int]:
        """Larvae in each aliquot."""
        ml = next((b.value for b in asked.fields if b.name == "aliquot_ml"), 100.0)
        line = Line(task, self.writing.state, self.hatchery)
        litres = line.water_l(asked.where) or 400.0
        number = max(blank.times, 1)
        return self.truth.aliquots(asked.where, float(ml or 100.0), litres, number)

    def all_of_them(self, _task: Task, asked: Asked, _blank: Blank) -> int:
        """A count of every animal."""
        return round(self._there(asked))

    def kept(self, task: Task, asked: Asked, _blank: Blank) -> float:
        """Larvae that stay after thinning."""
        there = self._there(asked)
        return min(round(there), round(_expected(task, there), -1))

    def lengths(self, task: Task, asked: Asked, blank: Blank) -> list[float]:
        """Shell lengths in the unit of the blank."""
        drawn = self.truth.lengths(self._length(asked.where), _sample(task))
        return [round(length / blank.times_si, 2) for length in drawn]

    def grams(self, task: Task, asked: Asked, _blank: Blank) -> float:
        """Mass of a sample [g]."""
        a, b = (self.truth.species.value(f"weight.{name}").number for name in "ab")
        one = a * self._length(asked.where) ** b
        return round(float(_sample(task) * one * self.truth.rng.normal(1.0, 0.05)), 3)

    def competent(self, _task: Task, _asked: Asked, _blank: Blank) -> int:
        """Of 25 larvae in the inducer, those that settled."""
        return int(self.truth.rng.binomial(25, 0.72))

    def _length(self, vessel: str) -> float:
        there = lots(self.writing.state, self.truth.plan, self.truth.species, self.day)
        for lot in (*there.larvae, *there.trays, *there.nursery):
            if vessel in lot.vessels:
                return self.truth.length_mm(lot, self.day)
        return 1.0

    def _happens(self, asked: Asked, payload: dict[str, Any], before: dict[str, float]) -> None:
        """What an entry changes in truth."""
        animals, where = self.truth.animals, asked.where
        if asked.kind == "stocked":
            drawn = float(payload["animals"]) * float(self.truth.rng.normal(1.0, 0.07))
            animals[where] = animals.get(where, 0.0) + drawn
        elif asked.kind == "thinned":
            animals[where] = float(payload["kept"])
        elif asked.kind == "lost":
            animals[where] = max(0.0, animals.get(where, 0.0) - payload["animals"])
        elif asked.kind == "moved":
            to = payload["to"]
            names = [name.strip() for name in to.split(",")] if isinstance(to, str) else list(to)
            for name in names:
                animals[name] = animals.get(name, 0.0) + before.get(where, 0.0) / len(names)
            animals.pop(where, None)


SEEN: Mapping[tuple[str, str], Callable[[Crew, Task, Asked, Blank], Any]] = {
    ("egg mass collected", "eggs"): Crew.eggs,
    ("egg mass collected", "depth_m"): Crew.depth_m,
    ("egg mass collected", "temperature_c"): Crew.sea_c,
    ("stocked", "animals"): Crew.stocked,
    ("counted", "aliquots"): Crew.aliquots,
    ("counted", "animals"): Crew.all_of_them,
    ("settled", "animals"): Crew.all_of_them,
    ("thinned", "kept"): Crew.kept,
    ("measured", "lengths_mm"): Crew.lengths,
    ("weighed", "grams"): Crew.grams,
    ("competence checked", "competent"): Crew.competent,
}
"""How each blank is filled, by kind of entry and name of the blank."""


def _expected(task: Task, usual: float) -> float:
    """The number of animals that the line asks for."""
    workings = (task.working, *task.also) if task.working else task.also
    return next((working.result for working in workings if working.unit == "1"), usual)


def _sample(task: Task) -> int:
    """Animals that the line wants measured."""
    told = english(task.amount).split(" ", 1)[0]
    return int(told) if told.isdecimal() else 30
