"""How long a culture grows from one density to another, while nothing holds it back."""

import math
from dataclasses import dataclass

from protoconch.errors import BadInput
from protoconch.units import positive
from protoconch.words import say


@dataclass(frozen=True, slots=True)
class Growing:
    """Days of growth, and how often the cells double in them."""

    days: float
    doublings: float


def growing(start_per_ml: float, wanted_per_ml: float, growth_per_day: float) -> Growing:
    """Time for a culture to grow exponentially: t = ln(wanted / start) / growth.

    start_per_ml, wanted_per_ml: cells at the start and at the end [cells/mL].
    growth_per_day: growth rate μ [per day]; one doubling a day is 0.693.
    Raises: BadInput where less is wanted than there is, or not above 0.
    Source: exponential growth (textbook); a real culture slows as it grows dense.
    """
    positive(start_per_ml, "cells/mL", "start")
    positive(wanted_per_ml, "cells/mL", "wanted")
    positive(growth_per_day, "per day", "growth")
    if wanted_per_ml < start_per_ml:
        raise BadInput(
            say(
                "Wanted is {wanted_per_ml:,.0f} cells/mL, less than the {start_per_ml:,.0f} "
                "cells/mL at the start; give the denser one as wanted.",
                wanted_per_ml=wanted_per_ml,
                start_per_ml=start_per_ml,
            )
        )
    growth = math.log(wanted_per_ml / start_per_ml)
    return Growing(growth / growth_per_day, growth / math.log(2))
