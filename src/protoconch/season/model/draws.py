"""The random numbers of a season, drawn before anything is simulated.

Each thing (site, water, batch of a day, tank of a batch) has a random stream of its own, keyed by
what it is and not by the order in which it is asked for. So a batch more, or a tank more, leaves
all other numbers as they were, and two plans can be compared on the same futures.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.beliefs import UNCERTAIN, Beliefs, draw_value

Numbers = NDArray[np.float64]
Days = NDArray[np.int64]
BLOCK = 2000
"""Draws simulated together: small enough to stay in a processor's cache."""
NEVER = 10**6
SITE, WATER, BATCH, TANK = range(4)


@dataclass(frozen=True, slots=True)
class SiteDraws:
    """Site-wide unknowns of n futures; shapes (n,) or (days + 1, n).

    unknown: by name, as in beliefs.UNCERTAIN. clock: standard days since day 0 on each morning,
    at 28 °C and the draw's own Q10 [d].
    """

    unknown: dict[str, Numbers]
    clock: Numbers

    @property
    def n(self) -> int:
        """Number of futures."""
        return int(self.clock.shape[1])


@dataclass(frozen=True, slots=True)
class BatchDraws:
    """Effects of one batch; each of shape (n,).

    quality: standard normal, shared by all stages; growth, period: multipliers about 1;
    settle: shift of the settlement logit; lost_larval, lost_nursery: days after hatch or after
    entering the nursery on which the batch is lost whole (NEVER where it is not).
    """

    quality: Numbers
    growth: Numbers
    period: Numbers
    settle: Numbers
    lost_larval: Days
    lost_nursery: Days


@dataclass(frozen=True, slots=True)
class TankDraws:
    """Effects of one tank of a batch: stage (4, n) standard normal; losses as for the batch."""

    stage: Numbers
    lost_larval: Days
    lost_nursery: Days


def day_of_loss(share: float, usual_days: float, exponential: Numbers) -> Days:
    """Days until a loss whose share over `usual_days` is `share`, from unit exponentials."""
    if share <= 0.0:
        return np.full(exponential.shape, NEVER)
    per_day = -np.log1p(-share) / usual_days
    return np.asarray(np.minimum(exponential / per_day, NEVER - 1.0).astype(np.int64) + 1)


def monthly_to_daily(monthly_c: tuple[float, ...], first_day_of_year: int, days: int) -> Numbers:
    """Mean water temperature on each day [°C, shape (days,)], between the middles of the months."""
    middles = (np.arange(12) + 0.5) * 365.25 / 12
    day = (first_day_of_year + np.arange(days)) % 365.25
    return np.asarray(np.interp(day, middles, monthly_c, period=365.25))


@dataclass(frozen=True, slots=True)
class Streams:
    """Keyed random streams of one study; `root` comes from the generator that was passed in."""

    root: int

    def of(self, block: int, kind: int, *key: int) -> np.random.Generator:
        """The stream of one thing in one block of draws."""
        seed = np.random.SeedSequence([self.root, block, kind, *key])
        return np.random.Generator(np.random.SFC64(seed))


def streams(rng: np.random.Generator) -> Streams:
    """Streams rooted in the generator passed in: the same generator state, the same season."""
    return Streams(int(rng.integers(2**63)))


