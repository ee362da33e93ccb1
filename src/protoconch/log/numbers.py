"""What a count says: the number with its limits, and how the site's animals clump."""

import math
from functools import cache

from protoconch.algae.counting import culture_count
from protoconch.bench.aliquots import aliquot_count
from protoconch.bench.chambers import chamber_count
from protoconch.bench.limits import Limits
from protoconch.log.chambers import chamber
from protoconch.log.payloads.algae import CultureCounted
from protoconch.log.payloads.animals import Counted, Measured
from protoconch.log.state import Clumping, Holding
from protoconch.sources.reading import load_table

Estimate = tuple[float, float, float]
"""A value with its lower and upper 95 % limit."""


@cache
def bound(name: str) -> float:
    """A number of sources/tables/log_ranges.toml."""
    return load_table("log_ranges")[name].number


def animals_counted(counted: Counted, clumping: Clumping) -> Estimate:
    """Animals of a vessel by a count; all three equal where all were counted.

    clumping: of the counts before; its k is used once there are enough of them.
    Raises: BadInput, where the aliquots are more than the water.
    """
    if counted.animals is not None:
        return counted.animals, counted.animals, counted.animals
    assert counted.aliquot_ml is not None  # noqa: S101 - the payload asks for it
    assert counted.litres is not None  # noqa: S101
    found = aliquot_count(
        counted.aliquots, aliquot_ml=counted.aliquot_ml, volume_l=counted.litres,
        clumping_k=pooled_k(clumping),
    )  # fmt: skip
    return found.animals, found.limits.low, found.limits.high


def pooled_k(clumping: Clumping) -> float | None:
    """Size of the negative binomial pooled over many counts; None while there are too few.

    Also None where the counts were as even as chance, so that each may show its own clumps.
    Source: moments summed over samples, from memory of Bliss & Owen 1958, Biometrika 45:37.
    """
    if clumping.counts < bound("ledger.counts_for_k") or not clumping.excess > 0:
        return None
    return max(clumping.squared_means / clumping.excess, bound("ledger.least_k"))


def with_count(clumping: Clumping, counted: Counted) -> Clumping:
    """The sums with one more count by aliquots; unchanged by a count that says nothing of it."""
    counts = counted.aliquots
    n, total = len(counts), sum(counts)
    if n < 2 or total == 0:
        return clumping
    mean = total / n
    variance = sum((count - mean) ** 2 for count in counts) / (n - 1)
    return Clumping(
        clumping.counts + 1,
        clumping.squared_means + max(0.0, mean**2 - variance / n),
        clumping.excess + variance - mean,
    )


def dead_counted(counted: Counted) -> int:
    """Dead animals of a vessel, where they were counted apart in the aliquots."""
    if not counted.dead or counted.aliquot_ml is None or counted.litres is None:
        return 0
    share = len(counted.dead) * counted.aliquot_ml / (counted.litres * 1000.0)
    return round(sum(counted.dead) / share)


def length_measured(measured: Measured) -> Estimate:
    """Mean shell length [mm] with the 95 % limits of the mean (normal, textbook)."""
    lengths = measured.lengths_mm
    if not lengths:
        assert measured.mean_mm is not None  # noqa: S101 - the payload asks for one of the two
        mean, sd, n = measured.mean_mm, measured.sd_mm, measured.animals or 0
    else:
        n, mean = len(lengths), sum(lengths) / len(lengths)
        sd = math.sqrt(sum((x - mean) ** 2 for x in lengths) / (n - 1)) if n > 1 else None
    reach = 1.959963985 * sd / math.sqrt(n) if sd is not None and n > 0 else 0.0
    return mean, max(0.0, mean - reach), mean + reach


def share_seen(part: int, of: int) -> Estimate:
    """A share with its exact 95 % limits.

    Source: Clopper & Pearson 1934, Biometrika 26:404.
    """
    from scipy.special import betaincinv

    low = float(betaincinv(part, of - part + 1, 0.025)) if part > 0 else 0.0
    high = float(betaincinv(part + 1, of - part, 0.975)) if part < of else 1.0
    return part / of, low, high


def whole_parts(total: int, weights: list[float]) -> list[int]:
    """A whole number of animals split by weight into whole numbers that add up to it."""
    if not sum(weights) > 0:
        weights = [1.0] * len(weights)
    shares = [total * weight / sum(weights) for weight in weights]
    parts = [math.floor(share) for share in shares]
    by_rest = sorted(range(len(parts)), key=lambda i: (parts[i] - shares[i], i))
    for i in by_rest[: total - sum(parts)]:
        parts[i] += 1
    return parts


def most_possible(holding: Holding) -> int:
    """The most animals that may be in a vessel though the ledger says fewer.

    A number that came from aliquots is sure only to its upper limit, and one that was put in is
    never sure; so up to a quarter more is no contradiction.
    """
    slack, last = bound("ledger.slack"), holding.last_count
    if last is not None and last.value > 0:
        slack = max(slack, last.high / last.value)
    return math.ceil(holding.alive * slack)


def cell_density(payload: CultureCounted) -> tuple[float, Limits]:
    """Cells per mL with 95 % limits; both limits the value itself where a density was read.

    Raises: UnknownName for a chamber that is not known.
    """
    if payload.cells_per_ml is not None:
        return payload.cells_per_ml, Limits(payload.cells_per_ml, payload.cells_per_ml)
    used = chamber(payload.chamber)
    counts = [
        chamber_count(
            cells, payload.squares or used.squares, square_area_mm2=used.square_mm2,
            depth_mm=used.depth_mm, dilution=payload.dilution,
        )
        for cells in payload.loadings
    ]  # fmt: skip
    if sum(payload.loadings) > 0:
        found = culture_count(counts, payload.loadings)
        return found.per_ml, found.limits
    return 0.0, Limits(0.0, max(one.limits.high for one in counts) / len(counts))
