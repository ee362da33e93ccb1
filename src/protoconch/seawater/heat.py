"""Heat that it takes to warm seawater, and that water loses."""

from protoconch.seawater.ranges import more_than_zero, within
from protoconch.seawater.state import (
    density_kg_m3,
    heat_capacity_j_kg_k,
    heat_of_evaporation_j_kg,
)
from protoconch.words import phrase


def flow_heating_kw(
    flow_l_min: float, rise_c: float, temperature_c: float, salinity: float
) -> float:
    """Power that warms a running flow [kW].

    flow_l_min: [L/min]. rise_c: warming, below zero for cooling [°C].
    temperature_c, salinity: of the water [°C], [-].
    Raises: BadInput or OutOfRange.
    Source: density and heat capacity by TEOS-10.
    """
    within(phrase("flow"), flow_l_min, 0.0, float("inf"), phrase("L/min"))
    within(phrase("rise"), rise_c, -40.0, 40.0, "°C")
    per_m3 = density_kg_m3(temperature_c, salinity) * heat_capacity_j_kg_k(temperature_c, salinity)
    return flow_l_min / 60_000 * per_m3 * rise_c / 1000


def tank_heating_kw(
    volume_l: float, rise_c: float, hours: float, temperature_c: float, salinity: float
) -> float:
    """Mean power that warms a tank by rise_c within hours, losses left out [kW].

    volume_l: [L]. rise_c: [°C]. hours: [h]. temperature_c, salinity: of the water [°C], [-].
    Raises: BadInput or OutOfRange.
    Source: density and heat capacity by TEOS-10.
    """
    more_than_zero(phrase("volume"), volume_l, "L")
    more_than_zero(phrase("time"), hours, "h")
    return flow_heating_kw(volume_l / (60 * hours), rise_c, temperature_c, salinity)


def evaporation_cooling_w(lost_kg_day: float, temperature_c: float, salinity: float) -> float:
    """Heat that evaporating water takes out of a tank [W].

    lost_kg_day: water evaporated [kg/d]. temperature_c, salinity: of the water [°C], [-].
    Raises: BadInput or OutOfRange.
    Source: heat of evaporation by TEOS-10.
    """
    within(phrase("the water lost"), lost_kg_day, 0.0, float("inf"), "kg/d")
    return lost_kg_day * heat_of_evaporation_j_kg(temperature_c, salinity) / 86_400
