"""How much of the old water is left after an exchange."""

from math import exp, log

from protoconch.seawater.ranges import within
from protoconch.words import phrase


def left_after_flush(volumes: float) -> float:
    """Share of the old water [-] left in a stirred tank flushed with so many tank volumes [-].

    Source: dilution of a stirred tank.
    """
    return exp(-within(phrase("the volumes run through"), volumes, 0.0, 1e6))


def volumes_for_exchange(exchanged: float) -> float:
    """Tank volumes [-] to run through so that a share of the old water is gone [-].

    exchanged: 0 to below 1. Raises: OutOfRange.
    """
    return -log(1 - within(phrase("the share exchanged"), exchanged, 0.0, 0.999999))


def left_after_batches(share: float, times: int) -> float:
    """Share of the old water [-] left after a share was drained and refilled so many times."""
    within(phrase("the share changed"), share, 0.0, 1.0)
    within(phrase("the number of changes"), times, 0, 1000)
    return float((1 - share) ** times)
