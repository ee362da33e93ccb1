"""How long an animal is after so many standard days, and how much floor it covers.

One standard day is a day of growth at the reference temperature by an animal of median growth.
Each animal keeps one growth multiplier g for life, ln g normal with standard deviation `spread`:
after t standard days of its cohort it is as long as the median animal after g*t. So the size
distribution of a cohort stays a closed form at any time, and grading out the slowest only cuts
off its lower end (individual variation as in Sainsbury 1980, Can J Fish Aquat Sci 37:241, from
memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from protoconch.animals.species import Species

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class GrowthPath:
    """Shell length of the median animal along standard days since settlement.

    days, lengths_mm: corners of the broken line, first corner at settlement (day 0).
    last_mm_d: growth after the last corner [mm per standard day].
    """

    days: Numbers
    lengths_mm: Numbers
    last_mm_d: float

    def length_mm(self, days: Numbers) -> Numbers:
        """Shell length after so many standard days [mm], same shape as days."""
        beyond = np.maximum(days - self.days[-1], 0.0) * self.last_mm_d
        return np.asarray(np.interp(days, self.days, self.lengths_mm) + beyond)

    def days_to(self, length_mm: float) -> float:
        """Standard days from settlement to that shell length [d]; 0 below settlement length."""
        beyond = max(length_mm - float(self.lengths_mm[-1]), 0.0) / self.last_mm_d
        return float(np.interp(length_mm, self.lengths_mm, self.days)) + beyond


def growth_path(species: Species) -> GrowthPath:
    """Growth path of the profile, from settlement through its three size classes."""
    corners = [("post_larva", 0), ("small_juvenile", 1), ("juvenile", 2)]
    lengths, days = [species.number("settlement.length_mm")], [0.0]
    rate = 0.0
    for name, _ in corners:
        until, rate = species.number(f"{name}.until_mm"), species.number(f"{name}.growth_mm_d")
        days.append(days[-1] + (until - lengths[-1]) / rate)
        lengths.append(until)
    return GrowthPath(np.array(days), np.array(lengths), rate)


def share_longer(
    standard_days: Numbers, days_needed: float, spread: Numbers, graded: Numbers | float = 0.0
) -> Numbers:
    """Share of the animals now present that have reached a length.

    standard_days: growth of the cohort so far [d]; days_needed: standard days to that length;
    spread: standard deviation of ln g; graded: share of the slowest already taken out (0 to 1).
    All broadcast. Returns 0 to 1.
    """
    with np.errstate(divide="ignore"):
        reached = ndtr(np.log(standard_days / days_needed) / spread)
    kept = 1.0 - np.asarray(graded)
    return np.minimum(reached, kept) / np.maximum(kept, 1e-12)


def middle_multiplier(spread: Numbers, graded: Numbers) -> Numbers:
    """Growth multiplier of the middle animal among those left after grading, same shape."""
    return np.asarray(np.exp(spread * ndtri((1.0 + graded) / 2.0)))


@dataclass(frozen=True, slots=True)
class Cover:
    """Floor that an animal needs: footprint factor times length squared, over the covered share.

    lengths_mm, shares: covered share of the floor by shell length, held flat outside.
    """

    factor: float
    lengths_mm: Numbers
    shares: Numbers

    def floor_m2(self, length_mm: Numbers) -> Numbers:
        """Floor for one animal of that shell length [m²], same shape."""
        share = np.interp(length_mm, self.lengths_mm, self.shares)
        return np.asarray(self.factor * length_mm**2 / share * 1e-6)


def cover(species: Species) -> Cover:
    """Floor rule of the profile."""
    names = {5.0: "cover.share_5_mm", 20.0: "cover.share_20_mm", 75.0: "cover.share_75_mm"}
    shares = np.array([species.number(name) for name in names.values()])
    return Cover(species.number("cover.factor"), np.array(list(names)), shares)
