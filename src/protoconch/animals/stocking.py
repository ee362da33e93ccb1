"""How many animals to begin with, and the tanks they need; how many are left after some days."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from protoconch.errors import BadInput, OutOfRange
from protoconch.units import not_negative, positive
from protoconch.words import say


@dataclass(frozen=True, slots=True)
class Stocking:
    """Animals to begin with, the tanks for them, and the survival of the whole way."""

    start_animals: int
    tanks: int
    survival: float


def stocking(
    wanted: float, survivals: Sequence[float], *, density_per_l: float, tank_l: float
) -> Stocking:
    """Animals to stock for so many at the end, and the tanks that hold them.

    wanted: animals at the end. survivals: share that survives each stage, in any order, each
    above 0 and up to 1. density_per_l: animals per litre at stocking. tank_l: water of a tank [L].
    Returns: the middle of what to expect: half of the seasons stocked so end with fewer.
    Raises: BadInput, OutOfRange, naming the input.
    Source: arithmetic.
    """
    positive(wanted, "animals", "wanted")
    positive(density_per_l, "per L", "density")
    positive(tank_l, "L", "tank")
    if not survivals:
        raise BadInput(say("There is no survival; give the share that survives each stage."))
    for share in survivals:
        if not 0 < share <= 1:
            raise OutOfRange(
                "survival", share, 0, 1, hint=say("It is a share, such as 0.3 or 30 %.")
            )
    survival = math.prod(survivals)
    start = _rounded_up(wanted / survival)
    return Stocking(start, _rounded_up(start / (density_per_l * tank_l)), survival)


def animals_left(animals: float, mortality_per_day: float, days: float) -> float:
    """Animals alive after some days of constant mortality: N exp(-z t).

    animals: at the start. mortality_per_day: z [per day]. days: t [d].
    Raises: BadInput, naming the input.
    Source: constant hazard (textbook).
    """
    not_negative(animals, "1", "animals")
    not_negative(mortality_per_day, "per day", "mortality")
    not_negative(days, "d", "time")
    return animals * math.exp(-mortality_per_day * days)


def _rounded_up(value: float) -> int:
    """The next whole number, where a rounding error of the machine does not add one."""
    return math.ceil(value * (1 - 1e-12))
