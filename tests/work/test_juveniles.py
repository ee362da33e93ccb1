"""The work in the nursery, and the release."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings

from protoconch.animals.profiles import species
from protoconch.work.tasks import season_tasks
from tests.work.made_up_plan import FIRST_DAY, Shape, floor_m2, made_up_plan
from tests.work.shapes import plans


def listed(plan, *kinds):
    tasks = season_tasks(plan, species(plan.hatchery.species))
    return [task for task in tasks if task.kind in kinds]


def on(plan, values, day):
    return float(values[(day - FIRST_DAY).days])


def test_pellets_are_a_share_of_the_live_weight_that_falls_with_size():
    plan = made_up_plan()
    line = plan.forecast.batches[0]
    shares = {}
    for task in listed(plan, "feed pellets"):
        length = on(plan, line.length_p50, task.day)
        weight = 5.2e-5 * length**3.2 * on(plan, line.alive_p50, task.day)
        percent = 100 * task.working.result / weight
        shares.setdefault(round(percent, 6), []).append(length)
    # 3, 2 and 1.2 per cent to 20, 40 and 80 mm (common practice, no source)
    assert list(shares) == [3, 2, 1.2]
    assert max(shares[3]) <= 20 < min(shares[2])
    assert max(shares[2]) <= 40 < min(shares[1.2])


def test_a_75_mm_juvenile_weighs_what_common_practice_says():
    # 52 g at 75 mm (common practice, no source; two digits as printed)
    animal = species("queen-conch")
    assert animal.number("weight.a") * 75 ** animal.number("weight.b") == pytest.approx(52, abs=0.5)


@settings(max_examples=15)
@given(plans())
def test_the_floor_asked_for_is_the_footprint_over_the_cover(plan):
    animal = species(plan.hatchery.species)
    lines = {line.code: line for line in plan.forecast.batches}
    for task in listed(plan, "siphon", "move to nursery"):
        line = lines[task.batch]
        each = floor_m2(animal, on(plan, line.length_p50, task.day))
        assert task.working.result == pytest.approx(each * on(plan, line.alive_p50, task.day))


@settings(max_examples=15)
@given(plans())
def test_the_floor_is_siphoned_every_day(plan):
    for batch in plan.batches:
        days = [t.day for t in listed(plan, "siphon") if t.batch == batch.code]
        assert len(days) == max((batch.dates.release - batch.dates.to_nursery).days, 0)
        assert len(set(days)) == len(days)


@settings(max_examples=15)
@given(plans())
def test_one_batch_a_day_is_measured_in_the_nursery_and_none_while_a_release_is_prepared(plan):
    days = [t.day for t in listed(plan, "weigh and measure") if t.where == "nursery"]
    assert len(days) == len(set(days))
    assert not set(days) & {t.day for t in listed(plan, "prepare release")}


def test_each_batch_in_the_nursery_is_measured_every_two_weeks():
    plan = made_up_plan(Shape(), Shape(start=7), Shape(start=15))
    for code in "ABC":
        days = [t.day for t in listed(plan, "weigh and measure")
                if t.batch == code and t.where == "nursery"]  # fmt: skip
        assert len(days) > 15
        assert {(b - a).days for a, b in pairwise(days)} <= {14, 28}  # 28 over the preparations


def test_grading_comes_once_on_the_day_that_the_middle_animal_has_20_mm():
    plan = made_up_plan()
    (task,) = listed(plan, "grade")
    line = plan.forecast.batches[0]
    day = (task.day - FIRST_DAY).days
    assert line.length_p50[day - 1] < 20 <= line.length_p50[day]
    assert task.working.result == pytest.approx(line.alive_p50[day] / 2)


def test_the_release_is_prepared_two_weeks_ahead_with_permit_health_check_and_transport():
    plan = made_up_plan()
    (task,) = listed(plan, "prepare release")
    assert 10 <= (plan.batches[0].dates.release - task.day).days <= 14
    words = " ".join(task.steps).lower()
    assert "permit" in words
    assert "health check" in words
    assert "transport" in words


def test_the_release_is_the_last_task_and_of_the_number_that_has_the_size():
    plan = made_up_plan()
    last = season_tasks(plan, species("queen-conch"))[-1]
    assert last.kind == "release"
    assert last.day == plan.batches[0].dates.release
    assert last.working.result == pytest.approx(plan.batches[0].released.p50)
    assert "80 mm" in last.amount


def test_batches_share_the_planned_floor_by_what_each_needs():
    plan = made_up_plan(Shape(), Shape(start=30, trays=2))
    half = 0.5 * plan.forecast.nursery_m2_p50
    plan = replace(plan, forecast=replace(plan.forecast, nursery_m2_p50=half))
    minutes = {}
    for task in listed(plan, "feed pellets"):
        minutes[task.day] = minutes.get(task.day, 0.0) + task.minutes
    for day, spent in minutes.items():
        assert spent == pytest.approx(on(plan, half, day))


def test_every_day_in_the_nursery_has_its_pellets():
    days = [task.day for task in listed(made_up_plan(), "feed pellets")]
    assert {(b - a).days for a, b in pairwise(days)} == {1}
