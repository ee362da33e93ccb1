"""Growth curves fitted to the counts of a culture, with intervals, the best one chosen."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.growth import baranyi_per_ml, exponential_per_ml, logistic_per_ml
from protoconch.algae.least_squares import least_squares
from protoconch.bench.limits import Limits
from protoconch.errors import BadInput
from protoconch.words import say

Curve = Literal["exponential", "logistic", "lag"]
CURVES: tuple[Curve, ...] = ("exponential", "logistic", "lag")
Numbers = NDArray[np.float64]
MOST_GROWTH = 3.0
"""Growth or loss per day that no alga here comes near (four doublings); assumption, bounds the
search."""
LONGEST_LAG = 10.0
"""Lag in days that is searched; assumption."""
WIDEST = 50.0
"""Half width of limits on the log scale beyond which nothing is known."""


@dataclass(frozen=True, slots=True)
class GrowthFit:
    """A curve laid through the counts of one culture.

    curve: "exponential", "logistic" or "lag" (Baranyi & Roberts). growth_per_d, start_per_ml,
    peak_per_ml, lag_d: its numbers; peak and lag are nan where the curve has none.
    growth_limits: 95 % limits of the growth rate. scatter: standard deviation of ln(count).
    criterion: AICc, smaller is better. counts: how many the fit rests on. covariance: of ln start,
    growth, ln peak and lag, as far as the curve has them, shape (k, k).
    """

    curve: Curve
    growth_per_d: float
    start_per_ml: float
    peak_per_ml: float
    lag_d: float
    growth_limits: Limits
    scatter: float
    criterion: float
    counts: int
    covariance: Numbers

    def per_ml(self, day: Numbers) -> Numbers:
        """Cells on the days since inoculation [cells/mL]; same shape."""
        return np.exp(_log_curve(self.curve)(np.asarray(day, dtype=float), self._numbers()))

    def limits_per_ml(self, day: Numbers) -> tuple[Numbers, Numbers]:
        """95 % limits of the curve on the days since inoculation [cells/mL]; same shape each.

        Source: delta method on the log scale with Student's t (Bates & Watts 1988).
        """
        from scipy.special import stdtrit

        at = np.asarray(day, dtype=float)
        slopes = _slopes(_log_curve(self.curve), at, self._numbers())
        spread = np.sqrt(np.maximum(np.einsum("ij,jk,ik->i", slopes, self.covariance, slopes), 0.0))
        wide = float(stdtrit(self.counts - len(self.covariance), 0.975)) * spread
        middle, wide = np.log(self.per_ml(at)), np.minimum(wide, WIDEST)
        return np.exp(middle - wide), np.exp(middle + wide)

    def _numbers(self) -> Numbers:
        numbers = [math.log(self.start_per_ml), self.growth_per_d]
        numbers += [] if self.curve == "exponential" else [math.log(self.peak_per_ml)]
        numbers += [self.lag_d] if self.curve == "lag" else []
        return np.array(numbers)


@dataclass(frozen=True, slots=True)
class _Counts:
    """Days, ln(count), and the weight of each on the square root, shape (n,); mean square 1."""

    day: Numbers
    log_count: Numbers
    weight: Numbers


def fitted(
    days: Sequence[float], counts_per_ml: Sequence[float], curve: Curve,
    errors: Sequence[float] | None = None,
) -> GrowthFit:  # fmt: skip
    """One curve through the counts, least squares of ln(count).

    days: since inoculation [d]. counts_per_ml: cells counted then [cells/mL], above 0.
    errors: standard error of each count as a share of it; a surer count weighs more. All weigh
        alike where None.
    Returns: limits by the profile of the sum of squares, with F(1, n - k) for small samples.
    Raises: BadInput, naming what is missing or wrong.
    Source: least squares on the log scale; profile limits, Bates & Watts 1988, Nonlinear
        Regression Analysis; AICc, Hurvich & Tsai 1989, Biometrika 76:297.
    """
    counts = _checked(days, counts_per_ml, curve, errors)
    numbers, squares = _least(curve, counts)
    free = len(counts.day) - len(numbers)
    limits = _profile(curve, counts, numbers, squares)
    known = dict(zip(("start", "growth", "peak", "lag"), numbers, strict=False))
    return GrowthFit(
        curve, float(known["growth"]), math.exp(known["start"]),
        math.exp(known["peak"]) if "peak" in known else math.nan,
        float(known.get("lag", math.nan)), limits, math.sqrt(squares / free),
        _criterion(squares, len(counts.day), len(numbers)), len(counts.day),
        _covariance(curve, counts, numbers, squares / free),
    )  # fmt: skip


def best_fit(
    days: Sequence[float], counts_per_ml: Sequence[float], errors: Sequence[float] | None = None
) -> GrowthFit:
    """The curve that the counts speak for most, by AICc, among those they suffice for.

    errors: as in `fitted`.
    Raises: BadInput, where they suffice for none.
    """
    _checked(days, counts_per_ml, "exponential", errors)
    several = min(len(days), len(set(days)) + 1)
    enough = [curve for curve in CURVES if several >= _least_counts(curve)]
    return min((fitted(days, counts_per_ml, curve, errors) for curve in enough),
               key=lambda fit: fit.criterion)  # fmt: skip


def _least_counts(curve: Curve) -> int:
    """Counts that the correction for small samples can bear: numbers, scatter, and two more."""
    return {"exponential": 2, "logistic": 3, "lag": 4}[curve] + 3


def _checked(
    days: Sequence[float], counts: Sequence[float], curve: Curve, errors: Sequence[float] | None
) -> _Counts:
    if len(days) != len(counts):
        raise BadInput(
            say(
                "There are {days} days and {counts} counts; give one for each.",
                days=len(days),
                counts=len(counts),
            )
        )
    day, count = np.asarray(days, dtype=float), np.asarray(counts, dtype=float)
    if not (np.isfinite(day).all() and (day >= 0).all()
            and np.isfinite(count).all() and (count > 0).all()):  # fmt: skip
        raise BadInput(say("Each day must be a number from 0 on, and each count one above 0."))
    if len(day) < _least_counts(curve) or len(set(day.tolist())) < _least_counts(curve) - 1:
        raise BadInput(
            say(
                "{counts} counts are too few for the {curve} curve; it needs {least} on "
                "{days} days.",
                counts=len(day),
                curve=curve,
                least=_least_counts(curve),
                days=_least_counts(curve) - 1,
            )
        )
    error = np.ones(len(day)) if errors is None else np.asarray(errors, dtype=float)
    if len(error) != len(day) or not (np.isfinite(error).all() and (error > 0).all()):
        raise BadInput(say("Each count needs its error, a share of it above 0."))
    weight = 1 / error
    return _Counts(day, np.log(count), weight / math.sqrt(float((weight**2).mean())))


def _log_curve(curve: Curve) -> Callable[[Numbers, Numbers], Numbers]:
    """ln(cells) as a function of days and of (ln start, growth, ln peak, lag)."""

    def exponential(day: Numbers, x: Numbers) -> Numbers:
        return np.log(exponential_per_ml(day, start_per_ml=math.exp(x[0]), growth_per_d=x[1]))

    def logistic(day: Numbers, x: Numbers) -> Numbers:
        return np.log(logistic_per_ml(day, start_per_ml=math.exp(x[0]), growth_per_d=x[1],
                                      peak_per_ml=math.exp(x[2])))  # fmt: skip

    def lag(day: Numbers, x: Numbers) -> Numbers:
        return np.log(baranyi_per_ml(day, start_per_ml=math.exp(min(x[0], x[2] - 1e-6)),
                                     growth_per_d=x[1], peak_per_ml=math.exp(x[2]),
                                     lag_d=x[3]))  # fmt: skip

    return {"exponential": exponential, "logistic": logistic, "lag": lag}[curve]


def _bounds(curve: Curve, counts: _Counts) -> tuple[Numbers, Numbers]:
    low, high = float(counts.log_count.min()), float(counts.log_count.max())
    early = MOST_GROWTH * float(counts.day.min())
    shrinking = curve == "exponential"
    lows = [low - 3 - early, -MOST_GROWTH if shrinking else 1e-3, high - 0.7, 0.0]
    highs = [high + 1 + (early if shrinking else 0.0), MOST_GROWTH, high + 4, LONGEST_LAG]
    size = _least_counts(curve) - 3
    return np.array(lows[:size]), np.array(highs[:size])


def _least(
    curve: Curve, counts: _Counts, growth: float | None = None, near: Numbers | None = None
) -> tuple[Numbers, float]:
    """The numbers of least squares and the sum, with the growth rate held where it is given."""
    model = _log_curve(curve)
    lows, highs = _bounds(curve, counts)
    if growth is not None:
        lows[1] = highs[1] = growth

    def misfit(x: Numbers) -> Numbers:
        return (model(counts.day, x) - counts.log_count) * counts.weight

    starts = _starts(curve, counts) if near is None else [near]
    found = [least_squares(misfit, np.clip(start, lows, highs), lows, highs) for start in starts]
    return min(found, key=lambda pair: pair[1])


def _starts(curve: Curve, counts: _Counts) -> list[Numbers]:
    day, log_count = counts.day, counts.log_count
    slope = float((log_count[-1] - log_count[0]) / max(day[-1] - day[0], 1e-9))
    first, top = float(log_count[0]), float(log_count.max())
    if curve == "exponential":
        return [np.array([first - slope * day[0], slope])]
    slopes = np.diff(log_count) / np.maximum(np.diff(day), 1e-9)
    steep, mean = (float(np.clip(rate, 0.05, 2.0)) for rate in (np.nanmax(slopes), slope))
    ways = [(steep, 0.5), (mean, 0.1), (mean, 2.0)] if curve == "lag" else [(steep, 0), (mean, 0)]
    size = _least_counts(curve) - 3
    return [np.array([first, rate, top + 0.2, lag])[:size] for rate, lag in ways]


def _slopes(
    model: Callable[[Numbers, Numbers], Numbers], day: Numbers, numbers: Numbers
) -> Numbers:
    """Change of ln(cells) with each number, shape (n, k)."""
    found = np.zeros((len(day), len(numbers)))
    for place, value in enumerate(numbers):
        width = 1e-6 * max(1.0, abs(float(value)))
        up, down = numbers.copy(), numbers.copy()
        up[place] += width
        down[place] -= width if place < 3 or value > width else 0.0
        found[:, place] = (model(day, up) - model(day, down)) / (up[place] - down[place])
    return found


def _covariance(curve: Curve, counts: _Counts, numbers: Numbers, variance: float) -> Numbers:
    """Covariance of the numbers; none for one that lies at the end of its range."""
    lows, highs = _bounds(curve, counts)
    free = (numbers > lows + 1e-9) & (numbers < highs - 1e-9)
    slopes = _slopes(_log_curve(curve), counts.day, numbers) * counts.weight[:, None]
    found = np.zeros((len(numbers), len(numbers)))
    bend = slopes[:, free].T @ slopes[:, free]
    found[np.ix_(free, free)] = variance * np.linalg.pinv(bend, rcond=1e-10)
    return found


def _profile(curve: Curve, counts: _Counts, numbers: Numbers, squares: float) -> Limits:
    """Growth rates whose best fit is not significantly worse."""
    from scipy.optimize import brentq
    from scipy.special import stdtrit

    free = len(counts.day) - len(numbers)
    allowed = squares * (1 + float(stdtrit(free, 0.975)) ** 2 / free)
    low, high = float(_bounds(curve, counts)[0][1]), MOST_GROWTH
    best = float(numbers[1])

    def excess(growth: float) -> float:
        return _least(curve, counts, growth, numbers)[1] - allowed - 1e-12

    def crossing(end: float) -> float:
        step, inside, outside = 0.02 * abs(best) + 1e-3, best, best
        while outside != end:
            outside = max(end, outside - step) if end < best else min(end, outside + step)
            if excess(outside) > 0:
                return float(brentq(excess, inside, outside, xtol=1e-4))
            inside, step = outside, step * 2
        return end

    return Limits(crossing(low), crossing(high))


def _criterion(squares: float, counts: int, numbers: int) -> float:
    k = numbers + 1
    scatter = max(squares / counts, 1e-12)
    return counts * math.log(scatter) + 2 * k + 2 * k * (k + 1) / (counts - k - 1)
