"""How the invented crew fills in the work list: what it counts and measures is a sample of truth."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from protoconch.errors import BadInput
from protoconch.hatchery.description import Hatchery
from protoconch.operations.demo.truth import Truth
from protoconch.operations.demo.writing import Writing
from protoconch.work.entries.asked import Asked, Blank, Way, filled
from protoconch.work.entries.line import Line
from protoconch.work.lots import lots
from protoconch.work.task import Task

USUAL_TRAY_WAYS = {"tray care", "siphon"}


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
        rng, truth, there = self.truth.rng, self.truth, self.truth.animals.get(asked.where, 0.0)
        match asked.kind, blank.name:
            case "egg mass collected", "eggs":
                return round(float(rng.normal(1.0, 0.06)) * _expected(task, 80_000.0))
            case "egg mass collected", "depth_m":
                return round(float(rng.uniform(6, 15)), 1)
            case "egg mass collected", "temperature_c":
                return round(self.hatchery.temperature_c[self.day.month - 1] - 0.4, 1)
            case "stocked", "animals":
                return round(_expected(task, 20_000.0), -2)
            case "counted", "aliquots":
                ml = next((b.value for b in asked.fields if b.name == "aliquot_ml"), 100.0)
                line = Line(task, self.writing.state, self.hatchery)
                litres = line.water_l(asked.where) or 400.0
                return truth.aliquots(asked.where, float(ml or 100.0), litres, max(blank.times, 1))
            case "counted", "animals":
                return round(there)
            case "thinned", "kept" if asked.prefilled:
                return max(1, round(there * float(rng.uniform(0.8, 0.95))))
            case "thinned", "kept":
                return min(round(there), round(_expected(task, there), -1))
            case "measured", "lengths_mm":
                scale = 1 / blank.times_si
                return [round(mm * scale, 2) for mm in truth.lengths(self._length(asked.where),
                        _sample(task))]  # fmt: skip
            case "weighed", "grams":
                return round(self._grams(asked.where, _sample(task)), 3)
            case "competence checked", "competent":
                return int(rng.binomial(25, 0.72))
        return None

    def _length(self, vessel: str) -> float:
        there = lots(self.writing.state, self.truth.plan, self.truth.species, self.day)
        for lot in (*there.larvae, *there.trays, *there.nursery):
            if vessel in lot.vessels:
                return self.truth.length_mm(lot, self.day)
        return 1.0

    def _grams(self, vessel: str, number: int) -> float:
        a = self.truth.species.value("weight.a").number
        b = self.truth.species.value("weight.b").number
        return number * a * self._length(vessel) ** b * float(self.truth.rng.normal(1.0, 0.05))

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


def _expected(task: Task, usual: float) -> float:
    """The number of animals that the line asks for."""
    workings = (task.working, *task.also) if task.working else task.also
    return next((working.result for working in workings if working.unit == "1"), usual)


def _sample(task: Task) -> int:
    """Animals that the line wants measured."""
    told = task.amount.split(" ", 1)[0]
    return int(told) if told.isdecimal() else 30
