"""Taking a part of a culture again and again, filled up with new medium each time."""

import math
from dataclasses import dataclass

from protoconch.errors import BadInput, OutOfRange
from protoconch.units import positive
from protoconch.words import say


@dataclass(frozen=True, slots=True)
class Taking:
    """A culture from which a part is taken every so often, once it has settled down.

    needed_per_d: growth rate that only just keeps up [per d]. before_per_ml: cells at each
    taking, 0 where the culture is washed out. per_ml_d: cells won for each mL of culture a day.
    """

    needed_per_d: float
    before_per_ml: float
    per_ml_d: float


def steady_taking(
    share: float, every_d: float, *, growth_per_d: float, peak_per_ml: float
) -> Taking:
    """What a culture gives when `share` of it is taken every `every_d` days.

    share: of the volume, 0 to 1. growth_per_d, peak_per_ml: of its logistic curve.
    Returns: with e = exp(-r τ), before = K (1 - f - e) / ((1 - f)(1 - e)); 0 at washout.
    Raises: BadInput, naming the input.
    Source: the logistic curve between takings, its steady state.
    """
    if not 0 < share < 1:
        raise OutOfRange(say("share taken"), share, 0, 1)
    positive(every_d, "days", say("days between takings"))
    positive(growth_per_d, "per day", "growth")
    positive(peak_per_ml, "cells/mL", "peak")
    left = 1 - share
    fallen = math.exp(-growth_per_d * every_d)
    before = max(0.0, peak_per_ml * (left - fallen) / (left * -math.expm1(-growth_per_d * every_d)))
    return Taking(-math.log(left) / every_d, before, share * before / every_d)


def most_from_taking(growth_per_d: float, peak_per_ml: float) -> float:
    """Ceiling of what taking can win, r K / 4 [cells/mL/d], at half the peak.

    Source: the logistic curve, continuous limit.
    """
    return growth_per_d * peak_per_ml / 4


def refuse_washout(taking: Taking, growth_per_d: float) -> None:
    """Raises: BadInput, where more is taken than grows back."""
    if taking.before_per_ml <= 0:
        raise BadInput(
            say(
                "The culture grows {growth_per_d:.2g} a day and the taking needs "
                "{needed_per_d:.2g} a day: it is washed out. Take less, or less often.",
                growth_per_d=growth_per_d,
                needed_per_d=taking.needed_per_d,
            )
        )
