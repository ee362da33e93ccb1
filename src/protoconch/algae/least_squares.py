"""Least squares of a few numbers within bounds, quick enough to profile a curve."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
STEPS, SMALL = 60, 1e-10


def least_squares(
    misfit: Callable[[Numbers], Numbers], start: Numbers, lows: Numbers, highs: Numbers
) -> tuple[Numbers, float]:
    """The numbers within the bounds that make the sum of squares least, and that sum.

    misfit: residuals, shape (n,), of the numbers, shape (k,). start: within the bounds.
    lows, highs: shape (k,); equal where a number is held fast.
    Source: Levenberg 1944 and Marquardt 1963, damped Gauss-Newton; a number at a bound that would
        leave it is held there for the step.
    """
    x, damping = start.astype(float), 1e-3
    rest = misfit(x)
    squares = float(rest @ rest)
    for _ in range(STEPS):
        slopes = _slopes(misfit, x, rest, lows, highs)
        downhill = -(slopes.T @ rest)
        free = (lows < highs) & ~((x <= lows) & (downhill < 0)) & ~((x >= highs) & (downhill > 0))
        if not free.any():
            break
        moved, gain = False, 0.0
        while not moved and damping < 1e12:
            step = _step(slopes[:, free], downhill[free], damping)
            tried = x.copy()
            tried[free] += step
            tried = np.clip(tried, lows, highs)
            new = misfit(tried)
            new_squares = float(new @ new)
            moved = new_squares < squares
            if moved:
                gain = squares - new_squares
                x, rest, squares = tried, new, new_squares
                damping = max(damping / 5, 1e-12)
            else:
                damping *= 4
        if not moved or gain <= SMALL * squares:
            break
    return x, squares


def _step(slopes: Numbers, downhill: Numbers, damping: float) -> Numbers:
    bend = slopes.T @ slopes
    held = bend + np.diag(damping * np.maximum(np.diag(bend), 1e-9))
    return np.asarray(np.linalg.solve(held, downhill))


def _slopes(
    misfit: Callable[[Numbers], Numbers], x: Numbers, rest: Numbers, lows: Numbers, highs: Numbers
) -> Numbers:
    found = np.zeros((len(rest), len(x)))
    for place in np.flatnonzero(lows < highs):
        width = 1e-6 * max(1.0, abs(x[place]))
        if x[place] + width > highs[place]:
            width = -width
        moved = x.copy()
        moved[place] += width
        found[:, place] = (misfit(moved) - rest) / width
    return found
