"""How large a recirculating loop must be: biofilter, flow, new water, alkalinity, air."""

from dataclasses import dataclass

from protoconch.errors import BadInput
from protoconch.seawater.oxygen import oxygen_saturation_mg_l
from protoconch.seawater.ranges import more_than_zero, within
from protoconch.units import text
from protoconch.waterworks.parameters import number
from protoconch.words import phrase, say

G_CACO3_PER_EQUIVALENT = 50.0435
G_BICARBONATE_PER_EQUIVALENT = 84.007
"""Half a mole of CaCO3, and a mole of NaHCO3 (IUPAC atomic weights) [g]."""
STANDARD_OXYGEN_MG_L = 9.09
"""Oxygen in air-saturated fresh water at 20 °C, at which aerators are rated [mg/L]."""


@dataclass(frozen=True, slots=True)
class LoopSize:
    """What a loop needs at its full load.

    ammonia_g_day: nitrogen the animals give off [g N/d]. medium_m2, medium_l: of the biofilter,
    with margin [m²], [L]. flow_l_h: through it [L/h]. turnovers_per_h: of the loop [1/h].
    new_water_l_day: that holds nitrate at its limit [L/d]. oxygen_g_day: for nitrification [g/d].
    alkalinity_g_day: used up, as CaCO3 [g/d]. bicarbonate_g_day: NaHCO3 that replaces it [g/d].
    """

    ammonia_g_day: float
    medium_m2: float
    medium_l: float
    flow_l_h: float
    turnovers_per_h: float
    new_water_l_day: float
    oxygen_g_day: float
    alkalinity_g_day: float
    bicarbonate_g_day: float


def ammonia_g_day(feed_g_day: float, protein_share: float) -> float:
    """Ammonia nitrogen from feed [g N/d].

    feed_g_day: dry pellets [g/d]. protein_share: of them [-].
    Raises: BadInput or OutOfRange.
    Source: Timmons & Ebeling, for fish: an upper planning value for grazing snails.
    """
    within(phrase("the feed"), feed_g_day, 0.0, 1e6, "g/d")
    within(
        phrase("the share of protein"), protein_share, 0.0, 1.0, "", phrase("Give 35 % as 0.35.")
    )
    return feed_g_day * protein_share * number("loops", "ammonia_per_protein")


def loop_size(
    feed_g_day: float,
    protein_share: float,
    volume_l: float,
    *,
    ammonia_limit_mg_l: float,
    nitrate_limit_mg_l: float,
    nitrate_in_mg_l: float = 0.0,
) -> LoopSize:
    """What a loop needs at its full load.

    volume_l: water in it [L]. limits and nitrate_in: as nitrogen [mg/L].
    Raises: BadInput or OutOfRange.
    Source: balances of nitrogen, oxygen and alkalinity; loops.toml.
    """
    more_than_zero(phrase("the volume of the loop"), volume_l, "L")
    more_than_zero(phrase("the limit of ammonia"), ammonia_limit_mg_l, "mg/L")
    if nitrate_limit_mg_l <= nitrate_in_mg_l:
        raise BadInput(
            say(
                "New water with {nitrate:g} mg/L of nitrate nitrogen cannot hold a "
                "limit of {limit:g} mg/L.",
                nitrate=nitrate_in_mg_l,
                limit=nitrate_limit_mg_l,
            )
        )
    made = ammonia_g_day(feed_g_day, protein_share)
    area = made / number("loops", "nitrifying.area_rate") * number("loops", "nitrifying.margin")
    flow = made * 1000 / (ammonia_limit_mg_l * number("loops", "nitrifying.removal_per_pass")) / 24
    alkalinity = made * number("loops", "nitrifying.alkalinity")
    return LoopSize(
        ammonia_g_day=made,
        medium_m2=area,
        medium_l=area / number("loops", "nitrifying.medium_area") * 1000,
        flow_l_h=flow,
        turnovers_per_h=flow / volume_l,
        new_water_l_day=made * 1000 / (nitrate_limit_mg_l - nitrate_in_mg_l),
        oxygen_g_day=made * number("loops", "nitrifying.oxygen"),
        alkalinity_g_day=alkalinity,
        bicarbonate_g_day=alkalinity * G_BICARBONATE_PER_EQUIVALENT / G_CACO3_PER_EQUIVALENT,
    )


def aerator_w(
    oxygen_g_day: float, hold_mg_l: float, temperature_c: float, salinity: float
) -> float:
    """Electrical power of air stones that bring so much oxygen [W].

    oxygen_g_day: used by animals, filter and all else [g/d]. hold_mg_l: oxygen to hold [mg/L].
    temperature_c, salinity: of the water [°C], [-].
    Raises: BadInput, where the water cannot hold so much; OutOfRange.
    Source: standard transfer turned to field conditions; small air stones from memory.
    """
    within(phrase("the oxygen used"), oxygen_g_day, 0.0, 1e7, "g/d")
    saturation = oxygen_saturation_mg_l(temperature_c, salinity)
    if hold_mg_l >= saturation:
        raise BadInput(
            say(
                "Air cannot hold {hold:g} mg/L: water of {temperature} takes "
                "no more than {saturation:.2f} mg/L.",
                hold=hold_mg_l,
                temperature=text(temperature_c, "°C"),
                saturation=saturation,
            )
        )
    field = (
        number("loops", "aeration.alpha")
        * (saturation - hold_mg_l)
        / STANDARD_OXYGEN_MG_L
        * number("loops", "aeration.temperature_factor") ** (temperature_c - 20)
    )
    kg_per_kwh = number("loops", "aeration.efficiency") * field
    return float(oxygen_g_day / 24 / kg_per_kwh)


def steady_nitrogen_mg_l(
    made_mg_l_day: float, ammonia_per_day: float, nitrite_per_day: float, exchange_per_day: float
) -> tuple[float, float, float]:
    """Ammonia, nitrite and nitrate at which a ripe loop settles, as nitrogen [mg/L].

    made_mg_l_day: nitrogen given off in each litre [mg/L/d]. ammonia_per_day, nitrite_per_day:
    rates of the two steps [1/d]. exchange_per_day: new water over volume [1/d], above 0.
    Raises: BadInput.
    Source: balances at rest; the three add up to made over exchange.
    """
    more_than_zero(phrase("the exchange"), exchange_per_day, phrase("per day"))
    ammonia = made_mg_l_day / (ammonia_per_day + exchange_per_day)
    nitrite = ammonia_per_day * ammonia / (nitrite_per_day + exchange_per_day)
    return ammonia, nitrite, nitrite_per_day * nitrite / exchange_per_day


def hours_to_ammonia(
    now_mg_l: float, limit_mg_l: float, made_g_day: float, volume_l: float
) -> float:
    """Hours until ammonia is at a limit when the biofilter has stopped [h].

    now_mg_l, limit_mg_l: as nitrogen [mg/L]. made_g_day: [g N/d]. volume_l: [L].
    Raises: BadInput.
    """
    more_than_zero(phrase("the ammonia given off"), made_g_day, "g/d")
    more_than_zero(phrase("the volume of the loop"), volume_l, "L")
    return max(0.0, limit_mg_l - now_mg_l) * volume_l / (made_g_day * 1000) * 24
