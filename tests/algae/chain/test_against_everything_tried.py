"""The scheduler on tiny rooms, against an exhaustive search that knows no solver."""

import numpy as np
import pytest

from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.judge import faults
from protoconch.algae.chain.plan import planned
from tests.algae.chain.rooms import least_cost, small_room

CASES = [
    (small_room(), [0, 0, 0, 2, 2, 0]),
    (small_room(), [0, 0, 0, 1, 1, 3]),
    (small_room(counts=(1, 1)), [0, 0, 0, 2, 2, 2, 1]),
    (small_room(counts=(2, 2), clean=1), [0, 0, 0, 2, 3, 1, 2]),
    (small_room(counts=(1, 2), grow=(2, 1)), [0, 0, 0, 1, 0, 4]),
    (small_room(counts=(2, 2), use=(1, 3)), [0, 0, 0, 0.6, 0.6, 0.6, 2]),
    (small_room(counts=(2, 2), drawn=True, use=(2, 3)), [0, 0, 0, 1, 3, 2, 1]),
    (small_room(counts=(2, 1), drawn=True, use=(2, 2)), [0, 0, 0, 2, 2, 2, 2]),
    (small_room(counts=(2, 2), donors=2), [0, 0, 0, 2, 2, 1]),
    (small_room(counts=(1, 2), starts=2), [0, 0, 0, 4, 2, 1]),
]


@pytest.mark.parametrize(("room", "cells"), CASES, ids=range(len(CASES)))
def test_no_schedule_costs_less_than_the_one_found(room, cells):
    problem = Problem(room, np.array([cells], dtype=float))
    plan = planned(problem)
    assert faults(plan) == ()
    assert plan.counts.cost == pytest.approx(least_cost(problem), abs=0.02)
    assert plan.counts.bound <= plan.counts.cost + 1e-6


def test_a_day_off_can_only_cost_more():
    demand = np.array([[0.0, 0, 0, 2, 2, 0]])
    free = Problem(small_room(), demand)
    off = Problem(small_room(), demand, closed=frozenset([0]))
    assert planned(off).counts.cost == pytest.approx(least_cost(off), abs=0.02)
    assert planned(off).counts.cost > planned(free).counts.cost
