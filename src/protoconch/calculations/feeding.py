"""Food for the larvae: culture to pour in, days until a culture is dense enough."""

from protoconch.algae.culture import growing
from protoconch.algae.ration import ration_l
from protoconch.calculations.declaration import Calculation, Found, Result, number
from protoconch.words import say


def _ration(tank: float, wanted: float, present: float, culture: float) -> Found:
    added = ration_l(tank, wanted_per_ml=wanted, culture_per_ml=culture, present_per_ml=present)
    enough = say("The tank already holds the cells wanted, so nothing is added.")
    return Found({"add_l": added}, cautions=() if added else (enough,))


def _culture_days(start: float, wanted: float, growth: float) -> dict[str, float]:
    time = growing(start, wanted, growth)
    return {"days": time.days, "doublings": time.doublings}


CALCULATIONS = (
    Calculation(
        name="ration",
        purpose=say("Dense culture to add so that a tank holds the cells wanted."),
        inputs=(
            number("tank", "L", say("Water in the tank."), above=0),
            number("wanted", "cells/mL", say("Cells wanted in the tank."), low=0),
            number("present", "cells/mL", say("Cells left in the tank."), low=0, default=0.0),
            number("culture", "cells/mL", say("Cells in the culture."), above=0),
        ),
        results=(Result("add_l", "L", say("Culture to add.")),),
        function=_ration,
        sources=(say("Mixing of two volumes, the volume added counted"),),
        cautions=(
            say("Look at the residual under the microscope first, and keep to one species."),
        ),
    ),
    Calculation(
        name="culture-days",
        purpose=say("Days until a growing culture reaches the density wanted."),
        inputs=(
            number("start", "cells/mL", say("Cells at the start."), above=0),
            number("wanted", "cells/mL", say("Cells wanted."), above=0),
            number("growth", "per day", say("Growth rate; one doubling a day is 0.693."), above=0),
        ),
        results=(
            Result("days", "d", say("Days of growth.")),
            Result("doublings", "1", say("Times that the cells double.")),
        ),
        function=_culture_days,
        sources=(say("Exponential growth"),),
        cautions=(say("A culture slows as it grows dense and shaded: the days are the fewest."),),
    ),
)