@dataclass(frozen=True, slots=True)
class Dice:
    """All random numbers of one block of n futures over so many days.

    first_day_of_year: day of the year (0 to 365) of day 0.
    """

    beliefs: Beliefs
    source: Streams
    block: int
    n: int
    days: int
    first_day_of_year: int

    def site(self) -> SiteDraws:
        """Unknowns of the site and the clock of development."""
        rng = self.source.of(self.block, SITE)
        unknown = {
            name: draw_value(self.beliefs.uncertain[name], rng, self.n) for name in UNCERTAIN
        }
        mean_c = monthly_to_daily(self.beliefs.monthly_c, self.first_day_of_year, self.days)
        above_c = self._anomaly(self.source.of(self.block, WATER))
        log_q = np.log(unknown["incubation.q10"]) / 10.0
        above_c += (mean_c - self.beliefs.growth_c)[:, None]
        above_c *= log_q
        clock = np.zeros((self.days + 1, self.n))
        np.cumsum(np.exp(above_c, out=above_c), axis=0, out=clock[1:])
        return SiteDraws(unknown, clock)

    def _anomaly(self, rng: np.random.Generator) -> Numbers:
        """Water warmer or colder than the month's mean, day by day correlated [°C, (days, n)]."""
        kept, sd = self.beliefs.anomaly_correlation, self.beliefs.anomaly_sd_c
        above_c = rng.standard_normal((self.days, self.n))
        above_c[0] *= sd
        above_c[1:] *= sd * np.sqrt(1.0 - kept**2)
        step = np.empty(self.n)
        for day in range(1, self.days):
            np.multiply(above_c[day - 1], kept, out=step)
            above_c[day] += step
        return above_c

    def batch(self, start: int) -> BatchDraws:
        """Effects of the batch collected on day `start`."""
        b = self.beliefs
        rng = self.source.of(self.block, BATCH, start)
        normal = rng.standard_normal((4, self.n))
        loss = rng.standard_exponential((2, self.n))
        half = 1.0 - np.sqrt(1.0 - b.batch_loss)
        return BatchDraws(
            quality=normal[0],
            growth=np.exp(b.growth_batch_sd * normal[1]),
            period=np.exp(b.period_batch_sd * normal[2]),
            settle=b.metamorphosis_sd * normal[3],
            lost_larval=day_of_loss(half, larval_and_tray_days(b), loss[0]),
            lost_nursery=day_of_loss(half, nursery_days(b), loss[1]),
        )

    def tank(self, start: int, kind: int, number: int) -> TankDraws:
        """Effects of the tank so numbered of that kind, in the batch collected on day `start`."""
        rng = self.source.of(self.block, TANK, start, kind, number)
        loss = rng.standard_exponential((2, self.n))
        b = self.beliefs
        return TankDraws(
            stage=rng.standard_normal((4, self.n)),
            lost_larval=day_of_loss(b.tank_larval_loss, larval_and_tray_days(b), loss[0]),
            lost_nursery=day_of_loss(b.tank_nursery_loss, nursery_days(b), loss[1]),
        )


def larval_and_tray_days(b: Beliefs) -> float:
    """Usual days from hatch to the nursery, over which the loss shares are meant [d]."""
    return b.uncertain["competence_days"].number + b.post_larva_days


def nursery_days(b: Beliefs) -> float:
    """Usual days in the nursery, over which the loss shares are meant [d]."""
    return float(b.path.days[3] - b.path.days[1])


def blocks(
    beliefs: Beliefs, source: Streams, draws: int, days: int, first_day_of_year: int
) -> Iterator[Dice]:
    """The dice of all blocks that make up so many draws."""
    for block, start in enumerate(range(0, draws, BLOCK)):
        yield Dice(beliefs, source, block, min(BLOCK, draws - start), days, first_day_of_year)


def median_site(beliefs: Beliefs, days: int, first_day_of_year: int) -> SiteDraws:
    """The one future in which every unknown has its planning value and the water its mean."""
    unknown = {name: np.array([v.number]) for name, v in beliefs.uncertain.items()}
    mean_c = monthly_to_daily(beliefs.monthly_c, first_day_of_year, days)
    rate = unknown["incubation.q10"] ** ((mean_c - beliefs.growth_c) / 10.0)
    return SiteDraws(unknown, np.concatenate([[0.0], np.cumsum(rate)])[:, None])


def median_batch() -> BatchDraws:
    """A batch without any effect of its own."""
    one, zero, never = np.ones(1), np.zeros(1), np.full(1, NEVER)
    return BatchDraws(zero, one, one, zero, never, never)


def median_tank() -> TankDraws:
    """A tank without any effect of its own."""
    never = np.full(1, NEVER)
    return TankDraws(np.zeros((4, 1)), never, never)
