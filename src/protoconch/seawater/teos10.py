"""The one door to the TEOS-10 library (gsw); it is loaded when first asked for."""

from functools import cache
from importlib import import_module
from typing import Any

from protoconch.seawater.ranges import within
from protoconch.words import phrase, say

LEAST_C, MOST_C = -2.0, 40.0
LEAST_SALINITY, MOST_SALINITY = 0.0, 42.0


@cache
def gibbs_seawater() -> Any:
    """The TEOS-10 library, loaded once; it carries no types."""
    return import_module("gsw")


def checked_temperature(temperature_c: float) -> float:
    """The temperature, where TEOS-10 covers it: -2 to 40 [°C].

    Raises: BadInput or OutOfRange.
    """
    return within(phrase("temperature"), temperature_c, LEAST_C, MOST_C, "°C")


def checked_salinity(salinity: float) -> float:
    """The practical salinity, where the formulas cover it: 0 to 42 [-].

    Raises: BadInput or OutOfRange.
    """
    hint = (
        say("Did you mean {salinity:g}?", salinity=salinity / 10) if 100 < salinity <= 420 else ""
    )
    return within(phrase("salinity"), salinity, LEAST_SALINITY, MOST_SALINITY, "", hint)


def reference_salinity_g_kg(salinity: float) -> float:
    """Reference salinity [g/kg], the mass of salt in a kilogram of standard seawater.

    salinity: practical salinity [-], 0 to 42.
    Raises: BadInput or OutOfRange.
    Source: Millero et al. 2008, Deep-Sea Res. I 55:50; IOC, SCOR & IAPSO 2010 (TEOS-10).
    """
    return float(gibbs_seawater().SR_from_SP(checked_salinity(salinity)))
