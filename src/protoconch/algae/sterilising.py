"""Seawater made clean enough for cultures, by heat or by chlorine that is taken out again."""

import math
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from protoconch.errors import BadInput, OutOfRange, UnknownName
from protoconch.sources.reading import load_catalogue
from protoconch.units import ends, not_negative, positive, text
from protoconch.words import say

CHLORINE_CAUTIONS = (
    say(
        "Chlorine burns skin, eyes and lungs: gloves, goggles, open door; the label and local"
        " rules."
    ),
    say("Never mix it with acid or ammonia: the gas kills."),
    say(
        "Test with DPD or OTO before algae go in; repeat until below 0.05 mg/L, then aerate 1 to"
        " 2 h."
    ),
)
HEAT_CAUTIONS = (
    say("Hot bottles boil over when moved: leave them to cool, caps loose, gloves and goggles on."),
    say(
        "Microwaved and pasteurised water is not free of spores: for unialgal work, not for axenic."
    ),
)
PRODUCTS = ("thiosulfate-pentahydrate", "thiosulfate-anhydrous")


@dataclass(frozen=True, slots=True)
class Sterilising:
    """One way to sterilise a volume: its name, its minutes, and what to mind."""

    method: str
    minutes: float
    cautions: tuple[str, ...]


def heating_seconds(
    volume_l: float, *, from_c: float, to_c: float, power_w: float, efficiency: float = 1.0
) -> float:
    """Time to heat seawater: m c ΔT / (P η) [s].

    volume_l: [L]. from_c, to_c: [°C]. power_w: rated [W]. efficiency: share that heats the water.
    Raises: OutOfRange; BadInput where it would have to cool.
    Source: heat balance; heat and density of seawater in tables/sterilising.toml.
    """
    positive(volume_l, "L", "volume")
    positive(power_w, "W", "power")
    if not 0 < efficiency <= 1:
        raise OutOfRange("efficiency", efficiency, 0, 1)
    if not from_c <= to_c < 100:
        cold, hot = ends(from_c, to_c, "°C", 6)
        raise BadInput(
            say("Heating from {cold} to {hot} is not heating below boiling.", cold=cold, hot=hot)
        )
    water = load_catalogue("sterilising")["water"]
    mass_kg: float = volume_l * water["density_kg_l"].number
    heat_j: float = mass_kg * water["heat_kj_kg_k"].number * (to_c - from_c) * 1000
    return heat_j / (power_w * efficiency)


def microwave(volume_l: float, *, power_w: float, vessel: str) -> Sterilising:
    """Microwaving of seawater for starters.

    volume_l: in one bottle [L]. power_w: measured power of the oven [W]. vessel: what the water
        is for, "tube", "flask" or "bottle": starters only (common practice, no source).
    Raises: BadInput where it is for larger vessels, or too much for one bottle.
    Source: Keller, Bellows & Guillard 1988, J Exp Mar Biol Ecol 117:279-283; 1.5 L, 700 W.
    """
    table = load_catalogue("sterilising")["microwave"]
    most_l = table["most_l"].number
    positive(volume_l, "L", "volume")
    positive(power_w, "W", "power")
    if vessel not in ("tube", "flask", "bottle"):
        raise BadInput(
            say(
                "Microwaving is for starters only, not for a {vessel}; chlorinate larger volumes.",
                vessel=vessel,
            )
        )
    if volume_l > most_l:
        raise BadInput(
            say(
                "{volume_l} is more than the {most_l} that microwaving was tried with; take "
                "several bottles or the autoclave.",
                volume_l=text(volume_l, "L", 6),
                most_l=text(most_l, "L", 6),
            )
        )
    share = max(volume_l / most_l, 0.5)
    minutes = table["minutes"].number * share * table["power_w"].number / power_w
    return Sterilising("microwave", minutes, HEAT_CAUTIONS)


def autoclave_minutes(volume_l: float) -> float:
    """Minutes at 121 °C for one bottle, between the published volumes on a logarithmic scale.

    Raises: OutOfRange, for volumes outside the table.
    Source: rows of tables/sterilising.toml.
    """
    rows = [(row["litres"], row["minutes"].number)
            for row in load_catalogue("sterilising")["autoclave"]]  # fmt: skip
    if not 0 < volume_l <= rows[-1][0]:
        raise OutOfRange("volume", volume_l, 0, rows[-1][0], "L", say("Chlorinate larger volumes."))
    place = bisect_left([litres for litres, _ in rows], volume_l)
    if place == 0:
        return float(rows[0][1])
    (small, short), (large, long) = rows[place - 1 : place + 1]
    share = math.log(volume_l / small) / math.log(large / small)
    return float(short + share * (long - short))


def bleach_ml(volume_l: float, *, wanted_mg_l: float, strength_percent: float) -> float:
    """Bleach that adds so much chlorine [mL].

    wanted_mg_l: residual wanted and the water's own demand together [mg/L as Cl2].
    strength_percent: of sodium hypochlorite, % w/v.
    Raises: OutOfRange.
    Source: 70.906 g chlorine for 74.44 g sodium hypochlorite.
    """
    positive(volume_l, "L", "volume")
    not_negative(wanted_mg_l, "mg/L", say("chlorine wanted"))
    if not 0 < strength_percent <= 20:
        raise OutOfRange(say("strength of the bleach"), strength_percent, 0, 20, "% w/v")
    share: float = load_catalogue("sterilising")["chlorine"]["per_naocl"].number
    return volume_l * wanted_mg_l / (strength_percent * 10 * share)


def thiosulfate_ratio(product: str, ending: str = "sulfate") -> float:
    """Thiosulfate for each mg of chlorine at the least [mg/mg].

    product: "thiosulfate-pentahydrate" or "thiosulfate-anhydrous".
    ending: "sulfate", the reaction in seawater at pH 8, or "tetrathionate", the upper bound.
    Raises: UnknownName.
    Source: stoichiometry, S2O3 + 4 OCl + H2O = 2 SO4 + 4 Cl + 2 H; 2 S2O3 + Cl2 = S4O6 + 2 Cl.
    """
    table: Mapping[str, Any] = load_catalogue("sterilising")["thiosulfate"]
    if product not in PRODUCTS:
        raise UnknownName(
            say(
                "There is no product {product}; there are {known}.",
                product=product,
                known=", ".join(PRODUCTS),
            )
        )
    if ending not in ("sulfate", "tetrathionate"):
        raise UnknownName(
            say("Thiosulfate ends as sulfate or tetrathionate, not as {ending}.", ending=ending)
        )
    mass: float = table[f"molar_mass_{product.removeprefix('thiosulfate-')}"].number
    mol: float = table[f"mol_to_{ending}"].number
    return mol * mass / float(table["chlorine_molar_mass"].number)


def usual_ratio(product: str) -> float:
    """Thiosulfate to weigh in for each mg of chlorine [mg/mg]: half as much again as the least.

    Source: common practice, no source, on the stoichiometry of `thiosulfate_ratio`.
    """
    excess: float = load_catalogue("sterilising")["thiosulfate"]["excess"].number
    return thiosulfate_ratio(product) * excess


def neutraliser_g(volume_l: float, chlorine_mg_l: float, ratio: float) -> float:
    """Product that takes out the chlorine measured [g].

    chlorine_mg_l: residual, measured [mg/L]. ratio: mg of product for each mg of chlorine.
    Raises: OutOfRange.
    """
    positive(volume_l, "L", "volume")
    not_negative(chlorine_mg_l, "mg/L", "chlorine")
    positive(ratio, "mg/mg", "ratio")
    return volume_l * chlorine_mg_l * ratio / 1000
