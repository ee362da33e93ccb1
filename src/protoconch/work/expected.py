"""What a batch is expected to be on a day, by the plan or by what the log saw of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import NamedTuple

from protoconch.animals.species import Species
from protoconch.errors import OutOfRange
from protoconch.season.answer import Batch, DailyBatch, Numbers, SeasonPlan, TankUse
from protoconch.sources.values import SourcedValue
from protoconch.words import say
from protoconch.work.logged import CultureAtHand, InVessel, last_seen, together
from protoconch.work.names import name_of
from protoconch.work.task import Given, given, planned, worked

LARVAL_LENGTH = "(hatch + (ready - hatch) * age / days)"
"""Formula of a larva's shell length: a straight line from hatch to the day of the inducer."""
MEASURED_LENGTH = "min(measured + (ready - hatch) / days * since, max(measured, ready))"
"""The same from the last measured length on, and no further than the length of a ready one."""

Term = tuple[str, tuple[Given, ...]]
"""A part of a formula with its inputs."""


class Measured(NamedTuple):
    """So many animals of a vessel, their mean shell length and the day on which it was measured."""

    alive: int
    mean_mm: float
    on: date


@dataclass(frozen=True, slots=True)
class ExpectedBatch:
    """One batch, or those of its animals that are in one stage, with the forecast of the plan.

    Without `vessels` every number is the plan's median. With them, the numbers are the last ones
    that the log has, carried on by what the plan expects since.
    vessels: what the log has of each vessel. anchor: a day of the batch and the day of the plan
    that it stands for; until: the last day of the plan that the stage lasts.
    cultures: "flagellate" and "diatom" by what is at hand to feed. larvae: hatched and not yet in
    a tank, where they were counted. water_l: of the plan's tanks, by which its numbers are shared.
    """

    plan: SeasonPlan
    species: Species
    batch: Batch
    line: DailyBatch
    vessels: Mapping[str, InVessel] = field(default_factory=dict)
    anchor: tuple[date, date] | None = None
    until: date = date.max
    cultures: Mapping[str, CultureAtHand] = field(default_factory=dict)
    larvae: Given | None = None
    water_l: float = 0.0

    def value(self, name: str) -> SourcedValue:
        """A number of the trade by its name: the hatchery's own, else the profile's.

        Raises: UnknownName, where neither carries it.
        """
        return self.plan.hatchery.own_values.get(name) or self.species.value(name)

    def known(self, name: str) -> SourcedValue | None:
        """As `value`, but None where neither carries it or no source gives a number."""
        found = self.plan.hatchery.own_values.get(name) or self.species.values.get(name)
        return found if found and found.value is not None else None

    @property
    def induced(self) -> bool:
        """Whether the profile knows a dose of an inducer; else they settle on the film alone."""
        return any(self.known(f"settlement.{name}") for name in ("extract_ml_l", "peroxide_um"))

    def age(self, day: date) -> int:
        """Days since hatch."""
        return (day - self.batch.dates.hatch).days

    def plan_day(self, day: date) -> date:
        """The day of the plan that a day of this batch stands for."""
        if self.anchor is None:
            return day
        here, there = self.anchor
        last = self.plan.forecast.first_day + timedelta(days=len(self.line.alive_p50) - 1)
        return min(there + (day - here), self.until, last)

    def planned_alive(self, day: date) -> float:
        """Animals by the plan; where half of the futures lost the batch, what a good one has."""
        middle = self._on(self.line.alive_p50, day)
        return middle if middle > 0 else self._on(self.line.alive_p90, day)

    def survival(self, since: date, day: date) -> float:
        """Share alive that the plan expects from one day to another, thinning left out."""
        first, last = self.plan_day(since), self.plan_day(day)
        thinned = {self.plan_day(thin) for thin in self.batch.dates.thin}
        share = 1.0
        for number in range((last - first).days):
            next_day = first + timedelta(days=number + 1)
            while next_day in thinned:
                next_day -= timedelta(days=1)
            share *= self._survived((next_day - self.plan.forecast.first_day).days)
        return share

    def _survived(self, index: int) -> float:
        """Share that the plan has alive from the day before to a day of the forecast."""
        for line in (self.line.alive_p50, self.line.alive_p90):
            if 0 < index < len(line) and line[index - 1] > 0 and line[index] > 0:
                return min(1.0, float(line[index] / line[index - 1]))
        return 1.0

    def alive(self, day: date) -> float:
        """Animals alive, all vessels together."""
        if not self.vessels:
            return self.planned_alive(day)
        return sum(self.alive_in(vessel, day) for vessel in self.vessels)

    def alive_in(self, vessel: str, day: date) -> float:
        """Animals alive in one vessel that the log knows: the last number, carried on."""
        there = self.vessels[vessel]
        return there.alive * self.survival(there.alive_on, day)

    def numbers(self, name: str, day: date) -> Term:
        """Animals alive, to be put into a formula under that name."""
        if not self.vessels:
            return name, (planned(name, self.planned_alive(day), "1"),)
        return self._carried(tuple(self.vessels), day)

    def numbers_in(self, tank: TankUse, day: date) -> Term:
        """Animals alive in one larval tank, to be put into a formula."""
        vessel = name_of(tank)
        if vessel in self.vessels:
            return self._carried((vessel,), day)
        inputs = (
            planned("alive", self.alive(day), "1"),
            planned("tank_water", tank.litres, "L"),
            planned("batch_water", self.batch.litres, "L"),
        )
        return "alive * tank_water / batch_water", inputs

    def _carried(self, names: Sequence[str], day: date) -> Term:
        seen = [self.vessels[name] for name in names]
        counted = sum(there.alive for there in seen)
        now = sum(self.alive_in(name, day) for name in names)
        inputs = (
            Given("counted", float(counted), "1", together(seen)),
            planned("survival", now / counted if counted else 1.0, "1"),
        )
        return "(counted * survival)", inputs

    @property
    def measured(self) -> list[Measured]:
        """Vessels whose animals were measured after they settled, with their mean [mm] and day."""
        return [
            Measured(there.alive, there.length_mm, there.length_on)
            for there in self.vessels.values()
            if there.length_mm is not None
            and there.length_on is not None
            and there.length_on > self.batch.dates.induce
        ]

    def length_mm(self, day: date) -> float:
        """Shell length of the middle animal after settlement [mm]."""
        expression, inputs = self.length("length", day)
        return worked(expression, inputs, "mm").result

    def length(self, name: str, day: date) -> Term:
        """The same, to be put into a formula under that name."""
        seen = self.measured
        if not seen:
            return name, (planned(name, self._on(self.line.length_p50, day), "mm"),)
        animals = sum(of.alive for of in seen)
        shares = [of.alive / animals if animals else 1 / len(seen) for of in seen]
        measured = sum(share * of.mean_mm for share, of in zip(shares, seen, strict=True))
        now = self._on(self.line.length_p50, day)
        then = sum(
            share * min(self._on(self.line.length_p50, of.on), now)
            for share, of in zip(shares, seen, strict=True)
        )
        source = last_seen(say("measured"), max(of.on for of in seen))
        inputs = (Given("measured", measured, "mm", source), planned("growth", now - then, "mm"))
        return "(measured + growth)", inputs

    def range_mm(self, day: date) -> tuple[float, float]:
        """Shell length of the small and the large animals [mm]."""
        middle = self._on(self.line.length_p50, day)
        times = self.length_mm(day) / middle if middle > 0 else 1.0
        low, high = self._on(self.line.length_p10, day), self._on(self.line.length_p90, day)
        return low * times, high * times

    def larval_length(self, day: date) -> Term:
        """Shell length of a larva on that day [um], to be put into a formula."""
        regime = self.plan.hatchery.regime
        days = max((self.batch.dates.induce - self.batch.dates.hatch).days, 1)
        ends = (
            given("hatch", self.value("veliger.hatch_length_um")),
            given("ready", self.value(f"regime.{regime}.competence_length_um")),
        )
        seen = [there for there in self.vessels.values() if there.length_on is not None]
        if seen:
            last = max(seen, key=lambda there: there.length_on or date.min)
            since = last.length_on or day
            inputs = (
                Given("measured", 1000 * (last.length_mm or 0.0), "um",
                      last_seen(say("measured"), since)),
                *ends,
                planned("days", days, "d"),
                Given("since", float((day - since).days), "d", last_seen(say("measured"), since)),
            )  # fmt: skip
            return MEASURED_LENGTH, inputs
        age = planned("age", min(self.age(day), days) if self.vessels else self.age(day), "d")
        return LARVAL_LENGTH, (*ends, age, planned("days", days, "d"))

    def reached(self, size_mm: float) -> date | None:
        """First day after settlement on which the middle animal has that shell length."""
        first = self.plan.forecast.first_day
        for index, length in enumerate(self.line.length_p50):
            day = first + timedelta(index)
            if day > self.batch.dates.induce and length >= size_mm:
                return day
        return None

    def _on(self, values: Numbers, day: date) -> float:
        index = (self.plan_day(day) - self.plan.forecast.first_day).days
        if not 0 <= index < len(values):
            last = len(values) - 1
            raise OutOfRange(say("the day of the forecast"), index, 0, last, "d")
        return float(values[index])


def expected_batches(plan: SeasonPlan, species: Species) -> tuple[ExpectedBatch, ...]:
    """The batches of a plan, each with its forecast."""
    lines = {line.code: line for line in plan.forecast.batches}
    return tuple(ExpectedBatch(plan, species, batch, lines[batch.code]) for batch in plan.batches)
