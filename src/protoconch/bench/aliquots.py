"""Animals counted in small measures of well-mixed water, and what they say of the whole vessel."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from protoconch.bench.limits import Limits, clumped_limits, poisson_limits, spread_limits
from protoconch.errors import BadInput
from protoconch.units import not_negative, positive
from protoconch.words import phrase, say

CLUMPED_BELOW = 0.05
"""The chance of such uneven aliquots from animals at random, below which they count as clumped."""


@dataclass(frozen=True, slots=True)
class AliquotCount:
    """Animals in a vessel, from counts of aliquots.

    animals: in the whole vessel. per_l: animals per litre. limits: 95 % limits of `animals`.
    dispersion_p: chance of aliquots at least as uneven from animals spread at random, None where
        one aliquot or no animals cannot tell. clumped: that chance is below 0.05.
    rests_on: how the limits were found, "poisson" (random), "spread" (from the aliquots) or
        "clumping k" (known from past counts).
    """

    animals: float
    per_l: float
    mean_count: float
    limits: Limits
    dispersion_p: float | None
    clumped: bool
    rests_on: Literal["poisson", "spread", "clumping k"]


def aliquot_count(
    counts: Sequence[float],
    *,
    aliquot_ml: float,
    volume_l: float,
    clumping_k: float | None = None,
) -> AliquotCount:
    """Animals in a vessel from counts of equal aliquots.

    counts: animals in each aliquot, one or more. aliquot_ml: size of an aliquot [mL].
    volume_l: water in the vessel [L]. clumping_k: of the site, where many past counts give it.
    Returns: Poisson limits; where the aliquots differ more than chance allows (p < 0.05), limits
        from their own spread, never narrower than the Poisson ones. With `clumping_k`, negative
        binomial limits whatever the aliquots look like.
        Few aliquots often look even although the animals clump (5 aliquots of 20 with k = 12:
        in half of the cases), and then the Poisson limits hold in fewer than 95 cases of 100
        (88 there, measured). Only a clumping k pooled over many counts mends that.
    Raises: BadInput, naming the input.
    Source: Garwood 1936, Biometrika 28:437; Fisher 1925 for the dispersion test; Student 1908.
    """
    _check(counts, aliquot_ml, volume_l)
    aliquots, total = len(counts), sum(counts)
    chance = dispersion_p(counts)
    clumped = chance is not None and chance < CLUMPED_BELOW
    limits, rests_on = poisson_limits(total), "poisson"
    if clumping_k is not None:
        limits, rests_on = clumped_limits(total, aliquots, clumping_k), say("clumping k")
    elif clumped:
        limits, rests_on = limits.widest(spread_limits(counts).times(aliquots)), "spread"
    to_vessel = volume_l * 1000.0 / (aliquots * aliquot_ml)
    return AliquotCount(
        animals=total * to_vessel,
        per_l=total * 1000.0 / (aliquots * aliquot_ml),
        mean_count=total / aliquots,
        limits=limits.times(to_vessel),
        dispersion_p=chance,
        clumped=clumped,
        rests_on=rests_on,  # type: ignore[arg-type]
    )


def dispersion_p(counts: Sequence[float]) -> float | None:
    """Chance of aliquots at least as uneven as these from animals spread at random.

    counts: animals in each aliquot. Returns: None for a single aliquot, or where none was seen.
    Source: Fisher 1925, Statistical Methods for Research Workers: sum of (x - mean)² / mean
        against chi-square with one degree of freedom less than aliquots.
    """
    from scipy.special import gammaincc

    total = sum(counts)
    if len(counts) < 2 or total == 0:
        return None
    mean = total / len(counts)
    unevenness = sum((count - mean) ** 2 for count in counts) / mean
    return float(gammaincc((len(counts) - 1) / 2, unevenness / 2))


def clumping_k(counts: Sequence[float]) -> float:
    """Size of the negative binomial by moments; endless where the counts are as even as chance.

    Of use only with many counts: five aliquots alone say next to nothing about it.
    counts: animals in each aliquot, two or more.
    Raises: BadInput for fewer than two.
    Source: Elliott 1971, Freshwater Biological Association 25 (method of moments).
    """
    if len(counts) < 2:
        raise BadInput(say("One aliquot has no spread; count two or more."))
    mean = sum(counts) / len(counts)
    variance = sum((count - mean) ** 2 for count in counts) / (len(counts) - 1)
    return mean**2 / (variance - mean) if variance > mean else math.inf


def _check(counts: Sequence[float], aliquot_ml: float, volume_l: float) -> None:
    if not counts:
        raise BadInput(say("There are no counts; give the animals in each aliquot."))
    for count in counts:
        not_negative(count, "animals", phrase("count"))
    positive(aliquot_ml, "mL", phrase("aliquot"))
    positive(volume_l, "L", phrase("volume"))
    if len(counts) * aliquot_ml > volume_l * 1000.0:
        raise BadInput(
            say(
                "{counts} aliquots of {aliquot_ml:g} mL are more than the {volume_l:g} L "
                "in the vessel; the aliquot is in mL and the volume in L.",
                counts=len(counts),
                aliquot_ml=aliquot_ml,
                volume_l=volume_l,
            )
        )
