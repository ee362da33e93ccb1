"""Constants of the carbonate system in seawater, total scale, after the guide of 2007.

All hold for 2 to 35 °C and salinity 19 to 43 unless said; units mol per kg of seawater.
Source of every equation, unless said: Dickson, Sabine & Christian 2007, Guide to best practices
for ocean CO2 measurements, PICES Special Publication 3.
"""

from dataclasses import dataclass
from math import exp, log, log10

from protoconch.seawater.ranges import within
from protoconch.seawater.teos10 import checked_salinity
from protoconch.words import phrase

LEAST_SALINITY = 19.0
LEAST_C, MOST_C = 2.0, 35.0


@dataclass(frozen=True, slots=True)
class CarbonateConstants:
    """The constants at one temperature and salinity.

    k0: solubility of CO2 [mol/(kg atm)]. k1, k2: carbonic acid [mol/kg]. kb: boric acid [mol/kg].
    kw: water [mol²/kg²]. borate, calcium: all boron and all calcium [mol/kg].
    aragonite, calcite: solubility products [mol²/kg²].
    fugacity: fugacity of CO2 over its partial pressure [-].
    """

    k0: float
    k1: float
    k2: float
    kb: float
    kw: float
    borate: float
    calcium: float
    aragonite: float
    calcite: float
    fugacity: float


def carbonate_constants(temperature_c: float, salinity: float) -> CarbonateConstants:
    """All constants at one temperature and salinity.

    temperature_c: [°C], 2 to 35. salinity: practical salinity [-], 19 to 42.
    Raises: BadInput or OutOfRange.
    Source: K0 Weiss 1974; K1, K2 Lueker et al. 2000; KB Dickson 1990; KW Millero 1995; solubility
    Mucci 1983; boron Uppström 1974; fugacity Weiss 1974; all but Mucci's and the fugacity as
    written in Dickson et al. 2007.
    """
    t = within(phrase("temperature"), temperature_c, LEAST_C, MOST_C, "°C")
    s = within(
        phrase("salinity"),
        checked_salinity(salinity),
        LEAST_SALINITY,
        42.0,
        "",
        phrase("The carbonate constants do not cover fresher water."),
    )
    k = t + 273.15
    return CarbonateConstants(
        k0=_solubility(k, s),
        k1=10 ** (-3633.86 / k + 61.2172 - 9.67770 * log(k) + 0.011555 * s - 0.0001152 * s**2),
        k2=10 ** (-471.78 / k - 25.9290 + 3.16967 * log(k) + 0.01781 * s - 0.0001122 * s**2),
        kb=_boric(k, s),
        kw=_water(k, s),
        borate=0.000416 * s / 35,
        calcium=0.02127 / 40.078 * s / 1.80655,
        aragonite=_aragonite(k, s),
        calcite=_calcite(k, s),
        fugacity=_fugacity(k),
    )


def _solubility(k: float, s: float) -> float:
    h = k / 100
    salting = s * (0.023517 - 0.023656 * h + 0.0047036 * h**2)
    return exp(93.4517 / h - 60.2409 + 23.3585 * log(h) + salting)


def _boric(k: float, s: float) -> float:
    return exp(
        (-8966.90 - 2890.53 * s**0.5 - 77.942 * s + 1.728 * s**1.5 - 0.0996 * s**2) / k
        + 148.0248
        + 137.1942 * s**0.5
        + 1.62142 * s
        - (24.4344 + 25.085 * s**0.5 + 0.2474 * s) * log(k)
        + 0.053105 * s**0.5 * k
    )


def _water(k: float, s: float) -> float:
    return exp(
        -13847.26 / k
        + 148.9652
        - 23.6521 * log(k)
        + (118.67 / k - 5.977 + 1.0495 * log(k)) * s**0.5
        - 0.01615 * s
    )


def _aragonite(k: float, s: float) -> float:
    return float(10 ** (
        -171.945 - 0.077993 * k + 2903.293 / k + 71.595 * log10(k)
        + (-0.068393 + 0.0017276 * k + 88.135 / k) * s**0.5
        - 0.10018 * s + 0.0059415 * s**1.5
    ))  # fmt: skip


def _calcite(k: float, s: float) -> float:
    return float(10 ** (
        -171.9065 - 0.077993 * k + 2839.319 / k + 71.595 * log10(k)
        + (-0.77712 + 0.0028426 * k + 178.34 / k) * s**0.5
        - 0.07711 * s + 0.0041249 * s**1.5
    ))  # fmt: skip


def _fugacity(k: float) -> float:
    virial = -1636.75 + 12.0408 * k - 0.0327957 * k**2 + 3.16528e-5 * k**3
    cross = 57.7 - 0.118 * k
    return exp((virial + 2 * cross) * 1.01325 / (83.14462618 * k))
