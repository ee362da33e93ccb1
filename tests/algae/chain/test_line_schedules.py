"""One line alone: its ways to a schedule, its price for vessels, its rest after some days."""

import numpy as np
import pytest

from protoconch.algae.chain.description import Culture, Present
from protoconch.algae.chain.formulation import Problem, formulated
from protoconch.algae.chain.line_schedules import (
    _nothing,
    _staged,
    line_solved,
    scheduled,
    sliced,
    vessels_held,
)
from protoconch.algae.chain.solving import solved
from protoconch.errors import BadInput
from tests.algae.chain.rooms import small_room


def problem(**changes):
    room = small_room(counts=(4, 3), grow=(1, 2), use=(2, 3), spare={"small": 1}, **changes)
    return Problem(room, np.array([[0, 0, 0, 2.0, 3, 1, 0, 2, 4, 1]] * len(room.lines)))


def test_two_stages_find_a_schedule_that_is_no_better_than_the_best():
    asked = problem()
    best, low = line_solved(asked, 0)
    staged = scheduled(asked, 0, _staged(asked, 0, None, None, 5.0))
    assert low <= best.cost <= staged.cost + 1e-6
    assert staged.counts.short.sum() == pytest.approx(best.counts.short.sum())


def test_starting_nothing_is_always_possible_and_feeds_nobody():
    idle = scheduled(problem(), 0, _nothing(formulated(problem(), frozenset([0]))))
    assert idle.counts.started.sum() == 0
    assert idle.counts.short.sum() == 6


def test_a_price_on_vessels_makes_a_line_hold_fewer():
    free, _ = line_solved(problem(), 0)
    dear, _ = line_solved(problem(), 0, prices=np.full((2, 10), 500.0))
    assert dear.held.sum() < free.held.sum()
    assert dear.cost >= free.cost - 1e-6


def test_without_vessels_left_nothing_is_started():
    none, _ = line_solved(problem(), 0, np.array([[4] * 10, [3] * 10]))
    assert none.counts.started.sum() == 0


def test_more_cultures_than_vessels_are_refused():
    crowd = tuple(Culture("alga 0", 1, n, -3, 5, 8) for n in range(1, 6))
    full = Problem(problem().room, problem().demand, Present(crowd))
    with pytest.raises(BadInput, match="more cultures are there than vessels"):
        line_solved(full, 0)


def test_the_rest_of_a_schedule_holds_what_the_whole_one_did():
    asked = problem(clean=1, species=2)
    counts = solved(asked)
    whole = sum(vessels_held(asked, counts, [line]) for line in (0, 1))
    rest = sum(sliced(asked, counts, line, 4, 6).held for line in (0, 1))
    # what is only being cleaned on that morning is told by the room itself, not by the rest
    assert (rest <= whole[:, 4:]).all()
    assert (rest[:, 2:] == whole[:, 6:]).all()
    assert counts.rest(4, 6).started.shape == (2, 2, 6)
