"""What warmth, light and nutrients allow a culture: growth rates and the most it can hold."""

import math

from protoconch.errors import BadInput
from protoconch.units import not_negative, positive, text
from protoconch.words import say

NITROGEN_MOLAR_MASS, PHOSPHORUS_MOLAR_MASS = 14.007, 30.974
"""[g/mol]; IUPAC standard atomic masses."""


def growth_at_per_d(
    temperature_c: float, *, coldest_c: float, best_c: float, hottest_c: float, most_per_d: float
) -> float:
    """Growth rate at a temperature, by the cardinal temperatures of the strain [per d].

    temperature_c: of the culture [°C]. coldest_c, hottest_c: no growth at and beyond them.
    best_c: fastest growth, `most_per_d` [per d]; it lies above the middle of the range.
    Returns: 0 outside the range.
    Raises: BadInput, where a number is not finite or the cardinal temperatures do not fit.
    Source: Rosso et al. 1993; Bernard & Rémond 2012, Bioresour Technol 123:520-527.
    """
    if not all(map(math.isfinite, (temperature_c, coldest_c, hottest_c))):
        raise BadInput(say("Each temperature must be a number of °C."))
    positive(most_per_d, "per day", say("fastest growth"))
    if not (coldest_c + hottest_c) / 2 < best_c < hottest_c:
        raise BadInput(
            say(
                "The best temperature of {best_c} must lie between the middle of the range, "
                "{coldest_c}, and its end, {hottest_c}.",
                best_c=text(best_c, "°C", 6),
                coldest_c=text((coldest_c + hottest_c) / 2, "°C", 6),
                hottest_c=text(hottest_c, "°C", 6),
            )
        )
    if not coldest_c < temperature_c < hottest_c:
        return 0.0
    top = (temperature_c - hottest_c) * (temperature_c - coldest_c) ** 2
    span = best_c - coldest_c
    bottom = span * (
        span * (temperature_c - best_c)
        - (best_c - hottest_c) * (best_c + coldest_c - 2 * temperature_c)
    )
    return most_per_d * top / bottom


def light_share(light_umol: float, half_umol: float) -> float:
    """Share of the fastest growth at a light: I / (I + Ik).

    light_umol: light in the culture [µmol/m²/s]. half_umol: Ik, light of half the growth.
    Source: Michaelis-Menten form (textbook).
    """
    not_negative(light_umol, "µmol/m²/s", "light")
    positive(half_umol, "µmol/m²/s", say("half light"))
    return light_umol / (light_umol + half_umol)


def inhibited_light_share(light_umol: float, best_umol: float) -> float:
    """Share of the fastest growth where too much light harms: I/Iopt exp(1 - I/Iopt).

    Source: Steele 1962, Limnol Oceanogr 7:137, from memory.
    """
    not_negative(light_umol, "µmol/m²/s", "light")
    positive(best_umol, "µmol/m²/s", say("best light"))
    return light_umol / best_umol * math.exp(1 - light_umol / best_umol)


def mean_light_share(absorption_m2_g: float, dry_g_m3: float, depth_m: float) -> float:
    """Mean light in a culture as a share of that on its face: (1 - exp(-k)) / k.

    absorption_m2_g: light taken up [m²/g dry]. dry_g_m3: dry mass [g/m³]. depth_m: way of the
    light [m]; in a tube lit from around, about 0.8 of its diameter (common practice, no source).
    Source: Beer-Lambert law over a slab lit from one side.
    """
    thickness = absorption_m2_g * dry_g_m3 * depth_m
    not_negative(thickness, "1", say("optical thickness"))
    return 1.0 if thickness == 0 else -math.expm1(-thickness) / thickness


def light_cap_g_d(area_m2: float, light_umol: float, hours: float, yield_g_mol: float) -> float:
    """Dry mass that the light on a vessel can make in a day [g/d].

    area_m2: lit area. light_umol: on it [µmol/m²/s]. hours: of light a day.
    yield_g_mol: dry mass for each mol of photons [g/mol].
    Source: photons times yield.
    """
    for value, unit, name in ((area_m2, "m²", "area"), (light_umol, "µmol/m²/s", "light"),
                              (hours, "h", "hours"), (yield_g_mol, "g/mol", "yield")):  # fmt: skip
        not_negative(value, unit, name)
    return area_m2 * light_umol * hours * 3600e-6 * yield_g_mol


def nutrient_cap_mg_l(
    nitrate_um: float, phosphate_um: float, *, nitrogen_share: float, phosphorus_share: float
) -> float:
    """Dry mass at which the first nutrient of a medium runs out [mg/L].

    nitrate_um, phosphate_um: in the medium [µM]. nitrogen_share, phosphorus_share: of dry mass.
    Source: mass balance with the atomic masses of nitrogen and phosphorus.
    """
    positive(nitrogen_share, "1", say("nitrogen share"))
    positive(phosphorus_share, "1", say("phosphorus share"))
    return min(
        nitrate_um * NITROGEN_MOLAR_MASS / 1000 / nitrogen_share,
        phosphate_um * PHOSPHORUS_MOLAR_MASS / 1000 / phosphorus_share,
    )


def nitrate_usable_um(silicate_um: float, silicate_per_nitrate: float) -> float:
    """Nitrate that a diatom can use before the silicate runs out [µM].

    silicate_per_nitrate: mol for each mol, 1.12 in Brzezinski 1985, J Phycol 21:347.
    """
    positive(silicate_per_nitrate, "1", say("silicate for each nitrate"))
    return silicate_um / silicate_per_nitrate


def cells_cap_per_ml(dry_mg_l: float, cell_pg: float) -> float:
    """Cells that a dry mass makes [cells/mL]."""
    positive(cell_pg, "pg", say("cell mass"))
    return dry_mg_l * 1e6 / cell_pg
