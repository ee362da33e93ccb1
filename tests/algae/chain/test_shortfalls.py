"""Which tank goes short, and what stands in for what it lacks."""

from dataclasses import replace

import numpy as np
import pytest

from protoconch.algae.chain.description import Culture, Present, Room, VesselKind
from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.lines import line_of
from protoconch.algae.chain.plan import planned
from protoconch.algae.chain.shortfalls import cells_over, feeds, shortfalls
from protoconch.algae.demand import TankFood, cells_of

KINDS = (VesselKind("flask", 0.25, 3), VesselKind("carboy", 20, 3))
SPECIES = ("t-iso", "c-muelleri")
ROOM = Room(KINDS, tuple(line_of(key, KINDS) for key in SPECIES))
TANKS = (
    TankFood(0, "tank 1", "A", 3, {"t-iso": 0.3}),
    TankFood(0, "tank 2", "B", 12, {"t-iso": 0.5, "c-muelleri": 0.5}),
)


def plan_with(*cultures):
    grams = np.zeros((2, 2))
    for food in TANKS:
        for key, amount in food.grams.items():
            grams[SPECIES.index(key), food.day] += amount
    return planned(Problem(ROOM, cells_of(SPECIES, grams), Present(cultures)))


DIATOM = Culture("c-muelleri", 1, 1, -5, -1, 3)
FLAGELLATE = Culture("t-iso", 1, 2, -9, -1, 5)


def test_no_tank_goes_short_while_there_is_enough():
    plan = plan_with(DIATOM, FLAGELLATE)
    assert plan.days_short == 0
    assert shortfalls(plan, TANKS, 5) == ()


def test_an_older_tank_shifts_to_diatoms_and_a_young_one_buys():
    found = shortfalls(plan_with(DIATOM), TANKS, 5)
    young, old = found
    assert (young.tank, young.species) == ("tank 1", "t-iso")
    assert young.shift_to == ()
    assert "buy 0.3 g dry of paste, thinning alone cannot help" in young.remedy
    assert old.shift_to == (("c-muelleri", pytest.approx(0.5)),)
    assert old.remedy == "tank 2 lacks 0.5 g of t-iso: give 0.5 g of c-muelleri instead."


def test_the_youngest_are_fed_first():
    half = replace(FLAGELLATE, left=1.0)
    plan = plan_with(half, DIATOM)
    starved = replace(plan, fed=plan.fed * np.array([[0.5], [1.0]]))
    found = shortfalls(starved, TANKS, 5)
    assert [entry.tank for entry in found] == ["tank 2"]
    assert found[0].missing_g == pytest.approx(0.4)


def test_what_is_over_is_never_given_twice():
    twice = (*TANKS, TankFood(0, "tank 3", "C", 20, {"t-iso": 3.0}))
    plan = plan_with(DIATOM)
    over_g = cells_over(plan)[1, 0] * 30e-12
    given = sum(grams for entry in shortfalls(plan, twice, 5) for _, grams in entry.shift_to)
    assert given <= over_g + 1e-9


def test_trays_take_any_diatom_and_larvae_none_that_makes_films():
    young, old = (TankFood(0, "tank", "A", age, {}) for age in (3, 12))
    trays = TankFood(0, "trays of batch A", "A", 40, {}, trays=True)
    eaten = {key: [feeds(key, food, 5) for food in (young, old, trays)]
             for key in ("t-iso", "c-muelleri", "navicula")}  # fmt: skip
    assert eaten == {"t-iso": [True, True, False], "c-muelleri": [False, True, True],
                     "navicula": [False, False, True]}  # fmt: skip


def test_a_reserve_is_used_before_a_tank_goes_short():
    plan = plan_with(DIATOM, FLAGELLATE)
    asked = replace(plan, fed=plan.fed / 1.1)
    fewer = tuple(replace(food, grams={k: g / 1.1 for k, g in food.grams.items()})
                  for food in TANKS)  # fmt: skip
    assert shortfalls(asked, fewer, 5) == ()
    assert shortfalls(asked, TANKS, 5)
