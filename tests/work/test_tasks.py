"""The work list of a whole plan."""

from collections import Counter, defaultdict
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings

from protoconch.animals.profiles import species
from protoconch.work.tasks import KINDS, ROUNDS, day_tasks, season_days, season_tasks
from tests.work.made_up_plan import FIRST_DAY, Shape, made_up_plan
from tests.work.shapes import plans

RISKY = ("collect", "induce", "test competence", "change water", "siphon", "release", "grade")


def listed(plan):
    return season_tasks(plan, species(plan.hatchery.species))


@settings(max_examples=25)
@given(plans())
def test_no_task_comes_before_its_batch_is_collected_or_after_its_release(plan):
    dates = {batch.code: batch.dates for batch in plan.batches}
    for task in listed(plan):
        assert dates[task.batch].collect <= task.day <= dates[task.batch].release


@pytest.mark.parametrize("days", [2, 10, 40, 80])
def test_a_batch_cut_short_by_the_end_of_the_season_has_no_task_after_it(days):
    plan = made_up_plan(Shape(), Shape(start=1))
    end = FIRST_DAY + timedelta(days=days)
    short = replace(plan.batches[0], dates=replace(plan.batches[0].dates, release=end))
    plan = replace(plan, batches=(short, plan.batches[1]))
    assert max(task.day for task in listed(plan) if task.batch == short.code) == end


@settings(max_examples=25)
@given(plans(("queen-conch", "fighting-conch", "milk-conch")))
def test_every_tank_with_larvae_is_fed_once_on_each_day(plan):
    fed = Counter((t.day, t.batch, t.where) for t in listed(plan) if t.kind == "feed")
    wanted = Counter()
    for batch in plan.batches:
        days = (batch.dates.induce - batch.dates.hatch).days
        for n in range(days):
            day = batch.dates.hatch + timedelta(days=n)
            if day < batch.dates.release:
                for tank in batch.tanks:
                    wanted[day, batch.code, f"{tank.kind} tank {tank.number}"] += 1
    assert fed == wanted


@settings(max_examples=25)
@given(plans(("west-indian-top-shell",)))
def test_larvae_that_live_on_their_yolk_get_no_algae(plan):
    kinds = {task.kind for task in listed(plan)}
    assert "feed" not in kinds
    assert "change water" in kinds or all(
        (b.dates.induce - b.dates.hatch).days <= 2 for b in plan.batches
    )


@settings(max_examples=40)
@given(plans())
def test_no_day_asks_for_more_hours_than_the_plan_keeps_free(plan):
    minutes = defaultdict(float)
    for task in listed(plan):
        minutes[task.day] += task.minutes
    for day, needed in minutes.items():
        kept = plan.forecast.work_h[(day - FIRST_DAY).days]
        assert needed / 60 <= kept + 1e-9, day


@settings(max_examples=25)
@given(plans())
def test_every_task_has_a_round_a_reason_steps_time_and_positive_amounts(plan):
    for task in listed(plan):
        assert task.round in ROUNDS
        assert task.kind in KINDS
        assert task.what
        assert task.where
        assert task.amount
        assert task.why.endswith(".")
        assert task.steps
        assert task.minutes > 0
        assert task.working is not None
        for working in (task.working, *task.also):
            assert working.result > 0, task
            assert all(part.source and part.unit for part in working.inputs)


@pytest.mark.parametrize("kind", RISKY)
def test_work_that_can_hurt_someone_or_needs_a_permit_says_so(kind):
    tasks = [task for task in listed(made_up_plan()) if task.kind == kind]
    assert tasks
    assert all(task.cautions for task in tasks)


def test_collecting_and_release_put_the_permit_and_local_law_first():
    for task in listed(made_up_plan()):
        if task.kind in {"collect", "release", "prepare release"}:
            assert "permit" in task.cautions[0].lower()
            assert "law" in task.cautions[0].lower()


def test_a_season_of_the_demonstration_species_meets_every_kind_of_task_but_splitting():
    kinds = {task.kind for task in listed(made_up_plan())}
    assert kinds == set(KINDS) - {"split trays"}


def test_the_tasks_of_the_season_are_the_tasks_of_its_days():
    plan = made_up_plan(Shape(), Shape(start=9, larval=19, nursery=40))
    animal = species("queen-conch")
    first, last = season_days(plan)
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    assert season_tasks(plan, animal) == tuple(
        task for day in days for task in day_tasks(plan, animal, day)
    )


def test_rounds_follow_each_other_through_the_day():
    animal = species("queen-conch")
    for n in range(60):
        tasks = day_tasks(made_up_plan(), animal, FIRST_DAY + timedelta(days=n))
        order = [ROUNDS.index(task.round) for task in tasks]
        assert order == sorted(order)


def test_a_day_outside_the_season_has_no_tasks():
    plan, animal = made_up_plan(), species("queen-conch")
    first, last = season_days(plan)
    assert day_tasks(plan, animal, first - timedelta(days=1)) == ()
    assert day_tasks(plan, animal, last + timedelta(days=1)) == ()


def test_a_plan_without_batches_has_no_work():
    plan = made_up_plan()
    empty = replace(plan, batches=(), forecast=replace(plan.forecast, batches=()))
    assert season_days(empty) is None
    assert season_tasks(empty, species("queen-conch")) == ()
