"""Dense culture to pour into a tank so that it holds the cells wanted."""

from protoconch.errors import BadInput
from protoconch.units import not_negative, positive
from protoconch.words import say


def ration_l(
    tank_l: float, *, wanted_per_ml: float, culture_per_ml: float, present_per_ml: float = 0.0
) -> float:
    """Culture to add: V = Vt (Ct - Cr) / (Cc - Ct) [L].

    The culture is water too: what is poured in thins itself, and the formula counts it.
    tank_l: Vt, water in the tank [L]. wanted_per_ml: Ct, cells wanted [cells/mL].
    culture_per_ml: Cc, cells in the culture. present_per_ml: Cr, cells left from the last feed.
    Returns: 0 where the tank already holds the cells wanted.
    Raises: BadInput, naming the input; where the culture is too thin.
    Source: mixing of two volumes.
    """
    positive(tank_l, "L", "tank")
    positive(culture_per_ml, "cells/mL", "culture")
    not_negative(wanted_per_ml, "cells/mL", "wanted")
    not_negative(present_per_ml, "cells/mL", "present")
    if wanted_per_ml <= present_per_ml:
        return 0.0
    if culture_per_ml <= wanted_per_ml:
        raise BadInput(
            say(
                "Culture is {culture_per_ml:,.0f} cells/mL, too thin to bring a tank to "
                "{wanted_per_ml:,.0f} cells/mL; use a culture that is denser than what is wanted.",
                culture_per_ml=culture_per_ml,
                wanted_per_ml=wanted_per_ml,
            )
        )
    return tank_l * (wanted_per_ml - present_per_ml) / (culture_per_ml - wanted_per_ml)
