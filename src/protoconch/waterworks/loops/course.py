"""The water of a recirculating loop over time, day by day, from animals and feed."""

from dataclasses import dataclass, replace
from math import exp
from typing import Any

import numpy as np

from protoconch.errors import BadInput
from protoconch.seawater.ammonia import unionised_share
from protoconch.seawater.carbonate import carbonate_from_carbon
from protoconch.seawater.carbonate_constants import carbonate_constants
from protoconch.seawater.oxygen import oxygen_saturation_mg_l
from protoconch.seawater.ranges import more_than_zero, within
from protoconch.seawater.state import (
    density_kg_m3,
    heat_capacity_j_kg_k,
    heat_of_evaporation_j_kg,
)
from protoconch.waterworks.hydraulics.friction import Array
from protoconch.waterworks.loops.sizing import (
    G_BICARBONATE_PER_EQUIVALENT,
    G_CACO3_PER_EQUIVALENT,
)
from protoconch.waterworks.parameters import number
from protoconch.words import phrase, say

OXYGEN_FIRST_STEP = 0.75
"""Share of nitrification's oxygen that the step to nitrite takes: 1.5 of 2 moles."""
OUTDOOR_CO2_UATM = 420.0
LEAST_ALKALINITY_UMOL_KG = 200.0
"""Below this a loop is out of alkalinity [µmol/kg]."""
REFERENCE_C = 27.0
"""Temperature at which the rates of a loop's biofilter are given [°C]."""


@dataclass(frozen=True, slots=True)
class LoopWater:
    """Water of a loop, or new water for it.

    ammonia_mg_l, nitrite_mg_l, nitrate_mg_l: as nitrogen [mg/L]. oxygen_mg_l: [mg/L].
    alkalinity_umol_kg, dic_umol_kg: [µmol/kg]. temperature_c: [°C]. salinity: practical [-].
    """

    ammonia_mg_l: float
    nitrite_mg_l: float
    nitrate_mg_l: float
    oxygen_mg_l: float
    alkalinity_umol_kg: float
    dic_umol_kg: float
    temperature_c: float
    salinity: float


@dataclass(frozen=True, slots=True)
class LoopWorking:
    """How a loop is run.

    volume_l: [L]. ammonia_g_day: given off by the animals, as nitrogen [g/d].
    oxygen_g_day: used by the animals [g/d]. exchange_l_day: new seawater [L/d].
    ammonia_per_day, nitrite_per_day: rates of the ripe filter's two steps at 27 °C [1/d].
    filter_age_days: since the filter was started, None where it is ripe [d].
    aeration_per_h: oxygen exchange with the air [1/h]. bicarbonate_g_day: NaHCO3 added [g/d].
    evaporation_l_day: [L/d]. fresh_top_up: it is made up with fresh water, else with seawater.
    air_c: of the room [°C]. loss_w_k: heat lost for each degree above it [W/K]. heater_w: heat
    put in by heater, pumps and lamps [W].
    """

    volume_l: float
    ammonia_g_day: float
    oxygen_g_day: float
    exchange_l_day: float
    ammonia_per_day: float
    nitrite_per_day: float
    filter_age_days: float | None
    aeration_per_h: float
    bicarbonate_g_day: float = 0.0
    evaporation_l_day: float = 0.0
    fresh_top_up: bool = True
    air_c: float = 27.0
    loss_w_k: float = 0.0
    heater_w: float = 0.0


@dataclass(frozen=True, slots=True)
class LoopCourse:
    """A loop over time; every array has shape (times,).

    days: [d]. Others as in LoopWater; unionised_mg_l: un-ionised ammonia, as nitrogen [mg/L];
    ph: total scale [-]; aragonite: saturation [-].
    """

    days: Array
    ammonia_mg_l: Array
    nitrite_mg_l: Array
    nitrate_mg_l: Array
    oxygen_mg_l: Array
    alkalinity_umol_kg: Array
    dic_umol_kg: Array
    temperature_c: Array
    salinity: Array
    unionised_mg_l: Array
    ph: Array
    aragonite: Array


