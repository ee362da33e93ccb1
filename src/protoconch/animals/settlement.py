"""Doses of the chemicals that bring competent larvae to settle."""

from protoconch.errors import OutOfRange
from protoconch.units import positive
from protoconch.words import say

PEROXIDE_G_MOL = 34.014
POTASSIUM_CHLORIDE_G_MOL = 74.548
"""Molar masses [g/mol], from the abridged standard atomic weights of IUPAC 2021 (Prohaska et al.
2022, Pure Appl Chem 94:573, from memory): H 1.008, O 15.999, K 39.098, Cl 35.45."""

PEROXIDE_CAUTIONS = (
    say("Hydrogen peroxide burns skin and eyes and feeds fire: wear gloves and goggles."),
    say("Pour peroxide into the water, not water into peroxide; keep it vented, away from metal."),
    say("Its safety data sheet and local rules come first."),
    say("Peroxide loses strength with age: test each bottle on about 50 larvae before a tank."),
    say("Rinse the larvae in fresh seawater after the time of exposure."),
)
"""Common practice, no source."""


def peroxide_volume_ml(volume_l: float, dose_um: float, strength_w_v: float) -> float:
    """Hydrogen peroxide stock to add to a tank [mL].

    volume_l: water in the tank [L]. dose_um: dose wanted [µM].
    strength_w_v: strength of the stock [g per 100 mL].
    Returns: the volume added is left out of the volume of the tank, a few parts in 100,000.
    Raises: BadInput, naming the input.
    Source: molar mass from IUPAC 2021; arithmetic.
    """
    positive(volume_l, "L", "volume")
    positive(dose_um, "µM", "dose")
    if not 0 < strength_w_v <= 100:
        raise OutOfRange(
            "strength", strength_w_v, 0, 100, "% w/v", say("Bottles say 3, 6, 30 or 35.")
        )
    molar = strength_w_v * 10.0 / PEROXIDE_G_MOL
    return volume_l * dose_um * 1e-6 / molar * 1000.0


def potassium_chloride_g(volume_l: float, dose_mm: float) -> float:
    """Potassium chloride to add to a tank [g].

    volume_l: water in the tank [L]. dose_mm: dose above that of seawater [mM].
    Raises: BadInput, naming the input.
    Source: molar mass from IUPAC 2021; arithmetic.
    """
    positive(volume_l, "L", "volume")
    positive(dose_mm, "mM", "dose")
    return volume_l * dose_mm * 1e-3 * POTASSIUM_CHLORIDE_G_MOL
