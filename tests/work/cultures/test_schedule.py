"""What the room's schedule says from a day on."""

from datetime import timedelta

import numpy as np
import pytest

from protoconch.algae.chain.logged_room import PresentCulture
from protoconch.algae.chain.present_plan import present_plan
from protoconch.algae.chain.what_if import morning_of
from protoconch.work.cultures.bench import usual_chlorine_mg_l, usual_residual_mg_l
from protoconch.work.cultures.schedule import MOVES_DAYS, food, held, moves, worst_losses
from tests.pictures.algae_answer import FIRST, small_answer

DAY = 25


@pytest.fixture(scope="module")
def answer():
    return small_answer()


def as_written(answer, day):
    """The cultures of the schedule's morning, as they would have been logged."""
    steps = {line.species: line.steps for line in answer.plan.problem.room.lines}
    volumes = {kind.name: kind.litres for kind in answer.plan.problem.room.kinds}
    found = []
    for one in morning_of(answer.plan, day).cultures:
        kind = steps[one.species][one.step].kind
        started = answer.first + timedelta(days=one.started)
        found.append(PresentCulture(one.species, kind, one.vessel, started,
                                    volumes[kind] * one.left))  # fmt: skip
    return found


@pytest.fixture(scope="module")
def present(answer):
    return present_plan(answer, FIRST + timedelta(days=DAY), as_written(answer, DAY), effort=0.1)


def test_moves_are_those_of_two_weeks_and_every_start_is_among_them(answer):
    begin = FIRST + timedelta(days=DAY)
    found = moves(answer.plan, FIRST, begin)
    assert all(begin <= day < begin + timedelta(days=MOVES_DAYS) for day, _ in found)
    starts = sum(task.kind == "inoculate" for _, tasks in found for task in tasks)
    assert starts == int(answer.plan.counts.started[:, :, DAY : DAY + MOVES_DAYS].sum()) > 0


def test_food_given_is_what_was_asked_where_no_day_is_short(answer):
    for one in food(answer.plan, DAY):
        assert sum(one.asked_g) > 0
        if not one.days_short:
            assert np.allclose(one.given_g, one.asked_g, rtol=1e-4)


def test_a_starved_room_gives_less_and_says_on_how_many_days():
    starved = small_answer(scale=60.0)
    short = [one for one in food(starved.plan, DAY) if one.days_short]
    assert short
    assert all(sum(one.given_g) < sum(one.asked_g) for one in short)


def test_cultures_there_stand_beside_those_of_the_schedule(answer):
    rows = held(answer.plan, DAY, {("t-iso", "carboy"): 3})
    assert {one.there for one in rows} == {0, 3}
    alive = sum(life.started <= DAY and (life.ended is None or life.ended > DAY)
                for life in answer.plan.lives)  # fmt: skip
    assert sum(one.wanted for one in rows) == alive
    assert all(one.wanted == 0 for one in held(answer.plan, 10_000, {}))


def test_a_loss_of_each_alga_is_told_with_its_vessel(answer, present):
    found = worst_losses(answer, present, effort=0.05)
    there = {(c.species) for c in morning_of(present.plan, 1).cultures}
    assert {one.species for one in found} == there
    assert all(one.cells > 0 and one.sentences for one in found)
    assert all(one.short == any("lack" in words for words in one.sentences) for one in found)


def test_enough_chlorine_is_added_that_some_is_left():
    assert usual_chlorine_mg_l() > usual_residual_mg_l() > 0
