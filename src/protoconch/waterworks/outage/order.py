"""Which tank runs out of oxygen first, and what to do in which order."""

from dataclasses import dataclass

from protoconch.seawater.oxygen import oxygen_saturation_mg_l
from protoconch.seawater.ranges import more_than_zero, within
from protoconch.waterworks.outage.oxygen import (
    hours_to_limit,
    oxygen_use_mg_g_h,
    surface_reaeration_per_h,
)
from protoconch.waterworks.parameters import number, table
from protoconch.words import phrase, say


@dataclass(frozen=True, slots=True)
class StockedTank:
    """A tank with animals when the power goes.

    volume_l: water [L]. depth_m: mean depth [m]. temperature_c: [°C]. salinity: practical [-].
    animals: how many. soft_mass_g: of one, without shell [g]. fed: they have eaten.
    share_of_saturation: oxygen at the start over saturation [-].
    air_stone: battery-driven air keeps the oxygen up; then no hours are counted.
    """

    name: str
    volume_l: float
    depth_m: float
    temperature_c: float
    salinity: float
    animals: float
    soft_mass_g: float
    fed: bool = True
    share_of_saturation: float = 0.95
    air_stone: bool = False


@dataclass(frozen=True, slots=True)
class TankHours:
    """How long a tank has.

    to_act_h: until oxygen reaches the limit to act at [h]; to_emergency_h: until the emergency
    limit [h]; None where it never does. use_mg_l_h: oxygen used [mg/L/h].
    """

    name: str
    use_mg_l_h: float
    start_mg_l: float
    to_act_h: float | None
    to_emergency_h: float | None


def tank_hours(tank: StockedTank) -> TankHours:
    """How long the oxygen of a tank lasts without power.

    Raises: BadInput or OutOfRange.
    Source: limits in water_limits.toml; use and surface as in outage.oxygen.
    """
    more_than_zero(say("the volume of {name}", name=tank.name), tank.volume_l, "L")
    within(say("the animals in {name}", name=tank.name), tank.animals, 0.0, 1e9)
    saturation = oxygen_saturation_mg_l(tank.temperature_c, tank.salinity)
    start = saturation * within(phrase("oxygen at the start"), tank.share_of_saturation, 0.0, 2.0)
    use = number("outage", "background_use")
    if tank.animals:
        each = oxygen_use_mg_g_h(tank.soft_mass_g, tank.temperature_c, fed=tank.fed)
        use += tank.animals * tank.soft_mass_g * each / tank.volume_l

    def hours(limit: str) -> float | None:
        if tank.air_stone:
            return None
        return hours_to_limit(
            use_mg_l_h=use,
            start_mg_l=start,
            saturation_mg_l=saturation,
            reaeration_per_h=surface_reaeration_per_h(tank.depth_m),
            limit_mg_l=number("water_limits", f"oxygen.{limit}"),
        )

    return TankHours(tank.name, use, start, hours("act"), hours("emergency"))


def in_order_of_need(tanks: tuple[StockedTank, ...]) -> tuple[TankHours, ...]:
    """The tanks, the one with the fewest hours first; those that never reach a limit last."""
    return tuple(
        sorted(
            (tank_hours(tank) for tank in tanks),
            key=lambda each: (
                float("inf") if each.to_act_h is None else each.to_act_h,
                -each.use_mg_l_h,
                each.name,
            ),
        )
    )


def keep_running_first() -> tuple[str, ...]:
    """What to keep running, first things first; common practice, no source."""
    return tuple(say(step) for step in table("outage")["order"]["steps"])
