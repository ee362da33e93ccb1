"""How much counting is enough, and whether two counts differ."""

import math
from dataclasses import dataclass

from protoconch.bench.limits import CONFIDENCE, Limits
from protoconch.errors import BadInput, OutOfRange
from protoconch.units import positive
from protoconch.words import phrase, say


@dataclass(frozen=True, slots=True)
class Survival:
    """The share that is left between two counts, its limits, and whether the two counts differ."""

    share: float
    limits: Limits
    differ: bool


def aliquots_needed(
    mean_count: float,
    precision: float,
    *,
    clumping_k: float = math.inf,
    shared_error: float = 0.0,
) -> int:
    """Aliquots to count so that the standard error is at most `precision` of the mean.

    mean_count: animals expected in one aliquot. precision: wanted, as a share of the mean.
    clumping_k: size of the negative binomial; endless for animals at random.
    shared_error: error of the volume of the vessel and the like, as a share; more aliquots do
        not lessen it.
    Raises: OutOfRange; BadInput where the shared error alone is as large as the precision.
    Source: Elliott 1971, Freshwater Biological Association 25; n = (1/mean + 1/k) / D².
    """
    positive(mean_count, "animals", phrase("mean count"))
    positive(precision, "1", phrase("precision"))
    if not clumping_k > 0:
        raise OutOfRange(
            phrase("clumping k"), clumping_k, 0, math.inf, hint=phrase("It must be more than 0.")
        )
    left = precision**2 - shared_error**2
    if not left > 0:
        raise BadInput(
            say(
                "A precision of {precision:g} cannot be reached while the shared error is "
                "{shared_error:g}; measure the volume better.",
                precision=precision,
                shared_error=shared_error,
            )
        )
    wanted = (1 / mean_count + 1 / clumping_k) / left
    return max(1, math.ceil(wanted * (1 - 1e-9)))


def survival_between(
    first: float,
    second: float,
    *,
    first_factor: float = 1.0,
    second_factor: float = 1.0,
    confidence: float = CONFIDENCE,
) -> Survival:
    """Share that is left from one count to the next, with limits on the log scale.

    first, second: animals counted, each in all aliquots together, more than 0.
    first_factor, second_factor: what one counted animal stands for, volume of the vessel over
        volume counted.
    Returns: limits exp(ln(share) ± z √(1/first + 1/second)), for animals at random; `differ` is
        True where 1 lies outside them.
    Raises: OutOfRange.
    Source: delta method for the ratio of two Poisson counts (textbook).
    """
    positive(first, "animals", phrase("first count"))
    positive(second, "animals", phrase("second count"))
    positive(first_factor, "1", phrase("first factor"))
    positive(second_factor, "1", phrase("second factor"))
    share = second * second_factor / (first * first_factor)
    reach = math.exp(_z(confidence) * math.sqrt(1 / first + 1 / second))
    limits = Limits(share / reach, share * reach)
    return Survival(share, limits, differ=not limits.low <= 1 <= limits.high)


def second_count_that_differs(first: int, confidence: float = CONFIDENCE) -> int | None:
    """The largest second count, of the same volume, that shows a loss rather than chance.

    first: animals in the first count, all aliquots together, more than 0.
    Returns: None where even a second count of 1 could be chance.
    Raises: OutOfRange.
    Source: the limits of `survival_between`.
    """
    positive(first, "animals", phrase("first count"))
    for second in range(first - 1, 0, -1):
        if survival_between(first, second, confidence=confidence).differ:
            return second
    return None


def _z(confidence: float) -> float:
    from scipy.special import ndtri

    if not 0 < confidence < 1:
        raise OutOfRange(phrase("confidence"), confidence, 0, 1)
    return float(ndtri((1 + confidence) / 2))
