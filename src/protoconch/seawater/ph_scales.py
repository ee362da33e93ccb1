"""The pH scales told apart: total, free and NBS readings of one water differ by 0.1 and more.

Every pH is turned to the total scale where it enters, so that no other module can mix them up.
"""

from math import exp, log, log10
from typing import Literal, get_args

from protoconch.errors import OutOfRange, UnknownName
from protoconch.seawater.ranges import within
from protoconch.seawater.teos10 import checked_salinity
from protoconch.words import phrase, say

PhScale = Literal["total", "free", "nbs"]
"""total: after Dickson 2007; free: hydrogen ions alone; nbs: a meter set in NBS or NIST buffers."""

SCALES: tuple[PhScale, ...] = get_args(PhScale)
LEAST_NBS_SALINITY = 20.0
"""The activity factor behind the NBS scale was fitted in seawater, from about this salinity on."""


def known_scale(name: str) -> PhScale:
    """The pH scale of that name.

    Raises: UnknownName.
    """
    for scale in SCALES:
        if scale == name.strip().lower():
            return scale
    raise UnknownName(
        say(
            "There is no pH scale {name!r}; say total, free or nbs. A meter set in "
            "ordinary buffers reads nbs.",
            name=name,
        )
    )


def ionic_strength(salinity: float) -> float:
    """Ionic strength of seawater [mol per kg of water].

    Source: Dickson, Sabine & Christian 2007, Guide to best practices for ocean CO2 measurements.
    """
    return 19.924 * salinity / (1000 - 1.005 * salinity)


def sulphate_mol_kg(salinity: float) -> float:
    """All sulphate [mol/kg]. Source: Morris & Riley 1966, as in Dickson et al. 2007."""
    return 0.14 / 96.062 * salinity / 1.80655


def fluoride_mol_kg(salinity: float) -> float:
    """All fluoride [mol/kg]. Source: Riley 1965, as in Dickson et al. 2007."""
    return 0.000067 / 18.998 * salinity / 1.80655


def bisulphate_constant(temperature_c: float, salinity: float) -> float:
    """Dissociation of bisulphate on the free scale [mol/kg].

    temperature_c: [°C]. salinity: practical salinity [-].
    Source: Dickson 1990, J. Chem. Thermodyn. 22:113, as in Dickson et al. 2007.
    """
    k, strength = temperature_c + 273.15, ionic_strength(salinity)
    return exp(
        -4276.1 / k
        + 141.328
        - 23.093 * log(k)
        + (-13856 / k + 324.57 - 47.986 * log(k)) * strength**0.5
        + (35474 / k - 771.54 + 114.723 * log(k)) * strength
        - 2698 / k * strength**1.5
        + 1776 / k * strength**2
        + log(1 - 0.001005 * salinity)
    )


def fluoride_constant(temperature_c: float, salinity: float) -> float:
    """Dissociation of hydrogen fluoride on the total scale [mol/kg].

    temperature_c: [°C]. salinity: practical salinity [-].
    Source: Perez & Fraga 1987, Mar. Chem. 21:161, as in Dickson et al. 2007.
    """
    return exp(874 / (temperature_c + 273.15) - 9.68 + 0.111 * salinity**0.5)


def free_minus_total(temperature_c: float, salinity: float) -> float:
    """What to add to a pH of the total scale to have it on the free scale [-].

    Raises: BadInput or OutOfRange.
    Source: definition of the total scale, Dickson et al. 2007.
    """
    within(phrase("temperature"), temperature_c, 0.0, 40.0, "°C")
    checked_salinity(salinity)
    bound = sulphate_mol_kg(salinity) / bisulphate_constant(temperature_c, salinity)
    return log10(1 + bound)


def nbs_minus_total(temperature_c: float, salinity: float) -> float:
    """What to add to a pH of the total scale to have what a meter set in NBS buffers reads [-].

    Electrodes differ by several hundredths, so this is no better than about 0.05.
    Raises: BadInput or OutOfRange, also below salinity 20.
    Source: activity factor of Takahashi et al. 1982, GEOSECS Pacific Expedition 3, from memory;
    seawater scale by Dickson et al. 2007.
    """
    within(phrase("temperature"), temperature_c, 0.0, 40.0, "°C")
    if checked_salinity(salinity) < LEAST_NBS_SALINITY:
        raise OutOfRange(
            phrase("salinity"),
            salinity,
            LEAST_NBS_SALINITY,
            42.0,
            "",
            phrase(
                "The NBS scale cannot be turned into another one in such fresh water; "
                "calibrate in seawater buffers."
            ),
        )
    sulphate = sulphate_mol_kg(salinity) / bisulphate_constant(temperature_c, salinity)
    fluoride_free = fluoride_constant(temperature_c, salinity) / (1 + sulphate)
    fluoride = fluoride_mol_kg(salinity) / fluoride_free
    t = temperature_c
    activity = (
        1.2948 - 0.002036 * (t + 273.15) + (0.0004607 - 1.475e-6 * (t + 273.15)) * salinity**2
    )
    # on the seawater scale hydrogen bound to fluoride counts too
    return -log10(activity * (1 + sulphate + fluoride) / (1 + sulphate))


def ph_on_total_scale(ph: float, scale: PhScale, temperature_c: float, salinity: float) -> float:
    """A pH reading on the total scale [-].

    ph: as read [-], 4 to 11. scale: the scale it was read on. temperature_c: [°C], 0 to 40.
    salinity: practical salinity [-], 0 to 42; from 20 on for nbs.
    Raises: BadInput or OutOfRange.
    Source: as free_minus_total and nbs_minus_total.
    """
    within("pH", ph, 4.0, 11.0)
    return ph - _offset(scale, temperature_c, salinity)


def ph_from_total_scale(ph: float, scale: PhScale, temperature_c: float, salinity: float) -> float:
    """A pH of the total scale as it reads on another scale [-]; the way back.

    ph: on the total scale [-], 4 to 11. Other inputs, errors and source as ph_on_total_scale.
    """
    within("pH", ph, 4.0, 11.0)
    return ph + _offset(scale, temperature_c, salinity)


def _offset(scale: PhScale, temperature_c: float, salinity: float) -> float:
    if scale == "free":
        return free_minus_total(temperature_c, salinity)
    if scale == "nbs":
        return nbs_minus_total(temperature_c, salinity)
    return 0.0
