"""The carbonate system: from two of pH, alkalinity, carbon and CO2 to all, and to the shell.

Phosphate and silicate are left out: at hatchery levels they move pH by about 0.001.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import log10

from protoconch.errors import BadInput
from protoconch.seawater.carbonate_constants import CarbonateConstants, carbonate_constants
from protoconch.seawater.ranges import within
from protoconch.words import phrase, say

LEAST_PH, MOST_PH = 4.0, 11.0


@dataclass(frozen=True, slots=True)
class Carbonate:
    """One state of the carbonate system.

    ph: total scale [-]. alkalinity_umol_kg, dic_umol_kg: [µmol/kg]; dic is all dissolved inorganic
    carbon. pco2_uatm: [µatm]. aragonite_saturation, calcite_saturation: 1 is in balance [-].
    """

    ph: float
    alkalinity_umol_kg: float
    dic_umol_kg: float
    pco2_uatm: float
    aragonite_saturation: float
    calcite_saturation: float


def carbonate_from_ph(
    temperature_c: float, salinity: float, ph_total: float, alkalinity_umol_kg: float
) -> Carbonate:
    """The state of water whose pH and alkalinity were measured.

    temperature_c: [°C], 2 to 35. salinity: practical salinity [-], 19 to 42.
    ph_total: on the total scale [-], 4 to 11. alkalinity_umol_kg: [µmol/kg], 100 to 20,000.
    Raises: BadInput or OutOfRange; BadInput where no carbon is left for the alkalinity.
    Source: Dickson, Sabine & Christian 2007; constants as carbonate_constants.
    """
    constants = carbonate_constants(temperature_c, salinity)
    within("pH", ph_total, LEAST_PH, MOST_PH)
    alkalinity = _alkalinity(alkalinity_umol_kg)
    hydrogen = 10**-ph_total
    carbonate_part = alkalinity - _besides_carbonate(hydrogen, constants)
    dic = carbonate_part / _charge_per_carbon(hydrogen, constants)
    if dic <= 0:
        raise BadInput(
            say(
                "At pH {ph_total:g} an alkalinity of {alkalinity_umol_kg:g} µmol/kg leaves "
                "no room for carbonate; one of the two readings, or the pH scale, is wrong.",
                ph_total=ph_total,
                alkalinity_umol_kg=alkalinity_umol_kg,
            )
        )
    return _state(hydrogen, dic, constants)


def carbonate_from_carbon(
    temperature_c: float, salinity: float, dic_umol_kg: float, alkalinity_umol_kg: float
) -> Carbonate:
    """The state of water whose carbon and alkalinity are known.

    dic_umol_kg: all dissolved inorganic carbon [µmol/kg], 10 to 20,000. Other inputs, errors and
    source as carbonate_from_ph; BadInput where no pH from 4 to 11 fits.
    """
    constants = carbonate_constants(temperature_c, salinity)
    dic = within(phrase("dissolved carbon"), dic_umol_kg, 10.0, 20_000.0, phrase("µmol/kg")) * 1e-6
    alkalinity = _alkalinity(alkalinity_umol_kg)
    ph = _ph_where(
        lambda h: dic * _charge_per_carbon(h, constants) + _besides_carbonate(h, constants),
        alkalinity,
    )
    return _state(10**-ph, dic, constants)


def carbonate_from_co2(
    temperature_c: float, salinity: float, pco2_uatm: float, alkalinity_umol_kg: float
) -> Carbonate:
    """The state of water of known alkalinity in balance with air of a CO2 pressure.

    pco2_uatm: [µatm], 10 to 100,000; outdoor air has about 420. Other inputs, errors and source
    as carbonate_from_ph.
    """
    constants = carbonate_constants(temperature_c, salinity)
    within(phrase("the pressure of CO2"), pco2_uatm, 10.0, 100_000.0, phrase("µatm"))
    dissolved = constants.k0 * pco2_uatm * constants.fugacity * 1e-6

    def alkalinity_at(hydrogen: float) -> float:
        dic = dissolved / _dissolved_share(hydrogen, constants)
        return dic * _charge_per_carbon(hydrogen, constants) + _besides_carbonate(
            hydrogen, constants
        )

    hydrogen = 10 ** -_ph_where(alkalinity_at, _alkalinity(alkalinity_umol_kg))
    return _state(hydrogen, dissolved / _dissolved_share(hydrogen, constants), constants)


def _alkalinity(alkalinity_umol_kg: float) -> float:
    hint = (
        say("In meq/L multiply by about 977; in dKH by about 349.")
        if alkalinity_umol_kg < 100
        else ""
    )
    return (
        within(phrase("alkalinity"), alkalinity_umol_kg, 100.0, 20_000.0, phrase("µmol/kg"), hint)
        * 1e-6
    )


def _charge_per_carbon(hydrogen: float, c: CarbonateConstants) -> float:
    whole = hydrogen**2 + c.k1 * hydrogen + c.k1 * c.k2
    return (c.k1 * hydrogen + 2 * c.k1 * c.k2) / whole


def _dissolved_share(hydrogen: float, c: CarbonateConstants) -> float:
    return hydrogen**2 / (hydrogen**2 + c.k1 * hydrogen + c.k1 * c.k2)


def _besides_carbonate(hydrogen: float, c: CarbonateConstants) -> float:
    return c.borate * c.kb / (c.kb + hydrogen) + c.kw / hydrogen - hydrogen


def _ph_where(alkalinity_at: Callable[[float], float], wanted: float) -> float:
    """The pH at which a rising alkalinity curve meets the wanted one."""
    from scipy.optimize import brentq

    low, high = alkalinity_at(10**-LEAST_PH), alkalinity_at(10**-MOST_PH)
    if not low <= wanted <= high:
        raise BadInput(say("No pH from 4 to 11 fits these readings; one of them is wrong."))
    return float(brentq(lambda ph: alkalinity_at(10**-ph) - wanted, LEAST_PH, MOST_PH, xtol=1e-12))


def _state(hydrogen: float, dic: float, c: CarbonateConstants) -> Carbonate:
    whole = hydrogen**2 + c.k1 * hydrogen + c.k1 * c.k2
    carbonate_ion = dic * c.k1 * c.k2 / whole
    alkalinity = dic * _charge_per_carbon(hydrogen, c) + _besides_carbonate(hydrogen, c)
    return Carbonate(
        ph=-log10(hydrogen),
        alkalinity_umol_kg=alkalinity * 1e6,
        dic_umol_kg=dic * 1e6,
        pco2_uatm=dic * hydrogen**2 / whole / c.k0 / c.fugacity * 1e6,
        aragonite_saturation=carbonate_ion * c.calcium / c.aragonite,
        calcite_saturation=carbonate_ion * c.calcium / c.calcite,
    )
