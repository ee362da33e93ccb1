"""Food for the larvae: culture to pour in, days until a culture is dense enough."""

from protoconch.algae.culture import growing
from protoconch.algae.ration import ration_l
from protoconch.calculations.declaration import Calculation, Found, Result, number


def _ration(tank: float, wanted: float, present: float, culture: float) -> Found:
    added = ration_l(tank, wanted_per_ml=wanted, culture_per_ml=culture, present_per_ml=present)
    enough = "The tank already holds the cells wanted, so nothing is added."
    return Found({"add_l": added}, cautions=() if added else (enough,))


def _culture_days(start: float, wanted: float, growth: float) -> dict[str, float]:
    time = growing(start, wanted, growth)
    return {"days": time.days, "doublings": time.doublings}


CALCULATIONS = (
    Calculation(
        name="ration",
        purpose="Dense culture to add so that a tank holds the cells wanted.",
        inputs=(
            number("tank", "L", "Water in the tank.", above=0),
            number("wanted", "cells/mL", "Cells wanted in the tank.", low=0),
            number("present", "cells/mL", "Cells left in the tank.", low=0, default=0.0),
            number("culture", "cells/mL", "Cells in the culture.", above=0),
        ),
        results=(Result("add_l", "L", "Culture to add."),),
        function=_ration,
        sources=("Mixing of two volumes, the volume added counted",),
        cautions=("Look at the residual under the microscope first, and keep to one species.",),
    ),
    Calculation(
        name="culture-days",
        purpose="Days until a growing culture reaches the density wanted.",
        inputs=(
            number("start", "cells/mL", "Cells at the start.", above=0),
            number("wanted", "cells/mL", "Cells wanted.", above=0),
            number("growth", "per day", "Growth rate; one doubling a day is 0.693.", above=0),
        ),
        results=(
            Result("days", "d", "Days of growth."),
            Result("doublings", "1", "Times that the cells double."),
        ),
        function=_culture_days,
        sources=("Exponential growth",),
        cautions=("A culture slows as it grows dense and shaded: the days are the fewest.",),
    ),
)
