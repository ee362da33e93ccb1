"""The clock of development in the water as it was, and as it may become.

In a water of known temperature the standard days between two mornings are a sum of exp(a x), a
being the degrees above the reference and x the tenth of ln(Q10): a power series in x whose
coefficients are sums over days. So the clock of any Q10 is a short polynomial, exact to 1e-9.
"""

from dataclasses import dataclass
from math import factorial

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.draws import monthly_to_daily

Numbers = NDArray[np.float64]
TERMS = 12
"""Terms of the series: enough for 12 degrees from the reference and a Q10 of 3."""


@dataclass(frozen=True, slots=True)
class Water:
    """Water of a season. mean_c: temperature on each day, read or the month's mean [°C, (days,)].

    moments: sums over the days before each morning, (days + 1, TERMS). read_until: morning up to
    which readings tell; last_above_c: degrees above the month's mean in the last reading.
    """

    mean_c: Numbers
    moments: Numbers
    read_until: int
    last_above_c: float
    climate_c: Numbers

    def powers(self, log_q10: Numbers) -> Numbers:
        """Powers of a tenth of ln(Q10), (TERMS, n)."""
        x = np.asarray(log_q10) / 10.0
        table = np.ones((TERMS, *x.shape))
        for k in range(1, TERMS):
            np.multiply(table[k - 1], x, out=table[k])
        return table

    def slopes(self, powers: Numbers) -> Numbers:
        """Change of those powers with ln(Q10), (TERMS, n)."""
        table = np.zeros_like(powers)
        np.multiply(powers[:-1], np.arange(1, TERMS)[:, None] / 10.0, out=table[1:])
        return table

    def between(self, since: NDArray[np.intp], until: NDArray[np.intp]) -> Numbers:
        """Coefficients of the standard days from one morning to another, (..., TERMS)."""
        return np.asarray(self.moments[until] - self.moments[since])


def water(
    beliefs: Beliefs, readings: tuple[tuple[int, float], ...], days: int, day_of_year: int
) -> Water:
    """The water of a season from the readings of a log.

    readings: (day, °C); days without one lie between their neighbours, and what the last reading
    was above the month's mean fades as the weather does. days: mornings looked at.
    """
    climate = monthly_to_daily(beliefs.monthly_c, day_of_year, days)
    above = np.zeros(days)
    read_until, last = 0, 0.0
    by_day: dict[int, list[float]] = {}
    for day, value in readings:
        if 0 <= day < days:
            by_day.setdefault(day, []).append(value)
    if by_day:
        seen = np.array(sorted(by_day))
        values = np.array([float(np.mean(by_day[int(d)])) for d in seen]) - climate[seen]
        above = np.interp(np.arange(days), seen, values)
        keep = beliefs.anomaly_correlation
        after = np.arange(days) - seen[-1]
        above = np.where(after > 0, values[-1] * keep ** np.maximum(after, 0), above)
        before = seen[0] - np.arange(days)
        above = np.where(before > 0, values[0] * keep ** np.maximum(before, 0), above)
        read_until, last = int(seen[-1]) + 1, float(values[-1])
    mean = climate + above
    degrees = mean - beliefs.growth_c
    terms = np.stack([degrees**k / factorial(k) for k in range(TERMS)], axis=1)
    moments = np.concatenate([np.zeros((1, TERMS)), np.cumsum(terms, axis=0)])
    return Water(mean, moments, read_until, last, climate)


def clocks(
    beliefs: Beliefs, known: Water, log_q10: Numbers, today: int, rng: np.random.Generator
) -> Numbers:
    """Standard days on each morning in so many futures, (days + 1, n): known, then weather.

    log_q10: (n,). From the morning `today` on the water wanders about its month's mean as the
    stage model lets it, from where the last reading left it.
    """
    n, days = log_q10.size, known.mean_c.size
    keep, sd = beliefs.anomaly_correlation, beliefs.anomaly_sd_c
    degrees = np.repeat((known.mean_c - beliefs.growth_c)[:, None], n, axis=1)
    since = max(today - known.read_until + 1, 1) if known.read_until else np.inf
    faded = keep**since
    above = known.last_above_c * faded + sd * np.sqrt(1 - faded**2) * rng.standard_normal(n)
    for day in range(today, days):
        degrees[day] = known.climate_c[day] + above - beliefs.growth_c
        above = keep * above + sd * np.sqrt(1 - keep**2) * rng.standard_normal(n)
    clock = np.zeros((days + 1, n))
    np.cumsum(np.exp(degrees * (log_q10 / 10.0)), axis=0, out=clock[1:])
    return clock
