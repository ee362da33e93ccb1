"""A planned loop followed at its full load: with a ripe filter, and with one just started."""

from dataclasses import dataclass
from functools import cache

from protoconch.seawater.carbonate import carbonate_from_co2
from protoconch.seawater.oxygen import oxygen_saturation_mg_l
from protoconch.waterworks.description import LoopPlan
from protoconch.waterworks.loops.course import (
    OUTDOOR_CO2_UATM,
    LoopCourse,
    LoopWater,
    LoopWorking,
    loop_course,
)
from protoconch.waterworks.loops.sizing import (
    G_BICARBONATE_PER_EQUIVALENT,
    G_CACO3_PER_EQUIVALENT,
    STANDARD_OXYGEN_MG_L,
    ammonia_g_day,
)
from protoconch.waterworks.parameters import number

DAYS = 60.0
OPEN_SEA_ALKALINITY_UMOL_KG = 2300.0
"""Alkalinity of the new water where it was not measured [µmol/kg]."""


@dataclass(frozen=True, slots=True)
class LoopOutlook:
    """Sixty days of a loop at full load from clean water.

    ripe: its filter is ripe. young: its filter is started on the first day.
    bicarbonate_g_day: added in both, what nitrification uses up [g/d].
    """

    ripe: LoopCourse
    young: LoopCourse
    bicarbonate_g_day: float


@cache
def loop_outlook(plan: LoopPlan) -> LoopOutlook:
    """A planned loop followed at its full load.

    Raises: BadInput or OutOfRange, where the water leaves the range that is understood.
    Source: loops.course; the filter's rate from flow and removal in a pass, the air's from the
    power of its pumps, both by loops.toml.
    """
    made = ammonia_g_day(plan.feed_g_day, plan.protein_share)
    used = made * number("loops", "nitrifying.alkalinity")
    bicarbonate = used * G_BICARBONATE_PER_EQUIVALENT / G_CACO3_PER_EQUIVALENT
    rate = plan.flow_l_h * 24 * number("loops", "nitrifying.removal_per_pass") / plan.volume_l

    def working(age_days: float | None) -> LoopWorking:
        return LoopWorking(
            volume_l=plan.volume_l,
            ammonia_g_day=made,
            oxygen_g_day=plan.oxygen_g_day,
            exchange_l_day=plan.exchange_l_day,
            ammonia_per_day=rate,
            nitrite_per_day=rate,
            filter_age_days=age_days,
            aeration_per_h=air_exchange_per_h(plan),
            bicarbonate_g_day=bicarbonate,
        )

    sea = new_seawater(plan)
    return LoopOutlook(
        ripe=loop_course(sea, sea, working(None), DAYS),
        young=loop_course(sea, sea, working(0.0), DAYS),
        bicarbonate_g_day=bicarbonate,
    )


def new_seawater(plan: LoopPlan) -> LoopWater:
    """Open seawater at the loop's temperature and salinity, in balance with outdoor air."""
    carbonate = carbonate_from_co2(
        plan.temperature_c, plan.salinity, OUTDOOR_CO2_UATM, OPEN_SEA_ALKALINITY_UMOL_KG
    )
    return LoopWater(
        ammonia_mg_l=0.0,
        nitrite_mg_l=0.0,
        nitrate_mg_l=0.0,
        oxygen_mg_l=oxygen_saturation_mg_l(plan.temperature_c, plan.salinity),
        alkalinity_umol_kg=OPEN_SEA_ALKALINITY_UMOL_KG,
        dic_umol_kg=carbonate.dic_umol_kg,
        temperature_c=plan.temperature_c,
        salinity=plan.salinity,
    )


def air_exchange_per_h(plan: LoopPlan) -> float:
    """Exchange of oxygen that the loop's air pumps drive [1/h].

    Source: standard transfer of small air stones by their power, turned to field conditions.
    """
    standard_g_h = plan.aeration_w * number("loops", "aeration.efficiency")
    field = number("loops", "aeration.alpha") * number("loops", "aeration.temperature_factor") ** (
        plan.temperature_c - 20
    )
    return float(standard_g_h * field / STANDARD_OXYGEN_MG_L / (plan.volume_l / 1000))
