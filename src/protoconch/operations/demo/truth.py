"""What is really in the vessels of the invented hatchery; the crew only sees samples of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np

from protoconch.animals.species import Species
from protoconch.log.state import Culture, State
from protoconch.season.answer import SeasonPlan
from protoconch.work.expected import ExpectedBatch
from protoconch.work.larvae import name_of
from protoconch.work.lots import coded, lots
from protoconch.work.parameters import table_values

DAY = timedelta(days=1)
Z90 = 1.2816
"""Normal deviate of the 90 % point."""


@dataclass(slots=True)
class Truth:
    """The animals alive in each vessel, and how well each batch does.

    harder: by batch, how many times the plan's mortality it has. faster: how many times the
    plan's growth. animals: by vessel.
    """

    plan: SeasonPlan
    species: Species
    rng: np.random.Generator
    harder: dict[str, float] = field(default_factory=dict)
    faster: dict[str, float] = field(default_factory=dict)
    animals: dict[str, float] = field(default_factory=dict)

    def begin(self) -> None:
        """Draw what becomes of each batch, from the spread of the plan's own futures."""
        for batch in coded(self.plan, self.species):
            z = float(np.clip(self.rng.standard_normal(), -1.2, 1.5))
            self.harder[batch.batch.code] = _harder(batch, z)
            self.faster[batch.batch.code] = float(np.exp(0.06 * self.rng.standard_normal()))

    def pass_night(self, state: State, day: date) -> None:
        """Animals die between the day before and this one."""
        there = lots(state, self.plan, self.species, day)
        for lot in (*there.larvae, *there.trays, *there.nursery):
            lives = lot.survival(day - DAY, day) ** self.harder.get(lot.batch.code, 1.0)
            for vessel in lot.vessels:
                if vessel in self.animals:
                    here = lives ** float(np.exp(0.15 * self.rng.standard_normal()))
                    self.animals[vessel] *= here

    def length_mm(self, lot: ExpectedBatch, day: date) -> float:
        """Mean shell length of the animals of a lot [mm]; of larvae along the plan's line."""
        faster = self.faster.get(lot.batch.code, 1.0)
        if any(name_of(tank) in lot.vessels for tank in lot.batch.tanks):
            hatch = lot.value("veliger.hatch_length_um").number
            regime = lot.plan.hatchery.regime
            ready = lot.value(f"regime.{regime}.competence_length_um").number
            days = max((lot.batch.dates.induce - lot.batch.dates.hatch).days, 1)
            part = min(lot.age(day) / days * faster, 1.05)
            return (hatch + (ready - hatch) * part) / 1000
        number = (lot.plan_day(day) - self.plan.forecast.first_day).days
        start = float(lot.line.length_p50[number])
        return start * faster

    def aliquots(self, vessel: str, ml: float, litres: float, number: int) -> list[int]:
        """Animals in each aliquot: clumped, of a tank that is never mixed quite evenly."""
        table = table_values("outlook")
        mixed = float(np.exp(table["count.volume_error"].number * self.rng.standard_normal()))
        mean = max(self.animals.get(vessel, 0.0) * ml / 1000 / litres * mixed, 1e-6)
        k = table["count.clumping_k"].number
        return [int(n) for n in self.rng.negative_binomial(k, k / (k + mean), number)]

    def lengths(self, mean_mm: float, number: int) -> list[float]:
        """Shell lengths of a sample [mm]."""
        cv = self.species.value("growth.size_cv").number
        sd = np.sqrt(np.log1p(cv**2))
        drawn = mean_mm * np.exp(sd * self.rng.standard_normal(number) - sd**2 / 2)
        return [round(float(length), 3) for length in drawn]


def _harder(batch: ExpectedBatch, z: float) -> float:
    """How many times the plan's mortality a batch has that lies z deviates above the middle."""
    dates, plan = batch.batch.dates, batch.batch
    spread = plan.to_nursery
    wide = np.log(max(spread.p90, 1.0) / max(spread.p50, 1.0)) / Z90
    middle = -np.log(max(batch.survival(dates.hatch, dates.to_nursery), 1e-6))
    return float(np.clip(1 - z * wide / max(middle, 0.1), 0.6, 1.5))


def cells_per_ml(culture: Culture, plan: SeasonPlan, day: date, thin: Mapping[str, float]) -> float:
    """Density of a culture on a day: growing to that of a ready one, then staying there.

    thin: by vessel, how far this culture is from the usual.
    """
    room = plan.hatchery.algae_room
    steps = [step for line in (room.room.lines if room else ()) if line.species == culture.species
             for step in line.steps if culture.vessel.startswith(f"{step.kind} ")]  # fmt: skip
    if not steps or room is None:
        return 1e6
    step = steps[0]
    litres = step.taken_l if step.drawn else room.room.kind(step.kind).litres
    full = step.cells / (litres * 1000)
    left = max(0, step.grow_days - (day - culture.started.date()).days)
    return float(full * np.exp(-0.6 * left) * thin.get(culture.vessel, 1.0))
