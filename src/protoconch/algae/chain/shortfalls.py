"""Which tank goes short of what on which day, and what to do about it."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.plan import ChainPlan
from protoconch.algae.demand import TankFood
from protoconch.algae.species import alga
from protoconch.units import text
from protoconch.words import joined, phrase, say

Numbers = NDArray[np.float64]
LEAST = 1e-6
MOST_THINNED = 0.5
"""Share of the animals of a tank beyond which taking them out is no remedy; assumption."""


@dataclass(frozen=True, slots=True)
class Shortfall:
    """A tank that lacks food on a day.

    missing_g: of the species, on the mass of rations. shift_to: species with cells over that may
    stand in for part of it, and their grams. thin_share: share of its animals to take out so that
    the rest has enough, if nothing is bought. trays: it is the trays of a batch. remedy: what to
    do, in a sentence.
    """

    day: int
    tank: str
    batch: str
    species: str
    missing_g: float
    shift_to: tuple[tuple[str, float], ...]
    thin_share: float
    trays: bool
    remedy: str


def cells_over(plan: ChainPlan) -> Numbers:
    """Cells that ready cultures could give on a day beyond what is fed, shape (lines, days)."""
    problem = plan.problem
    found = np.zeros_like(problem.demand)
    for row, line in enumerate(problem.room.lines):
        place, step = len(line.steps) - 1, line.steps[-1]
        for life in plan.lives:
            if life.species != line.species or life.step != place:
                continue
            until = min(life.last, problem.days - 1 if life.ended is None else life.ended)
            given = dict(life.drawn)
            left = 1.0 if life.started >= 0 else _left(plan, life.vessel[1], row)
            for day in range(max(0, life.ready), until + 1):
                taken = given.get(day, 0.0)
                if step.drawn:
                    found[row, day] += step.cells - taken
                else:
                    left -= taken / step.cells
                    found[row, day] += max(0.0, left) * step.cells
    return np.maximum(found, 0.0)


def _left(plan: ChainPlan, vessel: int, row: int) -> float:
    line = plan.problem.room.lines[row]
    return next((c.left for c in plan.problem.present.cultures if c.species == line.species
                 and c.step == len(line.steps) - 1 and c.vessel == vessel), 1.0)  # fmt: skip


def shortfalls(
    plan: ChainPlan, tanks: Sequence[TankFood], diatom_from_d: float
) -> tuple[Shortfall, ...]:
    """Tanks that go short, in order of days; the youngest larvae are fed first, trays last.

    tanks: what each is to get, days counted as in the schedule; a reserve above it is used first.
    diatom_from_d: age before which diatoms are no food (common practice, no source).
    """
    over_g, fed_g = _grams(plan, cells_over(plan)), _grams(plan, plan.fed)
    rows = {line.species: row for row, line in enumerate(plan.problem.room.lines)}
    found: list[Shortfall] = []
    for day in range(plan.problem.days):
        todays = [food for food in tanks if food.day == day]
        for species, row in rows.items():
            asked = sum(food.grams.get(species, 0.0) for food in todays)
            there = float(fed_g[row, day])
            for food in sorted(todays, key=lambda f: (f.trays, f.age_d)):
                wanted = food.grams.get(species, 0.0)
                missing = max(0.0, wanted - there)
                there = max(0.0, there - wanted)
                if missing > LEAST * max(asked, LEAST):
                    shift = _shifted(food, species, missing, over_g, rows, diatom_from_d)
                    found.append(_shortfall(food, species, missing, shift))
    return tuple(found)


def _grams(plan: ChainPlan, cells: Numbers) -> Numbers:
    mass = np.array([alga(line.species).number("ration_pg") for line in plan.problem.room.lines])
    return np.asarray(cells * mass[:, None] / 1e12)


def _shifted(
    food: TankFood, species: str, missing: float, over_g: Numbers, rows: dict[str, int],
    diatom_from_d: float,
) -> tuple[tuple[str, float], ...]:  # fmt: skip
    """Other algae that stand in; what they give is taken from what is over."""
    found = []
    for other, row in rows.items():
        edible = feeds(other, food, diatom_from_d)
        taken = min(missing, float(over_g[row, food.day])) if other != species and edible else 0.0
        if taken > LEAST:
            over_g[row, food.day] -= taken
            missing -= taken
            found.append((other, taken))
    return tuple(found)


def feeds(species: str, food: TankFood, diatom_from_d: float) -> bool:
    """Whether a species is food there: on trays any diatom, for larvae none that makes films."""
    kind = alga(species).kind
    if food.trays:
        return kind in {"diatom", "film diatom"}
    return kind != "film diatom" and (kind != "diatom" or food.age_d >= diatom_from_d)


def _shortfall(
    food: TankFood, species: str, missing: float, shift: tuple[tuple[str, float], ...]
) -> Shortfall:
    rest = missing - sum(grams for _, grams in shift)
    thin = max(0.0, rest / sum(food.grams.values()))
    words = remedy(missing, shift, thin, trays=food.trays)
    sentence = say(
        "{tank} lacks {missing} of {species}: {remedy}.",
        tank=food.tank,
        missing=text(missing, "g", 2),
        species=species,
        remedy=words,
    )
    return Shortfall(food.day, food.tank, food.batch, species, missing, shift, thin, food.trays,
                     sentence)  # fmt: skip


def remedy(
    missing_g: float, shift: tuple[tuple[str, float], ...], thin_share: float, *, trays: bool
) -> str:
    """What to do about food that lacks: shift to others, buy the rest, or thin."""
    rest = missing_g - sum(grams for _, grams in shift)
    said = [
        say("give {grams} of {other} instead", grams=text(grams, "g", 2), other=other)
        for other, grams in shift
    ]
    if rest > LEAST:
        helps = thin_share <= MOST_THINNED
        words = phrase("buy {grams} dry of paste, or thin the tank by {share:.0%}")
        if trays and helps:
            words = phrase("buy {grams} dry of diatom paste, or thin the trays by {share:.0%}")
        elif trays:
            words = phrase("buy {grams} dry of diatom paste, thinning alone cannot help")
        elif not helps:
            words = phrase("buy {grams} dry of paste, thinning alone cannot help")
        said.append(say(words, grams=text(rest, "g", 2), share=thin_share))
    return joined(said, "; ")
