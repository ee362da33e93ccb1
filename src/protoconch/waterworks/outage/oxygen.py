"""Hours until the oxygen is down to a limit when nothing runs."""

from math import log1p

from protoconch.seawater.ranges import more_than_zero, within
from protoconch.waterworks.parameters import number
from protoconch.words import phrase

REFERENCE_C = 24.0
"""Temperature at which the reference animal breathed (Segawa 1991) [°C]."""


def oxygen_use_mg_g_h(soft_mass_g: float, temperature_c: float, *, fed: bool) -> float:
    """Oxygen that a snail uses for each gram of soft wet mass [mg/(g h)].

    soft_mass_g: of one animal without its shell [g]; live mass with shell is 2 to 4 times that.
    temperature_c: [°C], 5 to 40. fed: it has eaten.
    Raises: BadInput or OutOfRange.
    Source: Segawa 1991 for a small abalone, borrowed; change with temperature and feeding by
    common practice.
    """
    more_than_zero(phrase("the soft mass of one animal"), soft_mass_g, "g")
    within(phrase("temperature"), temperature_c, 5.0, 40.0, "°C")
    warm = number("outage", "oxygen_use.q10") ** ((temperature_c - REFERENCE_C) / 10)
    size = soft_mass_g ** (number("outage", "oxygen_use.exponent") - 1)
    eaten = number("outage", "oxygen_use.fed_factor") if fed else 1.0
    return float(number("outage", "oxygen_use.reference") * size * warm * eaten)


def hours_to_limit(
    *,
    use_mg_l_h: float,
    start_mg_l: float,
    saturation_mg_l: float,
    reaeration_per_h: float,
    limit_mg_l: float,
) -> float | None:
    """Hours until the oxygen has fallen to a limit [h]; None where it never does.

    use_mg_l_h: by animals and all else, steady [mg/L/h]. start_mg_l: now [mg/L].
    saturation_mg_l: in balance with air [mg/L]. reaeration_per_h: through the surface [1/h].
    limit_mg_l: [mg/L].
    Raises: BadInput or OutOfRange.
    Source: dC/dt = k (C* - C) - R, solved. Animals breathe less as oxygen falls, so this errs on
    the safe side.
    """
    within(phrase("the oxygen used"), use_mg_l_h, 0.0, 1e4, "mg/L/h")
    within(phrase("oxygen at the start"), start_mg_l, 0.0, 60.0, "mg/L")
    within(phrase("oxygen at saturation"), saturation_mg_l, 0.0, 60.0, "mg/L")
    within(phrase("reaeration"), reaeration_per_h, 0.0, 1e4, phrase("per hour"))
    within(phrase("the limit"), limit_mg_l, 0.0, 60.0, "mg/L")
    if start_mg_l <= limit_mg_l:
        return 0.0
    if reaeration_per_h == 0:
        return (start_mg_l - limit_mg_l) / use_mg_l_h if use_mg_l_h > 0 else None
    # how far the limit lies above the level where use and reaeration would balance, times k
    above = reaeration_per_h * (limit_mg_l - saturation_mg_l) + use_mg_l_h
    if above <= 0:
        return None
    return log1p(reaeration_per_h * (start_mg_l - limit_mg_l) / above) / reaeration_per_h


def surface_reaeration_per_h(depth_m: float) -> float:
    """Oxygen exchange of a still tank through its surface [1/h].

    depth_m: mean depth of the water [m], above 0.
    Raises: BadInput.
    Source: assumed transfer through still surfaces, outage.toml; over the depth.
    """
    return number("outage", "surface_transfer") / more_than_zero(phrase("depth"), depth_m, "m")
