"""Food that is asked of the algae room: grams and cells of each species on each day."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.species import alga
from protoconch.errors import BadInput
from protoconch.units import not_negative, positive
from protoconch.words import say

Numbers = NDArray[np.float64]
PG_PER_G = 1e12


@dataclass(frozen=True, slots=True)
class TankFood:
    """What one tank, or the trays of a batch, is to get on a day.

    day: counted from the first day of the demand. age_d: of its animals, since hatch.
    grams: by species of algae, on the mass by which rations are counted. trays: it is for the
    floor of trays, which only diatoms feed; else for larvae.
    """

    day: int
    tank: str
    batch: str
    age_d: int
    grams: Mapping[str, float]
    trays: bool = False


@dataclass(frozen=True, slots=True)
class FoodDemand:
    """The food of all tanks together.

    first: calendar day of day 0. species: in the order of the arrays. grams, cells: shape
    (species, days), the reserve included. tanks: what stands behind them, without the reserve.
    """

    first: date
    species: tuple[str, ...]
    grams: Numbers
    cells: Numbers
    tanks: tuple[TankFood, ...]

    @property
    def days(self) -> int:
        """Days of the demand."""
        return int(self.grams.shape[1])


def food_demand(
    tanks: Sequence[TankFood], species: Sequence[str], first: date, days: int,
    *, reserve: float = 0.0,
) -> FoodDemand:  # fmt: skip
    """Adds up what the tanks ask for, with a reserve.

    species: those that are grown. days: of the demand; food of later days is left out.
    reserve: share on top.
    Raises: BadInput, where a tank asks for a species that is not grown.
    """
    not_negative(reserve, "1", "reserve")
    grams = np.zeros((len(species), days))
    for food in tanks:
        for key, amount in food.grams.items():
            if key not in species:
                raise BadInput(
                    say(
                        "Tank {tank} is to get {key}, which is not grown; grown are {species}.",
                        tank=food.tank,
                        key=key,
                        species=", ".join(species),
                    )
                )
            if 0 <= food.day < days:
                not_negative(amount, "g", "food")
                grams[species.index(key), food.day] += amount
    grams *= 1 + reserve
    return FoodDemand(first, tuple(species), grams, cells_of(species, grams), tuple(tanks))


def cells_of(species: Sequence[str], grams: Numbers) -> Numbers:
    """Cells that the grams hold; shape (species, days)."""
    mass_pg = np.array([alga(key).number("ration_pg") for key in species])
    return np.asarray(grams * PG_PER_G / mass_pg[:, None])


def larval_food(
    tank: str, batch: str, litres: float, hatch_day: int, until_day: int,
    *, ration_mg_l_d: Sequence[tuple[float, float]], shares: Mapping[str, float],
    diatom: str | None = None, diatom_from_d: float = math.inf, half_from_d: float = math.inf,
) -> list[TankFood]:  # fmt: skip
    """Food of one larval tank from hatch to its last day.

    litres: of water. hatch_day, until_day: counted from day 0. ration_mg_l_d: (age, dry mg for
    each L and day) in steps, ages rising. shares: of the flagellates, adding up to 1. diatom: its
    species; none before `diatom_from_d`, rising to half of the mass at `half_from_d`.
    Raises: BadInput, where the shares do not add up; OutOfRange.
    Source: small flagellates first, diatoms later: common practice, no source.
    """
    positive(litres, "L", "tank")
    if abs(sum(shares.values()) - 1) > 1e-6:
        raise BadInput(
            say(
                "The shares of the flagellates add up to {total:g}, not 1.",
                total=sum(shares.values()),
            )
        )
    found = []
    for day in range(hatch_day, until_day + 1):
        age = day - hatch_day
        steps = [mg for from_, mg in ration_mg_l_d if from_ <= age]
        grams = litres * (steps[-1] if steps else 0.0) / 1000
        part = diatom_share(age, diatom_from_d, half_from_d) if diatom else 0.0
        if grams > 0:
            food = {key: grams * (1 - part) * share for key, share in shares.items()}
            if diatom and part > 0:
                food[diatom] = grams * part
            found.append(TankFood(day, tank, batch, age, food))
    return found


def diatom_share(age_d: float, from_d: float, half_from_d: float) -> float:
    """Part of the mass that diatoms give at an age: none, then rising in equal steps to half."""
    if age_d < from_d:
        return 0.0
    rising = max(1.0, half_from_d - from_d + 1)
    return 0.5 * min(1.0, (age_d - from_d + 1) / rising)
