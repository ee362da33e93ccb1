"""The judge finds what is impossible in a schedule, whoever made it."""

from dataclasses import replace

import numpy as np
import pytest

from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.judge import faults
from protoconch.algae.chain.plan import planned
from tests.algae.chain.rooms import small_room


@pytest.fixture(scope="module")
def plan():
    room = small_room(counts=(3, 3), clean=1, species=2)
    demand = np.array([[0, 0, 0, 0, 2.0, 3, 1, 0, 2, 2], [0, 0, 0, 1.0, 1, 0, 2, 2, 0, 1]])
    found = planned(Problem(room, demand))
    assert faults(found) == ()
    return found


def with_life(plan, choose, **changes):
    """The same schedule with the first culture that is chosen changed."""
    lives = list(plan.lives)
    place = next(i for i, life in enumerate(lives) if choose(life))
    lives[place] = replace(lives[place], **changes)
    return replace(plan, lives=tuple(lives))


def large(life):
    return life.step == 1 and bool(life.drawn)


@pytest.mark.parametrize(
    ("choose", "changes", "said"),
    [
        (large, {"vessel": ("large", 9)}, "There is no large 9"),
        (large, {"vessel": ("small", 1)}, "is not in a large"),
        (large, {"donors": ()}, "has 0 donors where it needs 1"),
        (large, {"donors": (("small", 99),)}, "not poured on that day"),
        (large, {"ready": 0}, "ready too early"),
        (large, {"last": 99}, "past its age limit"),
        (large, {"ended": 99}, "kept past its age limit"),
        (large, {"drawn": ((4, 99.0),)}, "more than it can"),
        (large, {"drawn": ((0, 1.0),)}, "when it cannot be"),
        (lambda x: x.step == 0, {"donors": (("large", 1),)}, "has 1 donors where it needs 0"),
        (lambda x: x.ending == "poured", {"ended": None, "ending": ""}, "not poured on that day"),
    ],
)  # fmt: skip
def test_an_impossible_schedule_is_found_out(plan, choose, changes, said):
    assert any(said in fault for fault in faults(with_life(plan, choose, **changes)))


def test_two_cultures_in_one_vessel_are_found_out(plan):
    first, second = [x for x in plan.lives if x.step == 1 and x.ended is not None][:2]
    both = with_life(plan, lambda x: x is second, vessel=first.vessel, started=first.started)
    assert any("before the vessel is free and clean" in fault for fault in faults(both))


def test_a_donor_of_another_species_is_found_out(plan):
    life = next(x for x in plan.lives if large(x))
    other = next(x.species for x in plan.lives if x.species != life.species)
    swapped = with_life(plan, lambda x: x.vessel == life.donors[0] and x.ended == life.started,
                        species=other)  # fmt: skip
    assert any("donor of another kind" in fault for fault in faults(swapped))


def test_a_donor_that_serves_two_is_found_out(plan):
    life = next(x for x in plan.lives if large(x))
    twin = replace(life, vessel=("large", 3), drawn=())
    doubled = replace(plan, lives=(*plan.lives, twin))
    assert any("shares a donor" in fault for fault in faults(doubled))


def test_food_from_nowhere_is_found_out(plan):
    assert "The cells drawn" in faults(replace(plan, fed=plan.fed + 1.0))[0]
    hungry = replace(plan, short=plan.short * 0, fed=plan.fed * 0.5)
    assert any("shorter of food" in fault for fault in faults(hungry))


def test_work_on_a_day_off_is_found_out(plan):
    day = plan.lives[0].started
    off = replace(plan, problem=replace(plan.problem, closed=frozenset([day])))
    assert any("day without work" in fault for fault in faults(off))
