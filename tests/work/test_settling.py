"""The work on the trays."""

from itertools import pairwise

import pytest
from hypothesis import given, settings

from protoconch.animals.profiles import species
from protoconch.animals.settlement import peroxide_volume_ml
from protoconch.work.tasks import season_tasks
from tests.work.made_up_plan import Shape, made_up_plan
from tests.work.shapes import plans


def listed(plan, *kinds):
    tasks = season_tasks(plan, species(plan.hatchery.species))
    return [task for task in tasks if task.kind in kinds]


def test_the_larvae_ready_to_settle_are_shared_out_by_the_water_they_come_from():
    plan = made_up_plan(Shape(tanks=(("large", 1, 400.0), ("small", 1, 200.0))))
    larvae = [task.working.result for task in listed(plan, "settle")]
    assert sum(larvae) == pytest.approx(plan.batches[0].competent.p50)
    assert larvae[0] == pytest.approx(2 * larvae[1])


@settings(max_examples=15)
@given(plans())
def test_no_tray_gets_more_larvae_than_its_floor_is_meant_for(plan):
    most = species(plan.hatchery.species).number("settlement.larvae_per_cm2")
    for task in listed(plan, "settle"):
        assert task.also[-1].result <= most


def test_the_dose_of_peroxide_is_that_of_the_stand_alone_calculation():
    (task,) = listed(made_up_plan(), "induce")
    peroxide = [w for w in (task.working, *task.also) if "molar_mass" in w.formula]
    assert peroxide[0].result == pytest.approx(peroxide_volume_ml(100, 50, 3))
    assert "5.7 mL peroxide of 3 %" in task.amount


def test_the_dose_of_extract_is_ten_millilitres_a_litre():
    (task,) = listed(made_up_plan(), "induce")
    assert task.working.result == pytest.approx(1000)
    assert "1,000 mL extract of 10 g/L" in task.amount


def test_a_species_that_needs_no_inducer_gets_none_and_no_test_of_it():
    plan = made_up_plan(Shape(larval=4), species="west-indian-top-shell")
    kinds = {task.kind for task in season_tasks(plan, species("west-indian-top-shell"))}
    assert "induce" not in kinds
    assert "test competence" not in kinds
    assert "settle" in kinds


def test_trays_are_looked_after_on_every_day_from_settling_to_the_nursery():
    plan = made_up_plan()
    days = [task.day for task in listed(plan, "tray care")]
    dates = plan.batches[0].dates
    assert (days[0] - dates.induce).days == 1
    assert (dates.to_nursery - days[-1]).days == 1
    assert {(b - a).days for a, b in pairwise(days)} == {1}


def test_crowded_trays_are_split_once_and_in_the_days_before_the_nursery():
    plan = made_up_plan(Shape(trays=1, per_cm2=8.0))
    dates = plan.batches[0].dates
    (task,) = listed(plan, "split trays")
    assert dates.induce < task.day < dates.to_nursery
    # at 5 mm the floor holds 5,000 a square metre (common practice, no source)
    assert task.working.result > 0
    assert "more trays" in task.amount


def test_trays_within_their_cover_are_left_alone():
    assert not listed(made_up_plan(), "split trays")


@settings(max_examples=15)
@given(plans())
def test_each_fortnight_on_the_trays_thirty_animals_are_measured(plan):
    for batch in plan.batches:
        sizes = {}
        for task in listed(plan, "weigh and measure"):
            if task.batch == batch.code and task.where == "trays":
                since = (task.day - batch.dates.induce).days
                size = task.working.inputs[0].value
                assert size <= 10 * len(batch.tanks)
                sizes[since // 14] = sizes.get(since // 14, 0) + size
        last = (batch.dates.to_nursery - batch.dates.induce).days
        whole = range(1, (last - 3) // 14)
        assert [sizes.get(n, 0) for n in whole] == [30] * len(whole)
