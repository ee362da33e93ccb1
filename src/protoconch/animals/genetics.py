"""How many parents stand behind the animals released, and what their number costs in diversity.

Shares are those of the animals at release, not of eggs: one batch that does much better than the
others is the usual loss. The sires of an egg mass are not seen; one sire a mass is the cautious
assumption, more sires raise the number.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from protoconch.errors import BadInput, OutOfRange
from protoconch.units import not_negative, positive
from protoconch.words import say


@dataclass(frozen=True, slots=True)
class Breeders:
    """Parents behind a release.

    effective: effective number of breeders [-]. families: egg masses with animals in the release.
    equal_families: number of equal families that would be as diverse. largest_share: the largest
    part that one egg mass has in the release.
    """

    effective: float
    families: int
    equal_families: float
    largest_share: float


def breeders(contributions: Sequence[float], sires_per_mass: float = 1.0) -> Breeders:
    """Effective number of breeders from the animals that each egg mass has in the release.

    contributions: animals of each egg mass, 0 allowed for a mass that left none.
    sires_per_mass: sires that fathered each mass in equal parts, other sires for each mass.
    Returns: with shares p, the mothers count as 1/Σp² equal ones, the sires as that times the
        sires of a mass, and both together as Wright's two-sex number.
    Raises: BadInput where no animals are left; OutOfRange.
    Source: Wright 1938, Science 87:430; 1/Σp² as founder equivalents, Lacy 1989, Zoo Biol 8:111
        (both from memory).
    """
    for count in contributions:
        not_negative(count, "1", "contribution")
    total = sum(contributions)
    if total == 0:
        raise BadInput(say("No egg mass has animals in the release; give at least one above 0."))
    if not 1 <= sires_per_mass < math.inf:
        raise OutOfRange(say("sires per mass"), sires_per_mass, 1, math.inf)
    shares = [count / total for count in contributions]
    mothers = 1 / sum(share**2 for share in shares)
    return Breeders(
        effective=effective_size(mothers, mothers * sires_per_mass),
        families=sum(count > 0 for count in contributions),
        equal_families=mothers,
        largest_share=max(shares),
    )


def effective_size(females: float, males: float) -> float:
    """Effective number of breeders from the numbers of the two sexes: 4 F M / (F + M).

    females, males: parents, more than 0.
    Raises: OutOfRange.
    Source: Wright 1938, Science 87:430 (from memory).
    """
    positive(females, "1", "females")
    positive(males, "1", "males")
    return 4 * females * males / (females + males)


def effective_size_by_variance(parents: float, variance: float, mean: float = 2.0) -> float:
    """Effective size from the spread of family size: (N m - 1) / (m - 1 + V / m).

    parents: N. variance: V, variance among parents of offspring left. mean: m, mean offspring
    left by a parent; 2 where the stock keeps its size, which gives (4N - 2) / (V + 2).
    Raises: OutOfRange.
    Source: Crow & Kimura 1970, An Introduction to Population Genetics Theory (from memory).
    """
    if not 1 <= parents < math.inf:
        raise OutOfRange("parents", parents, 1, math.inf)
    not_negative(variance, "1", say("variance of family size"))
    if not 1 <= mean < math.inf:
        raise OutOfRange(say("mean family size"), mean, 1, math.inf)
    spread = mean - 1 + variance / mean
    if spread == 0:
        raise BadInput(say("With one offspring for each parent and no variance nothing is lost."))
    return (parents * mean - 1) / spread


def effective_size_after_release(
    hatchery_share: float, hatchery_effective: float, wild_effective: float
) -> float:
    """Effective size of the wild stock after a release: 1/Ne = x²/Nc + (1 - x)²/Nw.

    hatchery_share: x, part of the next generation that comes from the hatchery, 0 to 1.
    hatchery_effective: Nc, effective breeders of the release. wild_effective: Nw, of the wild.
    Raises: OutOfRange.
    Source: Ryman & Laikre 1991, Conserv Biol 5:325 (from memory).
    """
    if not 0 <= hatchery_share <= 1:
        raise OutOfRange(say("hatchery share"), hatchery_share, 0, 1)
    positive(hatchery_effective, "1", say("breeders of the hatchery"))
    positive(wild_effective, "1", say("breeders of the wild stock"))
    return 1 / (hatchery_share**2 / hatchery_effective + (1 - hatchery_share) ** 2 / wild_effective)


def largest_hatchery_share(
    hatchery_effective: float, wild_effective: float, least_effective: float
) -> float:
    """The largest part of the next generation from the hatchery that keeps an effective size.

    hatchery_effective, wild_effective: as in `effective_size_after_release`.
    least_effective: effective size to keep.
    Raises: BadInput where no share keeps it; OutOfRange.
    Source: the quadratic of Ryman & Laikre 1991 solved for the share.
    """
    positive(hatchery_effective, "1", say("breeders of the hatchery"))
    positive(wild_effective, "1", say("breeders of the wild stock"))
    positive(least_effective, "1", say("effective size to keep"))
    a = 1 / hatchery_effective + 1 / wild_effective
    half_b = -1 / wild_effective
    c = 1 / wild_effective - 1 / least_effective
    within = half_b**2 - a * c
    if within < 0:
        raise BadInput(
            say(
                "An effective size of {least_effective:g} is out of reach: the most that "
                "{hatchery_effective:g} and {wild_effective:g} breeders give together is "
                "{most:g}.",
                least_effective=least_effective,
                hatchery_effective=hatchery_effective,
                wild_effective=wild_effective,
                most=hatchery_effective + wild_effective,
            )
        )
    return min(1.0, (-half_b + math.sqrt(within)) / a)


def inbreeding_per_generation(effective: float) -> float:
    """Rise of inbreeding in one generation: 1 / (2 Ne).

    effective: effective size, more than 0.
    Raises: OutOfRange.
    Source: Wright 1931, Genetics 16:97 (from memory).
    """
    positive(effective, "1", say("effective size"))
    return 1 / (2 * effective)


def allele_kept(parents: float, frequency: float) -> float:
    """Chance that an allele of that frequency is among the parents: 1 - (1 - p)^(2N).

    parents: N, unrelated parents taken from the wild. frequency: p, 0 to 1.
    Raises: OutOfRange.
    Source: two draws for each parent from the wild stock (textbook).
    """
    not_negative(parents, "1", "parents")
    if not 0 <= frequency <= 1:
        raise OutOfRange("frequency", frequency, 0, 1)
    return float(1 - (1 - frequency) ** (2 * parents))
