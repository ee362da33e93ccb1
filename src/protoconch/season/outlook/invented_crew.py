"""The crew of an invented season: its habits, its log book, and the truth that it does not know."""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from uuid import UUID

import numpy as np
from numpy.typing import NDArray

from protoconch.log.entry import Entry
from protoconch.log.kinds import kind
from protoconch.season.model.draws import (
    NEVER,
    day_of_loss,
    larval_and_tray_days,
    monthly_to_daily,
    nursery_days,
)
from protoconch.season.outlook.basis import Basis

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Habits:
    """How a crew works. every: days between counts and measurings, in tanks and in the nursery.

    aliquots of so many mL; measured, checked: animals looked at. losses: whether whole tanks and
    batches are lost as the stage model has it. release: whether those of the size asked are
    released on the last day.
    """

    count_every: int = 4
    nursery_every: int = 21
    aliquots: int = 5
    aliquot_ml: float = 200.0
    measured: int = 20
    checked: int = 20
    read_water: bool = True
    losses: bool = False
    release: bool = False


USUAL = Habits()


@dataclass(slots=True)
class Truth:
    """What really was: unknowns of the site by name, effects by coordinate, numbers alive.

    alive: by lot key, the number on each morning it was alive. ready: by lot key, those of the
    size asked on the last morning looked at.
    """

    unknown: dict[str, float]
    effects: dict[str, float] = field(default_factory=dict)
    alive: dict[str, dict[int, float]] = field(default_factory=dict)
    ready: dict[str, float] = field(default_factory=dict)
    clock: Numbers = field(default_factory=lambda: np.zeros(1))


class Crew:
    """The crew, the log book and the truth; made for a single call of `invented_log`."""

    def __init__(self, basis: Basis, habits: Habits, rng: np.random.Generator, until: int,
                 site: Numbers | None = None) -> None:  # fmt: skip
        self.basis, self.habits, self.rng, self.until = basis, habits, rng, until
        z = rng.standard_normal((len(basis.site.names), 1)) if site is None else site[:, None]
        values = {name: float(v[0]) for name, v in basis.site.values(z).items()}
        self.truth = Truth(values, dict(zip(basis.site.names, z[:, 0].tolist(), strict=True)))
        self.water()
        self.entries: list[Entry] = []
        self.hour: dict[int, int] = {}
        self.next_tray, self.next_lot = 1, 0

    def water(self) -> None:
        """Draw the weather and the clock of development in it."""
        b = self.basis.beliefs
        days = max(self.until, 1)
        mean = monthly_to_daily(b.monthly_c, self.basis.first_day_of_year, days)
        above = np.empty(days)
        now = b.anomaly_sd_c * self.rng.standard_normal()
        for day in range(days):
            above[day] = now
            step = b.anomaly_sd_c * np.sqrt(1 - b.anomaly_correlation**2)
            now = b.anomaly_correlation * now + step * self.rng.standard_normal()
        self.temperature = np.asarray(mean + above)
        x = np.log(self.truth.unknown["incubation.q10"]) / 10
        rate = np.exp((self.temperature - b.growth_c) * x)
        self.truth.clock = np.concatenate([[0.0], np.cumsum(rate)])

    def write(self, day: int, name: str, where: str = "", **told: object) -> None:
        """Add an entry to the log."""
        minute = self.hour.get(day, 0)
        self.hour[day] = minute + 1
        at = datetime.combine(self.basis.first_day, datetime.min.time(), UTC)
        at += timedelta(days=day, hours=8, minutes=minute)
        key = UUID(bytes=self.rng.bytes(16), version=4)
        self.entries.append(
            Entry(key, name, at, at, "crew A", where, kind(name).payload.model_validate(told))
        )

    def effect(self, name: str) -> float:
        """A standard normal effect, kept under its coordinate's name."""
        return self.truth.effects.setdefault(name, float(self.rng.standard_normal()))

    def clumped(self, mean: float, size: float) -> int:
        """A negative binomial number."""
        return int(self.rng.poisson(mean * self.rng.gamma(size) / size)) if mean > 0 else 0

    def losses(self, larval: float, nursery: float) -> tuple[int, int]:
        """Days after hatch, and after entering the nursery, of a whole loss with these shares."""
        if not self.habits.losses:
            return NEVER, NEVER
        b, chance = self.basis.beliefs, self.rng.standard_exponential(2)
        return (int(day_of_loss(larval, larval_and_tray_days(b), chance[:1])[0]),
                int(day_of_loss(nursery, nursery_days(b), chance[1:])[0]))  # fmt: skip

    def first(self, since: int, needed: float) -> int:
        """First morning with so many standard days since a morning; past the end where none."""
        late = np.flatnonzero(self.truth.clock >= self.truth.clock[since] + needed)
        return int(late[0]) if late.size else self.until + 1
