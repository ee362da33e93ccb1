"""What a batch of the plan is expected to be on a day, and the trade's numbers for it."""

from dataclasses import dataclass
from datetime import date, timedelta

from protoconch.animals.species import Species
from protoconch.errors import OutOfRange
from protoconch.season.answer import Batch, DailyBatch, Numbers, SeasonPlan
from protoconch.sources.values import SourcedValue
from protoconch.work.task import Given, given, planned

LARVAL_LENGTH = "(hatch + (ready - hatch) * age / days)"
"""Formula of a larva's shell length: a straight line from hatch to the day of the inducer."""


@dataclass(frozen=True, slots=True)
class ExpectedBatch:
    """One batch of a plan with its forecast; every number is the plan's median."""

    plan: SeasonPlan
    species: Species
    batch: Batch
    line: DailyBatch

    def value(self, name: str) -> SourcedValue:
        """A number of the trade by its name: the hatchery's own, else the profile's.

        Raises: UnknownName, where neither carries it.
        """
        return self.plan.hatchery.own_values.get(name) or self.species.value(name)

    def age(self, day: date) -> int:
        """Days since hatch."""
        return (day - self.batch.dates.hatch).days

    def alive(self, day: date) -> float:
        """Animals alive; where half of the futures have lost the batch, what a good one has."""
        middle = self._on(self.line.alive_p50, day)
        return middle if middle > 0 else self._on(self.line.alive_p90, day)

    def length_mm(self, day: date) -> float:
        """Shell length of the middle animal after settlement [mm]."""
        return self._on(self.line.length_p50, day)

    def range_mm(self, day: date) -> tuple[float, float]:
        """Shell length of the small and the large animals [mm]."""
        return self._on(self.line.length_p10, day), self._on(self.line.length_p90, day)

    def known(self, name: str) -> SourcedValue | None:
        """As `value`, but None where neither carries it or no source gives a number."""
        found = self.plan.hatchery.own_values.get(name) or self.species.values.get(name)
        return found if found and found.value is not None else None

    @property
    def induced(self) -> bool:
        """Whether the profile knows a dose of an inducer; else they settle on the film alone."""
        return any(self.known(f"settlement.{name}") for name in ("extract_ml_l", "peroxide_um"))

    def larval_length(self, day: date) -> tuple[Given, ...]:
        """Inputs of LARVAL_LENGTH, the shell length of a larva on that day [um]."""
        regime = self.plan.hatchery.regime
        return (
            given("hatch", self.value("veliger.hatch_length_um")),
            given("ready", self.value(f"regime.{regime}.competence_length_um")),
            planned("age", self.age(day), "d"),
            planned("days", max((self.batch.dates.induce - self.batch.dates.hatch).days, 1), "d"),
        )

    def reached(self, size_mm: float) -> date | None:
        """First day after settlement on which the middle animal has that shell length."""
        first = self.plan.forecast.first_day
        for index, length in enumerate(self.line.length_p50):
            day = first + timedelta(index)
            if day > self.batch.dates.induce and length >= size_mm:
                return day
        return None

    def _on(self, values: Numbers, day: date) -> float:
        index = (day - self.plan.forecast.first_day).days
        if not 0 <= index < len(values):
            last = len(values) - 1
            raise OutOfRange("the day of the forecast", index, 0, last, "d")
        return float(values[index])


def expected_batches(plan: SeasonPlan, species: Species) -> tuple[ExpectedBatch, ...]:
    """The batches of a plan, each with its forecast."""
    lines = {line.code: line for line in plan.forecast.batches}
    return tuple(ExpectedBatch(plan, species, batch, lines[batch.code]) for batch in plan.batches)
