"""Cells counted under the microscope in a chamber of known geometry."""

import math
from dataclasses import dataclass

from protoconch.bench.limits import Limits, poisson_limits
from protoconch.errors import OutOfRange
from protoconch.units import not_negative, positive
from protoconch.words import phrase


@dataclass(frozen=True, slots=True)
class ChamberCount:
    """Cells of the culture from a count in a chamber.

    per_ml: cells in the culture [cells/mL]. limits: 95 % limits of it [cells/mL].
    in_chamber_per_ml: cells in what was put into the chamber [cells/mL].
    counted_ml: water looked at [mL].
    """

    per_ml: float
    limits: Limits
    in_chamber_per_ml: float
    counted_ml: float


def chamber_count(
    cells: float,
    squares: float,
    *,
    square_area_mm2: float,
    depth_mm: float,
    dilution: float = 1.0,
    fixative_share: float = 0.0,
) -> ChamberCount:
    """Cells per millilitre of a culture, from the geometry of the chamber.

    cells: cells counted in all the squares together. squares: how many squares.
    square_area_mm2: area of one square [mm²]. depth_mm: depth of the chamber [mm].
    dilution: volume after dilution over volume before [-], 1 or more.
    fixative_share: fixative added to each mL of sample [mL/mL].
    Returns: exact Poisson limits, which hold for cells spread at random.
    Raises: BadInput, naming the input.
    Source: geometry; limits Garwood 1936, Biometrika 28:437.
    """
    positive(squares, "1", phrase("squares"))
    positive(square_area_mm2, "mm²", phrase("square area"))
    positive(depth_mm, "mm", phrase("depth"))
    if not 1 <= dilution < math.inf:
        raise OutOfRange(
            phrase("dilution"), dilution, 1, math.inf, hint=phrase("Undiluted is 1, tenfold 10.")
        )
    not_negative(fixative_share, "mL/mL", phrase("fixative share"))
    counted_ml = squares * square_area_mm2 * depth_mm / 1000.0
    factor = dilution * (1.0 + fixative_share)
    return ChamberCount(
        per_ml=cells / counted_ml * factor,
        limits=poisson_limits(cells).times(factor / counted_ml),
        in_chamber_per_ml=cells / counted_ml,
        counted_ml=counted_ml,
    )
