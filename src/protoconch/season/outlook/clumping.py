"""What counts of aliquots say of how the animals clump."""

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline
from scipy.special import gammaln

Numbers = NDArray[np.float64]
LOG_K = np.linspace(np.log(0.3), np.log(300.0), 90)


def effective_size(k: Numbers, aliquots: Numbers, volume_error: float) -> Numbers:
    """Size of the negative binomial of the sum of aliquots, the error of volume included."""
    return np.asarray(1.0 / (1.0 / (aliquots * k) + volume_error**2))


def clumping_curve(found: Numbers, volume_error: float) -> Numbers:
    """Terms of a count's likelihood that depend on the clumping alone, over LOG_K, (nodes,).

    The sum of the aliquots is negative binomial; how it falls to the aliquots is
    Dirichlet-multinomial, as for negative binomial aliquots with a common mean.
    """
    k, m, total = np.exp(LOG_K), float(found.size), float(found.sum())
    size = effective_size(k, np.full_like(k, m), volume_error)
    summed = gammaln(total + size) - gammaln(size)
    split = gammaln(m * k) - gammaln(total + m * k)
    split += (gammaln(found[:, None] + k) - gammaln(k)).sum(axis=0)
    return np.asarray(summed + split)


def clumping_spline(curves: Numbers, weights: Numbers) -> CubicSpline:
    """Sum of curves (counts, nodes), weighted (counts,), over ln k."""
    return CubicSpline(LOG_K, weights @ curves)
