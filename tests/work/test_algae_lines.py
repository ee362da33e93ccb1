"""The algae room's lines of the work list."""

from collections import Counter
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest

from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.plan import planned
from protoconch.algae.demand import TankFood, cells_of
from protoconch.animals.profiles import species
from protoconch.hatchery.algae_vessels import demo_algae_room
from protoconch.work.algae_lines import algae_tasks, tank_food
from protoconch.work.task import ROUNDS, worked
from protoconch.work.tasks import season_tasks
from tests.work.made_up_plan import made_up_plan

FIRST, DAYS = date(2027, 4, 1), 40
CONCH = species("queen-conch")
SHARES = {"t-iso": 1.0, "c-muelleri": 1.0}


@pytest.fixture(scope="module")
def chain():
    room = demo_algae_room().room
    grams = np.zeros((3, DAYS))
    grams[0, 24:] = 0.5
    grams[1, 28:] = 0.3
    return planned(Problem(room, cells_of([line.species for line in room.lines], grams)))


@pytest.fixture(scope="module")
def tasks(chain):
    return [t for n in range(DAYS) for t in algae_tasks(chain, FIRST, FIRST + timedelta(days=n))]


def test_every_culture_is_inoculated_and_emptied_once(chain, tasks):
    kinds = Counter(task.kind for task in tasks)
    assert kinds["inoculate"] == len(chain.lives)
    assert kinds["empty a vessel"] == sum(life.ended is not None for life in chain.lives)


def test_every_feeding_day_has_its_harvest(chain, tasks):
    days = {task.day for task in tasks if task.kind == "harvest"}
    fed = {FIRST + timedelta(days=int(n)) for n in np.flatnonzero(chain.fed.any(axis=0))}
    assert days == fed


def test_a_harvest_says_whether_it_is_for_larvae_or_trays(chain):
    larvae = [TankFood(n, "tank 1", "A", 5, {"t-iso": 0.5, "c-muelleri": 0.1})
              for n in range(28, DAYS)]  # fmt: skip
    trays = [TankFood(n, "trays of batch B", "B", 40, {"c-muelleri": 0.2}, trays=True)
             for n in range(28, DAYS)]  # fmt: skip
    day = FIRST + timedelta(days=30)
    tasks = algae_tasks(chain, FIRST, day, (*larvae, *trays))
    said = {task.what: task.why for task in tasks if task.kind == "harvest"}
    assert said["Harvest Tisochrysis lutea (T-Iso)"] == "It feeds the larvae today."
    assert "33% feeds the larvae today; the rest goes to the trays" in said[
        "Harvest Chaetoceros muelleri and C. gracilis"]  # fmt: skip
    only = algae_tasks(chain, FIRST, day, trays)
    assert "It goes to the trays today." in {task.why for task in only}


def test_every_line_says_why_and_how(tasks):
    for task in tasks:
        assert task.round in ROUNDS
        assert task.why
        assert task.steps
        assert task.amount
        assert task.minutes >= 0


def test_chlorine_and_hot_bottles_carry_their_cautions(tasks):
    for task in tasks:
        if task.kind in {"make medium", "empty a vessel", "renew the tubes"}:
            assert task.cautions


def test_every_amount_can_be_worked_out_again(tasks):
    shown = [task for task in tasks if task.working is not None]
    assert len(shown) > 20
    for task in shown:
        again = worked(task.working.formula, task.working.inputs, task.working.unit)
        assert again.result == pytest.approx(task.working.result)
        assert task.working.result > 0


def test_medium_is_made_on_the_evening_before(tasks):
    made = {task.day for task in tasks if task.kind == "make medium"}
    for task in tasks:
        if task.kind == "inoculate" and task.day > FIRST:
            assert task.day - timedelta(days=1) in made


def test_each_row_of_tubes_is_renewed_weekly(tasks):
    for name in ("Tisochrysis", "Chaetoceros", "Navicula"):
        days = [t.day for t in tasks if t.kind == "renew the tubes" and name in t.what]
        assert {(b - a).days for a, b in pairwise(days)} == {7}


def test_outside_the_schedule_there_is_nothing_to_do(chain):
    assert algae_tasks(chain, FIRST, FIRST - timedelta(days=1)) == ()
    assert algae_tasks(chain, FIRST, FIRST + timedelta(days=DAYS)) == ()


def test_the_tanks_ask_for_what_the_feeding_lines_say():
    plan = made_up_plan()
    first = plan.forecast.first_day
    food = tank_food(plan, CONCH, SHARES, first)
    asked = sum(sum(entry.grams.values()) for entry in food)
    lines = [task for task in season_tasks(plan, CONCH) if task.kind == "feed"]
    assert asked == pytest.approx(sum(task.working.result for task in lines))
    assert {entry.tank for entry in food} == {task.where for task in lines}
    assert any("c-muelleri" in entry.grams for entry in food)


def test_without_a_diatom_line_the_flagellates_give_it_all():
    plan = made_up_plan()
    first = plan.forecast.first_day
    only = tank_food(plan, CONCH, {"t-iso": 0.5, "pavlova": 0.5}, first)
    both = tank_food(plan, CONCH, SHARES, first)
    assert sum(sum(e.grams.values()) for e in only) == pytest.approx(
        sum(sum(e.grams.values()) for e in both)
    )


def test_larvae_that_do_not_feed_ask_for_nothing():
    assert tank_food(made_up_plan(), species("west-indian-top-shell"), SHARES, FIRST) == ()
