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

Curve = Literal["exponential", "logistic", "lag"]
CURVES: tuple[Curve, ...] = ("exponential", "logistic", "lag")
Numbers = NDArray[np.float64]
MOST_GROWTH = 3.0
"""Growth per day that no alga here comes near (four doublings); assumption, bounds the search."""
LONGEST_LAG = 10.0
"""Lag in days that is searched; assumption."""


@dataclass(frozen=True, slots=True)
class GrowthFit:
    """A curve laid through the counts of one culture.

    curve: "exponential", "logistic" or "lag" (Baranyi & Roberts). growth_per_d, start_per_ml,
    peak_per_ml, lag_d: its numbers; peak and lag are nan where the curve has none.
    growth_limits: 95 % limits of the growth rate. scatter: standard deviation of ln(count).
    criterion: AICc, smaller is better. counts: how many the fit rests on.
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

    def per_ml(self, day: Numbers) -> Numbers:
        """Cells on the days since inoculation [cells/mL]; same shape."""
        numbers = [math.log(self.start_per_ml), self.growth_per_d]
        numbers += [] if self.curve == "exponential" else [math.log(self.peak_per_ml)]
        numbers += [self.lag_d] if self.curve == "lag" else []
        return np.exp(_log_curve(self.curve)(np.asarray(day, dtype=float), np.array(numbers)))


def fitted(days: Sequence[float], counts_per_ml: Sequence[float], curve: Curve) -> GrowthFit:
    """One curve through the counts, least squares of ln(count).

    days: since inoculation [d]. counts_per_ml: cells counted then [cells/mL], above 0.
    Returns: limits by the profile of the sum of squares, with F(1, n - k) for small samples.
    Raises: BadInput, naming what is missing or wrong.
    Source: least squares on the log scale; profile limits, Bates & Watts 1988, Nonlinear
        Regression Analysis; AICc, Hurvich & Tsai 1989, Biometrika 76:297.
    """
    day, log_count = _checked(days, counts_per_ml, curve)
    numbers, squares = _least(curve, day, log_count)
    free = len(day) - len(numbers)
    limits = _profile(curve, day, log_count, numbers, squares)
    known = dict(zip(("start", "growth", "peak", "lag"), numbers, strict=False))
    return GrowthFit(
        curve, float(known["growth"]), math.exp(known["start"]),
        math.exp(known["peak"]) if "peak" in known else math.nan,
        float(known.get("lag", math.nan)), limits, math.sqrt(squares / free),
        _criterion(squares, len(day), len(numbers)), len(day),
    )  # fmt: skip


def best_fit(days: Sequence[float], counts_per_ml: Sequence[float]) -> GrowthFit:
    """The curve that the counts speak for most, by AICc, among those they suffice for.

    Raises: BadInput, where they suffice for none.
    """
    _checked(days, counts_per_ml, "exponential")
    enough = [curve for curve in CURVES if len(days) >= _least_counts(curve)]
    return min((fitted(days, counts_per_ml, curve) for curve in enough),
               key=lambda fit: fit.criterion)  # fmt: skip


def _least_counts(curve: Curve) -> int:
    """Counts that the correction for small samples can bear: numbers, scatter, and two more."""
    return {"exponential": 2, "logistic": 3, "lag": 4}[curve] + 3


def _checked(days: Sequence[float], counts: Sequence[float], curve: Curve
             ) -> tuple[Numbers, Numbers]:  # fmt: skip
    if len(days) != len(counts):
        raise BadInput(f"There are {len(days)} days and {len(counts)} counts; give one for each.")
    day, count = np.asarray(days, dtype=float), np.asarray(counts, dtype=float)
    if not (np.isfinite(day).all() and np.isfinite(count).all() and (count > 0).all()):
        raise BadInput("Each day and each count must be a number, and each count above 0.")
    if len(day) < _least_counts(curve) or len(set(day.tolist())) < _least_counts(curve) - 1:
        raise BadInput(
            f"{len(day)} counts are too few for the {curve} curve; it needs"
            f" {_least_counts(curve)} on {_least_counts(curve) - 1} days."
        )
    return day, np.log(count)


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


def _bounds(curve: Curve, log_count: Numbers) -> tuple[list[float], list[float]]:
    low, high = float(log_count.min()), float(log_count.max())
    lows = [low - 3, 1e-3, high - 0.7, 0.0][: _least_counts(curve) - 3]
    highs = [high + 1, MOST_GROWTH, high + 4, LONGEST_LAG][: _least_counts(curve) - 3]
    return lows, highs


def _least(
    curve: Curve, day: Numbers, log_count: Numbers, growth: float | None = None,
    near: Numbers | None = None,
) -> tuple[Numbers, float]:  # fmt: skip
    """The numbers of least squares and the sum, with the growth rate held where it is given."""
    model = _log_curve(curve)
    lows, highs = (np.array(side) for side in _bounds(curve, log_count))
    if growth is not None:
        lows[1] = highs[1] = growth

    def misfit(x: Numbers) -> Numbers:
        return model(day, x) - log_count

    starts = _starts(curve, day, log_count) if near is None else [near]
    found = [least_squares(misfit, np.clip(start, lows, highs), lows, highs) for start in starts]
    return min(found, key=lambda pair: pair[1])


def _starts(curve: Curve, day: Numbers, log_count: Numbers) -> list[Numbers]:
    slopes = np.diff(log_count) / np.maximum(np.diff(day), 1e-9)
    steep = float(np.clip(np.nanmax(slopes), 0.05, 2.0))
    mean = float(np.clip((log_count[-1] - log_count[0]) / max(day[-1] - day[0], 1e-9), 0.05, 2.0))
    first, top = float(log_count[0]), float(log_count.max())
    ways = [(steep, 0.5), (mean, 0.1), (mean, 2.0)] if curve == "lag" else [(steep, 0), (mean, 0)]
    size = _least_counts(curve) - 3
    return [np.array([first, rate, top + 0.2, lag])[:size] for rate, lag in ways]


def _profile(curve: Curve, day: Numbers, log_count: Numbers, numbers: Numbers, squares: float
             ) -> Limits:  # fmt: skip
    """Growth rates whose best fit is not significantly worse."""
    from scipy.optimize import brentq
    from scipy.special import stdtrit

    free = len(day) - len(numbers)
    allowed = squares * (1 + float(stdtrit(free, 0.975)) ** 2 / free)
    low, high = _bounds(curve, log_count)[0][1], MOST_GROWTH
    best = float(numbers[1])

    def excess(growth: float) -> float:
        return _least(curve, day, log_count, growth, numbers)[1] - allowed - 1e-12

    def crossing(end: float) -> float:
        step, inside, outside = 0.02 * best + 1e-3, best, best
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
