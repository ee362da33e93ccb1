"""Mixed diets on one basis: cells and litres of each species for a tank, and what is too much."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from protoconch.algae.species import Basis, alga, equivalent, ration_basis
from protoconch.errors import BadInput, MissingInput
from protoconch.units import not_negative, positive, text
from protoconch.words import say

MOST_ADDED_SHARE = 0.05
"""Culture added at once, as a share of the tank; common practice, no source: its spent medium."""


@dataclass(frozen=True, slots=True)
class DietPart:
    """One species of a diet: its share of the mass, cells wanted [cells/mL], culture to add [L]."""

    species: str
    share: float
    wanted_per_ml: float
    add_l: float


@dataclass(frozen=True, slots=True)
class Diet:
    """A mixed ration for one tank.

    parts: one for each species. added_l: all cultures together [L]. too_much: a sentence where
    the cultures are so thin that too much of their water comes along, or empty. basis: what the
    cells of all are compared by; basis_why: why by that, or that it was asked for.
    """

    parts: tuple[DietPart, ...]
    added_l: float
    too_much: str
    basis: Basis
    basis_why: str


def diet(
    tank_l: float,
    shares: Mapping[str, float],
    cultures_per_ml: Mapping[str, float],
    *,
    wanted_t_iso_per_ml: float,
    basis: Basis | None = None,
    most_added_share: float = MOST_ADDED_SHARE,
) -> Diet:
    """A ration of several species, together worth so many T-Iso cells.

    tank_l: water in the tank [L]. shares: of the mass, by species, adding up to 1.
    cultures_per_ml: density of each culture [cells/mL]. wanted_t_iso_per_ml: in the tank.
    basis: what the cells are compared by, one for all; that of `ration_basis` where None.
    Returns: with the volume added counted: Σ V_i is part of the water that each is mixed into.
    Raises: BadInput, MissingInput, MissingNumber; where the cultures are too thin altogether.
    Source: mixing of volumes; equivalents by `species.equivalent`.
    """
    _check_diet(tank_l, shares, cultures_per_ml)
    not_negative(wanted_t_iso_per_ml, "cells/mL", "wanted")
    usual, why = ration_basis()
    chosen: Basis = usual if basis is None else basis
    wanted = {key: wanted_t_iso_per_ml * share / equivalent(key, basis=chosen)
              for key, share in shares.items()}  # fmt: skip
    water = sum(cells / cultures_per_ml[key] for key, cells in wanted.items())
    if water >= 1:
        raise BadInput(
            say(
                "The cultures are too thin: even a tank of nothing else would not hold "
                "{wanted:,.0f} T-Iso cells/mL; harvest denser cultures.",
                wanted=wanted_t_iso_per_ml,
            )
        )
    filled = tank_l / (1 - water)
    parts = tuple(DietPart(key, shares[key], cells, filled * cells / cultures_per_ml[key])
                  for key, cells in wanted.items())  # fmt: skip
    added = filled - tank_l
    too_much = _too_much(added, tank_l, most_added_share)
    return Diet(parts, added, too_much, chosen, why if basis is None else say("It was asked for."))


def _check_diet(tank_l: float, shares: Mapping[str, float], cultures: Mapping[str, float]) -> None:
    positive(tank_l, "L", "tank")
    for key, share in shares.items():
        alga(key)
        not_negative(share, "1", say("share of {key}", key=key))
        if key not in cultures:
            raise MissingInput(say("The density of the culture of {key} is missing.", key=key))
        positive(cultures[key], "cells/mL", say("culture of {key}", key=key))
    if not shares or abs(sum(shares.values()) - 1) > 1e-6:
        raise BadInput(
            say("The shares of a diet add up to {total:g}, not to 1.", total=sum(shares.values()))
        )


def _too_much(added_l: float, tank_l: float, most_share: float) -> str:
    if added_l <= most_share * tank_l * (1 + 1e-9):
        return ""
    return say(
        "{added_l} of culture is {share:.0%} of the tank, more than {most:.0%}: harvest "
        "denser cultures, settle them first, or feed after the water change.",
        added_l=text(added_l, "L", 2),
        share=added_l / tank_l,
        most=most_share,
    )


def spat_culture_l_d(
    live_mg: float, *, dry_mg_per_mg_week: float, mg_per_million: float, culture_per_ul: float
) -> float:
    """Culture for animals fed by their weight: S R / (7 W C) [L/d].

    live_mg: S, live weight of all [mg]. dry_mg_per_mg_week: R, dry algae for each mg of live
    weight and week. mg_per_million: W, dry mass of a million cells [mg]. culture_per_ul: C.
    Source: Helm, Bourne & Lovatelli 2004, FAO Fish Tech Pap 471, section 6.4, form from memory.
    """
    not_negative(live_mg, "mg", say("live weight"))
    not_negative(dry_mg_per_mg_week, "1", "ration")
    positive(mg_per_million, "mg", say("mass of a million cells"))
    positive(culture_per_ul, "cells/µL", "culture")
    return live_mg * dry_mg_per_mg_week / (7 * mg_per_million * culture_per_ul)


def left_after(share_per_h: float, hours: float) -> float:
    """Share of the cells left after larvae have filtered: exp(-N CR t).

    share_per_h: larvae for each mL times the mL that one clears in an hour. hours: t.
    Source: constant clearing (textbook).
    """
    not_negative(share_per_h, "per h", "clearing")
    not_negative(hours, "h", "hours")
    return math.exp(-share_per_h * hours)
