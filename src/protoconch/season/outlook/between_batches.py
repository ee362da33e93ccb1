"""What a series of batches says of the next one: the spread between batches, learned from it.

The ln of each batch's mortality is normal about the site's mean. Mean and spread are weighed over
a grid with wide priors that owe nothing to the series, so it can be used to test itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

Numbers = NDArray[np.float64]
SURVIVAL_MIDDLE, MIDDLE_SD = 0.3, 1.0
"""Prior of the site's mean: ln(-ln survival) about that of 0.3, wide enough for 1 to 80 %."""
SPREAD_SD = 0.5
"""Prior of the spread between batches: half-normal."""


@dataclass(frozen=True, slots=True)
class NextBatch:
    """Survival of the next batch: 5, 50 and 95 %, and the spread between batches, median."""

    low: float
    middle: float
    high: float
    spread: float


def next_batch(survivals: Sequence[float]) -> NextBatch:
    """Survival to expect of one batch more, from those of earlier ones.

    survivals: each strictly between 0 and 1; how exactly each is known is taken for exact beside
    the spread between batches.
    """
    y = np.log(-np.log(np.asarray(survivals, dtype=np.float64)))
    middle = np.log(-np.log(SURVIVAL_MIDDLE)) + MIDDLE_SD * np.linspace(-4, 4, 121)[:, None]
    spread = np.linspace(0.02, 2.0, 100)[None, :]
    log_p = -0.5 * ((middle - np.log(-np.log(SURVIVAL_MIDDLE))) / MIDDLE_SD) ** 2
    log_p = log_p - 0.5 * (spread / SPREAD_SD) ** 2
    for value in y:
        log_p = log_p - np.log(spread) - 0.5 * ((value - middle) / spread) ** 2
    weight = np.exp(log_p - log_p.max())
    weight /= weight.sum()
    at = np.linspace(-4.0, 3.0, 176)
    below = np.array([(weight * ndtr((a - middle) / spread)).sum() for a in at])
    high, usual, low = (float(np.exp(-np.exp(np.interp(q, below, at)))) for q in (0.05, 0.5, 0.95))
    by_spread = np.cumsum(weight.sum(axis=0))
    return NextBatch(low, usual, high, float(np.interp(0.5, by_spread, spread[0])))


def left_out(survivals: Sequence[float]) -> tuple[NextBatch, ...]:
    """For each batch, what all the others would have led to expect of it."""
    every = list(survivals)
    return tuple(next_batch(every[:i] + every[i + 1 :]) for i in range(len(every)))