def filter_activity(age_days: float | None, half_days: float, slope_days: float) -> float:
    """Share of its ripe rate at which one step of a biofilter works [-].

    age_days: since it was started [d], None where it is ripe.
    half_days: age at which it works at half [d]. slope_days: how quickly it comes in [d].
    Source: logistic curve, an assumption; no clean table for seawater was found.
    """
    if age_days is None:
        return 1.0
    return 1 / (1 + exp(-max(-60.0, min(60.0, (age_days - half_days) / slope_days))))


def loop_course(
    start: LoopWater, new: LoopWater, working: LoopWorking, days: float, points: int = 61
) -> LoopCourse:
    """The water of a loop over some days.

    start: water in it at first. new: seawater that comes in. days: how long [d].
    points: how many moments to tell, evenly spread.
    Raises: BadInput or OutOfRange, also where the water leaves the range that is understood.
    Source: balances of nitrogen, oxygen, alkalinity, carbon, heat and salt; loops.toml.
    """
    from scipy.integrate import solve_ivp

    _check(working, days)
    moments = np.linspace(0.0, days, points)
    solved = solve_ivp(
        lambda t, y: _changes(t, y, new, working),
        (0.0, days),
        _as_list(start),
        method="LSODA",
        t_eval=moments,
        rtol=1e-8,
        atol=1e-9,
        events=_used_up,
    )
    ended = solved.t_events
    if ended is not None and ended[0].size:
        raise BadInput(
            say(
                "The alkalinity of the loop is used up after {days:.1f} days; add "
                "bicarbonate, or more new water.",
                days=ended[0][0],
            )
        )
    if not solved.success:
        raise BadInput(say("The loop could not be followed: {message}", message=solved.message))
    return _course(moments, solved.y)


def _used_up(_: float, y: Any) -> float:
    """Falls to zero where hardly any alkalinity is left."""
    return float(y[4]) - LEAST_ALKALINITY_UMOL_KG


_used_up.terminal = True  # type: ignore[attr-defined]


def _check(working: LoopWorking, days: float) -> None:
    more_than_zero(phrase("the volume of the loop"), working.volume_l, "L")
    more_than_zero(phrase("the days to follow"), days, "d")
    for name, value in (
        (say("the ammonia given off"), working.ammonia_g_day),
        (say("the oxygen used"), working.oxygen_g_day),
        (say("the exchange"), working.exchange_l_day),
        (say("the first rate of the filter"), working.ammonia_per_day),
        (say("the second rate of the filter"), working.nitrite_per_day),
        (say("the aeration"), working.aeration_per_h),
        (say("the bicarbonate"), working.bicarbonate_g_day),
        (say("the evaporation"), working.evaporation_l_day),
    ):
        within(name, value, 0.0, 1e7)


def _as_list(water: LoopWater) -> list[float]:
    return [
        water.ammonia_mg_l,
        water.nitrite_mg_l,
        water.nitrate_mg_l,
        water.oxygen_mg_l,
        water.alkalinity_umol_kg,
        water.dic_umol_kg,
        water.temperature_c,
        water.salinity,
    ]


def _changes(day: float, y: Any, new: LoopWater, working: LoopWorking) -> Array:
    """Change of the eight quantities in a day."""
    ammonia, nitrite, nitrate, oxygen, alkalinity, dic, temperature, salinity = (
        float(v) for v in y
    )
    exchange = working.exchange_l_day / working.volume_l
    first, second = _nitrified_mg_l_day(day, ammonia, nitrite, temperature, working)
    made = working.ammonia_g_day * 1000 / working.volume_l
    breathed = working.oxygen_g_day * 1000 / working.volume_l
    density = density_kg_m3(temperature, salinity)
    oxygen_per_n = number("loops", "nitrifying.oxygen")
    nitrifying = oxygen_per_n * (OXYGEN_FIRST_STEP * first + (1 - OXYGEN_FIRST_STEP) * second)
    aired = 24 * working.aeration_per_h * (oxygen_saturation_mg_l(temperature, salinity) - oxygen)
    alkali, carbon = _carbonate_changes(first, breathed, (alkalinity, dic), density, working, y)
    warmth, salt = _heat_and_salt(temperature, salinity, density, new, working)
    return np.array(
        [
            made - first + exchange * (new.ammonia_mg_l - ammonia),
            first - second + exchange * (new.nitrite_mg_l - nitrite),
            second + exchange * (new.nitrate_mg_l - nitrate),
            aired - breathed - nitrifying + exchange * (new.oxygen_mg_l - oxygen),
            alkali + exchange * (new.alkalinity_umol_kg - alkalinity),
            carbon + exchange * (new.dic_umol_kg - dic),
            warmth + exchange * (new.temperature_c - temperature),
            salt,
        ]
    )


