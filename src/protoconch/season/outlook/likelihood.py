"""How likely the entries of a log are, and how that changes with every unknown.

The survival, development and growth are those of the stage model, between the mornings on which
things were really done.
"""

import numpy as np
from numpy.typing import NDArray

from protoconch.season.outlook.evaluation import Evaluation
from protoconch.season.outlook.terms import SURVIVALS, Terms
from protoconch.season.outlook.unknowns import Looked

__all__ = ["SURVIVALS", "Likelihood"]
Numbers = NDArray[np.float64]


class Likelihood(Terms):
    """Log-likelihood of a laid-out log, for particles z of shape (coordinates, n)."""

    def __call__(self, z: Numbers) -> Numbers:
        """Log-likelihood up to a constant of the data, (n,)."""
        return Evaluation(self, z).value()

    def with_slope(
        self, z: Numbers, looked: Looked | None = None
    ) -> tuple[Numbers, Numbers]:  # fmt: skip
        """Log-likelihood (n,) and its gradient, (coordinates, n). looked: the unknowns at z."""
        done = Evaluation(self, z, looked)
        value = done.value()
        return value, done.gradient()

    def seen_and_expected(self, z: Numbers) -> tuple[Numbers, Numbers, Numbers]:
        """Each count's number, its expectation (counts, n), and its variance (counts, n)."""
        done = Evaluation(self, z)
        done.value()
        mean = np.exp(done.log_mean)
        return self.layout.counts.total, mean, mean + mean**2 / done.count_size
