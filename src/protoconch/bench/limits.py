"""The limits within which a true number lies, given what was counted."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from protoconch.errors import BadInput, OutOfRange
from protoconch.units import not_negative
from protoconch.words import phrase, say

CONFIDENCE = 0.95


@dataclass(frozen=True, slots=True)
class Limits:
    """A lower and an upper limit."""

    low: float
    high: float

    def times(self, factor: float) -> "Limits":
        """The same limits in another measure."""
        return Limits(self.low * factor, self.high * factor)

    def widest(self, other: "Limits") -> "Limits":
        """The limits that hold both."""
        return Limits(min(self.low, other.low), max(self.high, other.high))


def poisson_limits(counted: float, confidence: float = CONFIDENCE) -> Limits:
    """Exact limits of the number expected where `counted` animals lie at random.

    counted: animals or cells counted, 0 or more. confidence: between 0 and 1.
    Raises: OutOfRange.
    Source: Garwood 1936, Biometrika 28:437.
    """
    from scipy.special import gammainccinv, gammaincinv

    not_negative(counted, "animals", phrase("count"))
    tail = _tail(confidence)
    low = float(gammaincinv(counted, tail)) if counted > 0 else 0.0
    return Limits(low, float(gammainccinv(counted + 1, tail)))


def clumped_limits(
    counted: float, aliquots: int, clumping_k: float, confidence: float = CONFIDENCE
) -> Limits:
    """Exact limits of the number expected in all aliquots together where animals clump.

    counted: animals in all aliquots together. aliquots: how many.
    clumping_k: size of the negative binomial of one aliquot, known from many past counts; the
        smaller, the more clumped, and endless it gives the Poisson limits.
    Raises: OutOfRange.
    Source: negative binomial distribution function as an incomplete beta function, inverted
        (textbook); Elliott 1971, Freshwater Biological Association 25, for its use in counting.
    """
    from scipy.special import betaincinv

    not_negative(counted, "animals", phrase("count"))
    if not clumping_k > 0:
        raise OutOfRange(
            phrase("clumping k"), clumping_k, 0, math.inf, hint=phrase("It must be more than 0.")
        )
    if math.isinf(clumping_k):
        return poisson_limits(counted, confidence)
    size, tail = aliquots * clumping_k, _tail(confidence)
    high = float(betaincinv(size, counted + 1, tail))
    low = float(betaincinv(size, counted, 1 - tail)) if counted > 0 else 1.0
    return Limits(size * (1 - low) / low, size * (1 - high) / high)


def spread_limits(counts: Sequence[float], confidence: float = CONFIDENCE) -> Limits:
    """Limits of the number expected in one aliquot from the spread of the aliquots themselves.

    Needs no belief about clumping, so it serves where nothing is known of it; never below 0.
    counts: animals in each aliquot, two or more.
    Raises: BadInput for fewer than two.
    Source: Student 1908, Biometrika 6:1.
    """
    from scipy.special import stdtrit

    if len(counts) < 2:
        raise BadInput(say("One aliquot has no spread; count two or more."))
    mean = sum(counts) / len(counts)
    variance = sum((count - mean) ** 2 for count in counts) / (len(counts) - 1)
    reach = float(stdtrit(len(counts) - 1, 1 - _tail(confidence))) * math.sqrt(
        variance / len(counts)
    )
    return Limits(max(0.0, mean - reach), mean + reach)


def summed_limits(
    counts: Sequence[float], factors: Sequence[float], confidence: float = CONFIDENCE
) -> Limits:
    """Limits of a total over several tanks, each counted on its own, the animals at random.

    counts: animals counted in each tank. factors: what one counted animal stands for there,
        the volume of the tank over the volume counted; same length.
    Raises: OutOfRange; BadInput where the lists do not fit.
    Source: Fay & Feuer 1997, Statistics in Medicine 16:791.
    """
    from scipy.special import gammainccinv, gammaincinv

    if len(counts) != len(factors) or not counts:
        raise BadInput(
            say(
                "{counts} counts and {factors} factors; give one for each tank.",
                counts=len(counts),
                factors=len(factors),
            )
        )
    for count, factor in zip(counts, factors, strict=True):
        not_negative(count, "animals", phrase("count"))
        not_negative(factor, "1", phrase("factor"))
    tail = _tail(confidence)
    total = sum(count * factor for count, factor in zip(counts, factors, strict=True))
    variance = sum(count * factor**2 for count, factor in zip(counts, factors, strict=True))
    most = max(factors)
    low = variance / total * gammaincinv(total**2 / variance, tail) if total > 0 else 0.0
    next_total, next_variance = total + most, variance + most**2
    high = next_variance / next_total * gammainccinv(next_total**2 / next_variance, tail)
    return Limits(float(low), float(high))


def _tail(confidence: float) -> float:
    if not 0 < confidence < 1:
        raise OutOfRange(phrase("confidence"), confidence, 0, 1)
    return (1 - confidence) / 2
