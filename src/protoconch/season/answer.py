"""The answer to a target: a plan, its odds, what limits it, and what could be asked instead."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from protoconch.hatchery.description import Hatchery, Target
from protoconch.sources.values import SourcedValue

Numbers = NDArray[np.float64]
Stage = Literal["egg", "veliger", "post-larva", "juvenile"]
STAGES: tuple[Stage, ...] = ("egg", "veliger", "post-larva", "juvenile")
"""egg: in the incubator; veliger: in a larval tank; post-larva: on a tray, from settlement to
5 mm; juvenile: in the nursery, from 5 mm to release."""


@dataclass(frozen=True, slots=True)
class Spread:
    """An uncertain number: its median, its mean, and the values that 10 % and 90 % stay below."""

    p10: float
    p50: float
    p90: float
    mean: float


@dataclass(frozen=True, slots=True)
class Odds:
    """Probability that the target is met, from `draws` fresh simulated seasons.

    error: Monte Carlo standard error. at_least: one-sided 95 % lower bound (Clopper-Pearson).
    """

    value: float
    error: float
    at_least: float
    draws: int


@dataclass(frozen=True, slots=True)
class TankUse:
    """One larval tank of a batch: its kind, its number in the room (from 1), its water [L]."""

    kind: str
    number: int
    litres: float


@dataclass(frozen=True, slots=True)
class BatchDates:
    """The planned days of a batch, at median development; `..._until` is the last day reserved."""

    collect: date
    hatch: date
    thin: tuple[date, ...]
    induce: date
    tank_until: date
    to_nursery: date
    tray_until: date
    ready: date
    """The day on which half of the animals have reached the size asked (may lie after release)."""
    release: date


@dataclass(frozen=True, slots=True)
class Batch:
    """Animals that hatch together, from the pieces of several egg masses.

    code: "A", "B", ... in the order of the dates. egg_masses: masses of which a piece is taken.
    eggs: eggs brought in, all pieces together. share_of_mass: part of each mass taken.
    density_per_l: larvae per litre after stocking and after each thinning, in order.
    The spreads are numbers of animals: at stocking, competent, settled, entering the nursery,
    of the size asked at the date.
    """

    code: str
    egg_masses: int
    eggs: float
    share_of_mass: float
    dates: BatchDates
    tanks: tuple[TankUse, ...]
    density_per_l: tuple[float, ...]
    trays: dict[str, int]
    stocked: Spread
    competent: Spread
    settled: Spread
    to_nursery: Spread
    released: Spread

    @property
    def litres(self) -> float:
        """Water of all its larval tanks [L]."""
        return sum(tank.litres for tank in self.tanks)


@dataclass(frozen=True, slots=True)
class Limit:
    """One thing that is scarce: how much the plan uses at its peak, how much there is.

    one_more: odds gained by one more unit of it with the best plan then, None where not computed.
    """

    name: str
    unit: str
    used: float
    available: float
    one_more: float | None
    sentence: str


@dataclass(frozen=True, slots=True)
class Offer:
    """A target near the one asked that this hatchery can meet, with its numbers."""

    kind: Literal["fewer", "later", "less sure"]
    target: Target
    odds: Odds
    expected: float
    egg_masses: int
    tanks: int
    sentence: str


@dataclass(frozen=True, slots=True)
class DailyBatch:
    """A batch along time; arrays have shape (days,), day 0 is the forecast's first day.

    alive_p10/p50/p90: numbers alive (0 before hatch or collection and after release).
    length_p10/p50/p90: shell length of the median batch's small, middle and large animals [mm].
    stage: index into STAGES on each day at median development, -1 outside.
    """

    code: str
    alive_p10: Numbers
    alive_p50: Numbers
    alive_p90: Numbers
    length_p10: Numbers
    length_p50: Numbers
    length_p90: Numbers
    stage: NDArray[np.int8]


@dataclass(frozen=True, slots=True)
class Forecast:
    """The season day by day; arrays have shape (days,).

    ready: numbers of the size asked at the date, one for each draw, sorted.
    tanks_used: larval tanks in use; trays_cm2 and nursery_m2: floor in use (p10, p50, p90);
    algae_g: dry algae asked for by the larvae on each day, median [g].
    work_h: hours of planned work.
    """

    first_day: date
    batches: tuple[DailyBatch, ...]
    tanks_used: Numbers
    trays_cm2: Numbers
    nursery_m2_p10: Numbers
    nursery_m2_p50: Numbers
    nursery_m2_p90: Numbers
    algae_g: Numbers
    work_h: Numbers
    ready: Numbers


@dataclass(frozen=True, slots=True)
class SeasonPlan:
    """What to do, and how it is likely to end.

    feasible: the odds reach the confidence asked. expected, p10, p90: number of the size asked at
    the date. binding_limit: name of the limit that holds the season back most.
    work_hours: hours of the whole season. nursery_m2: median of the peak floor in use.
    assumptions: every trade number the plan rests on.
    """

    hatchery: Hatchery
    target: Target
    feasible: bool
    odds: Odds
    expected: float
    p10: float
    p90: float
    batches: tuple[Batch, ...]
    egg_masses: int
    tanks: int
    tray_area_cm2: float
    nursery_m2: float
    work_hours: float
    limits: tuple[Limit, ...]
    binding_limit: str
    offers: tuple[Offer, ...]
    notes: tuple[str, ...]
    forecast: Forecast
    assumptions: tuple[SourcedValue, ...]
    seed: int
