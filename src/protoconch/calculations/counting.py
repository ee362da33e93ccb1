"""Counts of the bench: cells in a chamber, animals in aliquots."""

from protoconch.bench.aliquots import aliquot_count
from protoconch.bench.chambers import chamber_count
from protoconch.calculations.declaration import Calculation, Found, Result, number, numbers
from protoconch.words import say

GARWOOD = "Exact Poisson limits: Garwood 1936, Biometrika 28:437"


def _chamber_count(
    cells: float,
    squares: float,
    square_area: float,
    depth: float,
    dilution: float,
    fixative_share: float,
) -> Found:
    count = chamber_count(
        cells,
        squares,
        square_area_mm2=square_area,
        depth_mm=depth,
        dilution=dilution,
        fixative_share=fixative_share,
    )
    values = {
        "cells_per_ml": count.per_ml,
        "low_95": count.limits.low,
        "high_95": count.limits.high,
    }
    mean = say(
        "Cells is not whole, so it is a mean: give the cells and the squares of all counts "
        "together, or the limits are too wide."
    )
    return Found(values, cautions=(mean,) if cells % 1 else ())


def _aliquot_count(counts: tuple[float, ...], aliquot: float, volume: float) -> Found:
    count = aliquot_count(counts, aliquot_ml=aliquot, volume_l=volume)
    values = {
        "animals": count.animals,
        "per_l": count.per_l,
        "low_95": count.limits.low,
        "high_95": count.limits.high,
        "dispersion_p": count.dispersion_p,
    }
    return Found(values, cautions=(_how_spread(count.dispersion_p, clumped=count.clumped),))


def _how_spread(chance: float | None, *, clumped: bool) -> str:
    if chance is None:
        return say("Nothing here tells whether the animals clump; the limits take them as random.")
    if clumped:
        return say(
            "The aliquots differ more than chance allows (p = {chance:.2g}): the "
            "animals are over-dispersed, so the limits rest on the spread of the "
            "aliquots (Student's t), not on Poisson. Mix better and count again, or "
            "count more aliquots.",
            chance=chance,
        )
    return say(
        "The aliquots are as even as chance makes them (p = {chance:.2g}), so the "
        "limits take the animals as random; few aliquots may hide that animals "
        "clump, and then the truth lies outside more often.",
        chance=chance,
    )


CALCULATIONS = (
    Calculation(
        name="chamber-count",
        purpose=say("Cells per millilitre of a culture from a count in a chamber."),
        inputs=(
            number("cells", "cells", say("Cells counted, all squares together."), low=0),
            number("squares", "1", say("Squares in which they were counted."), above=0),
            number("square_area", "mm2", say("Area of one square."), above=0, high=2500),
            number("depth", "mm", say("Depth of the chamber."), above=0, high=10),
            number("dilution", "1", say("Volume after dilution over before."), low=1, default=1.0),
            number(
                "fixative_share",
                "mL/mL",
                say("Fixative added to each mL of sample."),
                low=0,
                high=10,
                default=0.0,
            ),
        ),
        results=(
            Result("cells_per_ml", "cells/mL", say("Cells in the culture.")),
            Result("low_95", "cells/mL", say("Lower 95 % limit.")),
            Result("high_95", "cells/mL", say("Upper 95 % limit.")),
        ),
        function=_chamber_count,
        sources=(say("Geometry of the chamber"), GARWOOD),
        cautions=(say("The limits hold for cells spread at random; clumps make them too narrow."),),
    ),
    Calculation(
        name="aliquot-count",
        purpose=say("Animals in a vessel from counts of equal aliquots of its well-mixed water."),
        inputs=(
            numbers("counts", "animals", say("Animals in each aliquot."), low=0, whole=True),
            number("aliquot", "mL", say("Size of one aliquot."), above=0),
            number("volume", "L", say("Water in the vessel."), above=0),
        ),
        results=(
            Result("animals", "animals", say("Animals in the vessel.")),
            Result("per_l", "animals/L", say("Animals per litre.")),
            Result("low_95", "animals", say("Lower 95 % limit of the animals in the vessel.")),
            Result("high_95", "animals", say("Upper 95 % limit of the animals in the vessel.")),
            Result(
                "dispersion_p", "1", say("Chance of aliquots as uneven from animals at random.")
            ),
        ),
        function=_aliquot_count,
        sources=(
            GARWOOD,
            "Dispersion test: Fisher 1925, Statistical Methods for Research Workers",
        ),
    ),
)