def _nitrified_mg_l_day(
    day: float, ammonia: float, nitrite: float, temperature: float, working: LoopWorking
) -> tuple[float, float]:
    """Nitrogen that passes each of the two steps [mg/L/d]."""
    warm = number("loops", "nitrifying.q10") ** ((temperature - REFERENCE_C) / 10)
    age = None if working.filter_age_days is None else working.filter_age_days + day
    slope = number("loops", "start_up.slope_days")
    first = filter_activity(age, number("loops", "start_up.ammonia_days"), slope)
    second = filter_activity(age, number("loops", "start_up.nitrite_days"), slope)
    return (
        working.ammonia_per_day * warm * first * ammonia,
        working.nitrite_per_day * warm * second * nitrite,
    )


def _carbonate_changes(
    first: float,
    breathed: float,
    state: tuple[float, float],
    density: float,
    working: LoopWorking,
    y: Any,
) -> tuple[float, float]:
    """Change of alkalinity and carbon, without the exchange [µmol/kg/d]."""
    per_kg = 1e6 / density  # mol/m³ to µmol/kg
    used = first * number("loops", "nitrifying.alkalinity") / G_CACO3_PER_EQUIVALENT
    dosed = working.bicarbonate_g_day / G_BICARBONATE_PER_EQUIVALENT / (working.volume_l / 1000)
    breath = breathed / 31.9988 * number("loops", "carbon_per_oxygen")
    temperature, salinity = float(y[6]), float(y[7])
    constants = carbonate_constants(temperature, salinity)
    found = carbonate_from_carbon(temperature, salinity, state[1], state[0])
    over = (found.pco2_uatm - OUTDOOR_CO2_UATM) * constants.k0 * constants.fugacity
    stripped = 24 * working.aeration_per_h * number("loops", "co2_transfer") * over
    return (dosed - used) * per_kg, (dosed + breath) * per_kg - stripped


def _heat_and_salt(
    temperature: float, salinity: float, density: float, new: LoopWater, working: LoopWorking
) -> tuple[float, float]:
    """Change of temperature without the exchange, and of salinity with it [°C/d], [1/d]."""
    latent_w = working.evaporation_l_day / 86_400 * heat_of_evaporation_j_kg(temperature, salinity)
    heat_w = (
        working.loss_w_k * (working.air_c - temperature) + working.heater_w
        - (latent_w if working.loss_w_k else 0.0)
    )  # fmt: skip
    per_degree = density * heat_capacity_j_kg_k(temperature, salinity) * working.volume_l / 1000
    exchange = working.exchange_l_day / working.volume_l
    evaporated = working.evaporation_l_day / working.volume_l
    made_up = 0.0 if working.fresh_top_up else evaporated * new.salinity
    return heat_w * 86_400 / per_degree, exchange * (new.salinity - salinity) + made_up


def _course(moments: Array, y: Array) -> LoopCourse:
    count = len(moments)
    ph, aragonite, unionised = (np.zeros(count) for _ in range(3))
    for i in range(count):
        temperature, salinity = float(y[6, i]), float(y[7, i])
        found = carbonate_from_carbon(temperature, salinity, float(y[5, i]), float(y[4, i]))
        ph[i], aragonite[i] = found.ph, found.aragonite_saturation
        unionised[i] = y[0, i] * unionised_share(temperature, salinity, found.ph)
    return LoopCourse(
        moments, y[0], y[1], y[2], y[3], y[4], y[5], y[6], y[7], unionised, ph, aragonite
    )


def with_filter_stopped(working: LoopWorking) -> LoopWorking:
    """The same loop with a dead biofilter, as after chlorine, copper or a long outage."""
    return replace(working, ammonia_per_day=0.0, nitrite_per_day=0.0)
