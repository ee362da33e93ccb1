"""Water that leaves a tank into the air."""

from math import exp

from protoconch.seawater.ranges import within
from protoconch.seawater.state import heat_of_evaporation_j_kg
from protoconch.seawater.teos10 import gibbs_seawater, reference_salinity_g_kg
from protoconch.words import phrase

_AIR_PRESSURE_KPA = 101.325


def water_activity(temperature_c: float, salinity: float) -> float:
    """Share [-] of the fresh-water vapour pressure that stands over seawater.

    temperature_c: [°C], 0 to 40. salinity: practical salinity [-], 0 to 42.
    Raises: BadInput or OutOfRange.
    Source: chemical potential of water, IOC, SCOR & IAPSO 2010 (TEOS-10).
    """
    t = within(phrase("temperature"), temperature_c, 0.0, 40.0, "°C")
    potential = gibbs_seawater().chem_potential_water_t_exact
    salt = reference_salinity_g_kg(salinity)
    lowered_j_kg = 1000 * float(potential(salt, t, 0.0) - potential(0.0, t, 0.0))
    return exp(lowered_j_kg / 1000 * 18.01528 / (8.314462618 * (t + 273.15)))


def vapour_pressure_kpa(temperature_c: float, salinity: float = 0.0) -> float:
    """Pressure of water vapour over still water [kPa].

    temperature_c: [°C], 0 to 40. salinity: practical salinity [-], 0 to 42.
    Raises: BadInput or OutOfRange.
    Source: Wagner & Pruss 1993, J. Phys. Chem. Ref. Data 22:783 (IAPWS); times the water activity.
    """
    t = within(phrase("temperature"), temperature_c, 0.0, 40.0, "°C")
    critical_k, critical_kpa = 647.096, 22_064.0
    x = 1 - (t + 273.15) / critical_k
    series = (
        -7.85951783 * x
        + 1.84408259 * x**1.5
        - 11.7866497 * x**3
        + 22.6807411 * x**3.5
        - 15.9618719 * x**4
        + 1.80122502 * x**7.5
    )
    fresh = critical_kpa * exp(critical_k / (t + 273.15) * series)
    return fresh * water_activity(t, salinity) if salinity else fresh


def evaporation_kg_m2_h(
    water_c: float, air_c: float, relative_humidity: float, wind_m_s: float, salinity: float = 0.0
) -> float:
    """Water lost from an open surface with moving air [kg/(m² h)]; never below zero.

    water_c, air_c: [°C], 0 to 40. relative_humidity: of the air, share [-], 0 to 1.
    wind_m_s: air speed over the surface [m/s], 0 to 5. salinity: practical salinity [-].
    Raises: BadInput or OutOfRange.
    Source: ASHRAE natatorium form of Carrier 1918, from memory of the handbook; a still, unused
    surface loses about half of it.
    """
    humid = within(
        phrase("relative humidity"), relative_humidity, 0.0, 1.0, "", phrase("Give 60 % as 0.6.")
    )
    within(phrase("wind"), wind_m_s, 0.0, 5.0, "m/s")
    difference_kpa = vapour_pressure_kpa(water_c, salinity) - humid * vapour_pressure_kpa(air_c)
    latent_kj_kg = heat_of_evaporation_j_kg(water_c, 0.0) / 1000
    return max(0.0, 3600 * difference_kpa * (0.089 + 0.0782 * wind_m_s) / latent_kj_kg)


def still_evaporation_kg_m2_h(
    water_c: float, air_c: float, relative_humidity: float, salinity: float = 0.0
) -> float:
    """Water lost from an undisturbed surface indoors [kg/(m² h)]; never below zero.

    water_c, air_c: [°C], 0 to 40. relative_humidity: of the air, share [-], 0 to 1.
    Raises: BadInput or OutOfRange.
    Source: Shah 2014, ASHRAE Trans. 120, constants from memory, densities of dry air per volume of
    moist air as there; mean deviation 18 % over pools.
    """
    humid = within(
        phrase("relative humidity"), relative_humidity, 0.0, 1.0, "", phrase("Give 60 % as 0.6.")
    )
    at_water, in_air = vapour_pressure_kpa(water_c, salinity), humid * vapour_pressure_kpa(air_c)
    difference = _dry_air_kg_m3(air_c, in_air) - _dry_air_kg_m3(water_c, at_water)
    driven_by_weight = 0.0
    if difference > 0:
        constant = 35.0 if difference > 0.02 else 40.0
        driven_by_weight = (
            constant
            * _dry_air_kg_m3(water_c, at_water)
            * difference ** (1 / 3)
            * (_kg_water_per_kg_air(at_water) - _kg_water_per_kg_air(in_air))
        )
    driven_by_draught = 5e-5 * 1000 * (at_water - in_air)
    return max(0.0, driven_by_weight, driven_by_draught)


def _kg_water_per_kg_air(vapour_kpa: float) -> float:
    return 0.621945 * vapour_kpa / (_AIR_PRESSURE_KPA - vapour_kpa)


def _dry_air_kg_m3(temperature_c: float, vapour_kpa: float) -> float:
    return (_AIR_PRESSURE_KPA - vapour_kpa) / (0.287055 * (temperature_c + 273.15))
