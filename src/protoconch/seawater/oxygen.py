"""Oxygen that seawater holds when the air above it and the water agree."""

from protoconch.seawater.evaporation import vapour_pressure_kpa
from protoconch.seawater.ranges import within
from protoconch.seawater.state import density_kg_m3
from protoconch.seawater.teos10 import checked_salinity, gibbs_seawater
from protoconch.words import phrase

GRAMS_PER_MOLE = 31.9988
"""Molar mass of O2 (IUPAC atomic weights) [g/mol]."""
STANDARD_PRESSURE_KPA = 101.325


def oxygen_saturation_umol_kg(
    temperature_c: float, salinity: float, pressure_kpa: float = STANDARD_PRESSURE_KPA
) -> float:
    """Oxygen in air-saturated seawater [µmol/kg].

    temperature_c: in-situ temperature on the scale of 1990 [°C], 0 to 40; the published fit is on
        the older scale and is fed t × 1.00024.
    salinity: practical salinity [-], 0 to 42.
    pressure_kpa: total pressure of the moist air [kPa], 50 to 120.
    Raises: BadInput or OutOfRange.
    Source: Garcia & Gordon 1992, Limnol. Oceanogr. 37:1307, fit to Benson & Krause 1984.
    """
    within(phrase("temperature"), temperature_c, 0.0, 40.0, "°C")
    within(
        phrase("air pressure"),
        pressure_kpa,
        50.0,
        120.0,
        "kPa",
        phrase("In hPa or mbar divide by 10."),
    )
    at_standard = float(gibbs_seawater().O2sol_SP_pt(checked_salinity(salinity), temperature_c))
    vapour = vapour_pressure_kpa(temperature_c, salinity)
    return at_standard * (pressure_kpa - vapour) / (STANDARD_PRESSURE_KPA - vapour)


def oxygen_saturation_mg_l(
    temperature_c: float, salinity: float, pressure_kpa: float = STANDARD_PRESSURE_KPA
) -> float:
    """Oxygen in air-saturated seawater [mg/L].

    temperature_c: [°C], 0 to 40. salinity: practical salinity [-], 0 to 42.
    pressure_kpa: total pressure of the moist air [kPa], 50 to 120.
    Raises: BadInput or OutOfRange.
    Source: Garcia & Gordon 1992, Limnol. Oceanogr. 37:1307; density by TEOS-10.
    """
    umol_kg = oxygen_saturation_umol_kg(temperature_c, salinity, pressure_kpa)
    return umol_kg * density_kg_m3(temperature_c, salinity) * GRAMS_PER_MOLE * 1e-6
