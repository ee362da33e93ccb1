"""The calculations that stand alone: declared once, run from Python, a page or the command line.

    >>> from protoconch import calculations
    >>> found = calculations.run("ration", {"tank": "500 L", "wanted": 20000, "culture": "4e6"})
    >>> round(found.result["add_l"], 3), found.units["add_l"]
    (2.513, 'L')

To add one: a module in this folder, one for each subject, with a tuple `CALCULATIONS`. It is
found by being there. The physics stands in the folder of its domain; the module here declares:

    def _salinity_top_up(volume, salinity, target_salinity, top_up_salinity):
        return {"add_l": top_up_volume_l(volume, salinity, target_salinity, top_up_salinity)}

    CALCULATIONS = (
        Calculation(
            name="salinity-top-up",
            purpose="Fresh water that brings a tank down to the salinity wanted.",
            inputs=(
                number("volume", "L", "Water in the tank.", above=0),
                number("salinity", "psu", "Its practical salinity.", low=0, high=42),
                number("target_salinity", "psu", "The salinity wanted.", low=0, high=42),
                number("top_up_salinity", "psu", "Salinity of the water added.", low=0, default=0),
            ),
            results=(Result("add_l", "L", "Water to add."),),
            function=_salinity_top_up,
            sources=("salt balance by mass",),
        ),
    )

`function` is called with one keyword argument for each input, named by its key: a float in the
unit of the input (`number`), a tuple of floats (`numbers`), a tuple of pairs (`pairs`, typed as
"0:12, 60:8"), a text (`choice`). An input with `default=None` may be left out and then arrives
as None: `default_says` tells people what stands in ("from temperature and salinity"). A unit may
be anything that `protoconch.units` reads; "1" is a share or a plain number, "psu" practical
salinity, "% w/v" the strength of a stock. `function` returns a mapping from result key to float,
or None for a result that does not exist (the limit is never reached), or a `Found`, which adds
units of keys that only the answer knows, cautions and sources of this very answer. It raises the
classes of `protoconch.errors` where inputs do not go together. Import scipy and the like inside
functions, so that listing the calculations stays quick.
"""

from protoconch.calculations.declaration import (
    Calculation,
    Found,
    Input,
    Result,
    choice,
    number,
    numbers,
    pairs,
)
from protoconch.calculations.running import Answer, calculation, known, run

__all__ = [
    "Answer",
    "Calculation",
    "Found",
    "Input",
    "Result",
    "calculation",
    "choice",
    "known",
    "number",
    "numbers",
    "pairs",
    "run",
]
