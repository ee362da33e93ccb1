"""How long an animal is after so many standard days, and how much floor it covers.

One standard day is a day of growth at the reference temperature by an animal of median growth.
Each animal keeps one growth multiplier g for life, ln g normal with standard deviation `spread`:
after t standard days of its cohort it is as long as the median animal after g*t. So the size
distribution of a cohort stays a closed form at any time, and grading out the slowest only cuts
off its lower end (individual variation as in Sainsbury 1980, Can J Fish Aquat Sci 37:241, from
memory).
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

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


def growth_path(number: Callable[[str], float]) -> GrowthPath:
    """Growth path from settlement through the three size classes of a profile.

    number: the planning value of a name, e.g. Species.number.
    """
    lengths, days = [number("settlement.length_mm")], [0.0]
    rate = 0.0
    for name in ("post_larva", "small_juvenile", "juvenile"):
        until, rate = number(f"{name}.until_mm"), number(f"{name}.growth_mm_d")
        days.append(days[-1] + (until - lengths[-1]) / rate)
        lengths.append(until)
    return GrowthPath(np.array(days), np.array(lengths), rate)


def share_longer(standard_days: Numbers, days_needed: float, spread: Numbers) -> Numbers:
    """Share of an untouched cohort that has reached a length, 0 to 1.

    standard_days: growth of the cohort so far [d]; days_needed: standard days to that length;
    spread: standard deviation of ln g. All broadcast.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(ndtr(np.log(standard_days / days_needed) / spread))


def share_longer_of_rest(longer: Numbers, graded: Numbers, handed_over: Numbers) -> Numbers:
    """Share of the animals still there that have reached a length, 0 to 1.

    longer: that share of the untouched cohort; graded: share of the cohort, its slowest, taken
    out before; handed_over: share of the cohort, its fastest, handed over before. All broadcast.
    """
    rest = np.maximum(1.0 - graded - handed_over, 1e-12)
    return np.asarray(np.clip((np.minimum(longer, 1.0 - graded) - handed_over) / rest, 0.0, 1.0))


def middle_multiplier(spread: Numbers, graded: Numbers, handed_over: Numbers) -> Numbers:
    """Growth multiplier of the middle animal among those still there, same shape."""
    middle = np.clip((1.0 + graded - handed_over) / 2.0, 1e-9, 1.0 - 1e-9)
    return np.asarray(np.exp(spread * ndtri(middle)))


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


def cover(number: Callable[[str], float]) -> Cover:
    """Floor rule of a profile; number: the planning value of a name, e.g. Species.number."""
    names = {5.0: "cover.share_5_mm", 20.0: "cover.share_20_mm", 75.0: "cover.share_75_mm"}
    shares = np.array([number(name) for name in names.values()])
    return Cover(number("cover.factor"), np.array(list(names)), shares)
