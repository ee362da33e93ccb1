"""The day's work from what the log says there is."""

from dataclasses import replace
from datetime import timedelta

import pytest

from protoconch.animals.profiles import species
from protoconch.log.state import EMPTY
from protoconch.work.present import present_tasks
from protoconch.work.tasks import day_tasks
from tests.work.made_up_plan import Shape, made_up_plan
from tests.work.written import Written, on

ONE = Shape(tanks=(("large", 1, 400.0),))
HATCH = 4
"""Day of the made-up plan on which its batch hatches."""


@pytest.fixture
def plan():
    return made_up_plan(ONE)


def grams(tasks):
    return {task.where: task.working.result for task in tasks if task.kind == "feed"}


def inputs(task):
    workings = (task.working, *task.also)
    return {part.name: part for working in workings for part in working.inputs}


def test_while_the_log_has_no_animals_the_work_is_that_of_the_plan(plan):
    animal = species(plan.hatchery.species)
    for day in range(-2, 80):
        now = present_tasks(EMPTY, plan, animal, on(day))
        then = day_tasks(plan, animal, on(day))
        assert [replace(t, batch="A") for t in now] == list(then)
        assert {task.batch for task in now} <= {"27A"}


def counted_at(plan, share):
    """The tasks of day 7 where the tank was counted on day 6 at a share of the plan's number."""
    log = Written(plan).stocked(HATCH)
    number = plan.forecast.batches[0].alive_p50[6]
    return log.add(6, "counted", "large tank 1", animals=round(number * share)).tasks(7)


def test_a_tank_counted_at_half_gets_half_the_food(plan):
    full, half = grams(counted_at(plan, 1.0)), grams(counted_at(plan, 0.5))
    assert half["large tank 1"] == pytest.approx(full["large tank 1"] / 2, rel=1e-3)


def test_a_tank_as_the_plan_has_it_gets_the_food_of_the_plan(plan):
    planned = grams(day_tasks(plan, species(plan.hatchery.species), on(7)))
    assert grams(counted_at(plan, 1.0)) == pytest.approx(planned, rel=1e-3)


def test_larvae_over_the_density_of_their_age_get_no_food_beyond_it(plan):
    crowded, more = (grams(counted_at(plan, share))["large tank 1"] for share in (3.0, 6.0))
    assert crowded == pytest.approx(more)


def test_the_working_names_the_log_and_the_day_of_the_count(plan):
    feed = next(task for task in counted_at(plan, 0.5) if task.kind == "feed")
    assert inputs(feed)["counted"].source == "this hatchery's log, counted 7 April"
    assert inputs(feed)["survival"].source == "the plan"


def test_a_count_is_carried_on_by_what_the_plan_expects_since(plan):
    log = Written(plan).stocked(HATCH).add(12, "counted", "large tank 1", animals=10_000)
    alive = plan.forecast.batches[0].alive_p50
    task = next(t for day in range(13, 18) for t in log.tasks(day, "count"))
    days = (task.day - on(12)).days
    told = next(w.result for w in task.also if w.unit == "1")
    assert told == pytest.approx(10_000 * alive[12 + days] / alive[12], rel=1e-6)


def test_no_tank_gets_fewer_changes_of_water_than_the_plan_gives_it(plan):
    log = Written(plan).stocked(HATCH)
    animal = species(plan.hatchery.species)
    for day in range(HATCH + 1, HATCH + 20):
        planned = {t.where for t in day_tasks(plan, animal, on(day)) if t.kind == "change water"}
        assert planned <= {task.where for task in log.tasks(day, "change water")}


def test_a_change_of_water_that_was_missed_is_due_the_next_day(plan):
    log = Written(plan).stocked(HATCH)
    first = next(d for d in range(HATCH + 1, HATCH + 4) if log.tasks(d, "change water"))
    log.add(first, "water changed", "large tank 1", share=1.0)
    assert not log.tasks(first + 1, "change water")
    assert log.tasks(first + 2, "change water")
    assert log.tasks(first + 3, "change water")


def test_an_emptied_tank_gets_no_work(plan):
    log = Written(plan).stocked(HATCH)
    assert any(task.where == "large tank 1" for task in log.tasks(10))
    log.add(9, "lost", "large tank 1", cause="the air failed")
    assert not [task for task in log.tasks(10) if task.where == "large tank 1"]


def test_a_batch_that_the_plan_does_not_know_gets_the_work_of_its_age(plan):
    log = Written(plan).stocked(HATCH, "small tank 3", batch="27Z")
    tasks = log.tasks(9)
    assert {"feed"} <= {task.kind for task in tasks if task.where == "small tank 3"}
    assert {task.batch for task in tasks if task.where == "small tank 3"} == {"27Z"}


def test_a_tank_that_was_not_planned_is_worked_like_one_that_was(plan):
    log = Written(plan).stocked(HATCH, "large tank 5")
    assert grams(log.tasks(7)).keys() == {"large tank 5"}


def test_dates_follow_the_hatch_that_was_logged(plan):
    log = Written(plan).stocked(HATCH + 3)
    thin = plan.batches[0].dates.thin[0]
    due = [day for day in range(HATCH + 4, 25) if log.tasks(day, "thin")]
    assert on(due[0]) == thin.replace(day=thin.day + 3)


def test_thinning_stays_due_until_the_tank_is_at_its_density(plan):
    log = Written(plan).stocked(HATCH)
    thin = (plan.batches[0].dates.thin[0] - on(0)).days
    late = log.tasks(thin + 2, "thin")[0]
    assert late.why.startswith("It was due 9 April, 2 days ago, and is not in the log.")
    log.add(thin + 2, "thinned", "large tank 1", kept=plan.batches[0].density_per_l[1] * 400)
    assert not log.tasks(thin + 3, "thin")


def test_a_tank_with_few_larvae_is_not_thinned(plan):
    log = Written(plan).stocked(HATCH, animals=10_000)
    assert not log.tasks((plan.batches[0].dates.thin[0] - on(0)).days, "thin")


def test_eggs_that_have_not_hatched_are_looked_after_and_the_tank_stays_due(plan):
    log = Written(plan).add(0, "egg mass collected", "", mass="27A-1", eggs=80_000)
    log.add(0, "incubator loaded", "incubator 1", 9, batch="27A", masses=["27A-1"])
    tasks = {task.kind: task for task in log.tasks(HATCH + 1)}
    assert "incubate" in tasks
    assert tasks["stock"].why.startswith("It was due yesterday, and is not in the log.")


def test_what_hatched_is_what_is_stocked(plan):
    log = Written(plan).add(0, "egg mass collected", "", mass="27A-1")
    log.add(0, "incubator loaded", "incubator 1", 9, batch="27A", masses=["27A-1"])
    log.add(HATCH, "hatched", "incubator 1", batch="27A", veligers=12_000)
    stock = log.tasks(HATCH, "stock")[0]
    assert stock.working.result == pytest.approx(12_000)
    assert inputs(stock)["hatched"].source == "this hatchery's log, hatched 5 April"


def test_a_trip_that_was_not_made_stays_due_for_two_weeks():
    two = made_up_plan(ONE, Shape(start=5, tanks=(("large", 2, 400.0),)))
    log = Written(two).stocked(HATCH)
    assert {task.batch for task in log.tasks(8, "collect")} == {"27B"}
    assert "3 days ago" in log.tasks(8, "collect")[0].why
    assert not log.tasks(25, "collect")


def test_pieces_that_are_here_go_into_an_incubator_before_they_are_cared_for(plan):
    log = Written(plan).add(0, "egg mass collected", "", mass="27A-1")
    assert [task.kind for task in log.tasks(1)] == ["incubate"]


def settled(plan, animals=4000):
    """Larvae moved onto four trays on the day of the inducer."""
    log, day = Written(plan).stocked(HATCH), (plan.batches[0].dates.induce - on(0)).days
    log.add(day, "counted", "large tank 1", animals=animals)
    return log.add(day, "moved", "large tank 1", 9, to=[f"tray {n}" for n in range(1, 5)]), day


def test_the_trays_in_use_are_those_of_the_log(plan):
    log, day = settled(plan)
    care = log.tasks(day + 3, "tray care")[0]
    assert inputs(care)["trays"].value == 4
    assert inputs(care)["counted"].value == 4000
    log.add(day + 3, "moved", "tray 1", animals=500, to=["tray 9"])
    assert inputs(log.tasks(day + 4, "tray care")[0])["trays"].value == 5


def test_measured_lengths_move_the_pellets(plan):
    log, day = settled(plan)
    log.add(day + 30, "moved", "tray 1", to=["raceway 1"])
    small = log.tasks(day + 31, "feed pellets")[0].working.result
    log.add(day + 30, "measured", "raceway 1", 12, mean_mm=9.0)
    assert log.tasks(day + 31, "feed pellets")[0].working.result > 2 * small


def test_a_sample_of_one_tray_stands_for_all_and_lengths_of_larvae_for_none(plan):
    log, day = settled(plan)
    planned = log.tasks(day + 20, "tray care")[0].amount
    log.add(day - 1, "measured", "large tank 1", 12, mean_mm=0.6)
    assert log.tasks(day + 20, "tray care")[0].amount == planned
    log.add(day + 20, "measured", "tray 2", 12, mean_mm=3.3)
    assert "(3.3 mm)" in log.tasks(day + 20, "tray care")[0].amount


def test_small_animals_stay_on_the_trays_until_they_are_measured_long_enough(plan):
    log, _day = settled(plan)
    due, last = plan.batches[0].dates.to_nursery, plan.batches[0].dates.tray_until
    assert log.tasks(due, "move to nursery")
    size = species(plan.hatchery.species).value("post_larva.until_mm").number
    seen = due - timedelta(days=1)
    log.add(seen, "measured", "tray 1", 12, mean_mm=size / 3)
    assert not log.tasks(due, "move to nursery")
    assert log.tasks(due, "tray care")
    days = [seen + timedelta(days=n) for n in range(1, 60)]
    moves = [move for on_day in days for move in log.tasks(on_day, "move to nursery")]
    assert due < moves[0].day <= last
    assert len(moves) == (days[-1] - moves[0].day).days + 1


def test_large_animals_are_due_in_the_nursery_before_the_planned_day(plan):
    log, day = settled(plan)
    size = species(plan.hatchery.species).value("post_larva.until_mm").number
    log.add(day + 3, "measured", "tray 1", 12, mean_mm=0.8 * size)
    assert not log.tasks(day + 3, "move to nursery")
    log.add(day + 3, "measured", "tray 1", 13, mean_mm=1.1 * size)
    assert log.tasks(day + 3, "move to nursery")
    assert log.tasks(day + 3, "tray care")
    late = log.tasks(day + 5, "move to nursery")[0].why
    assert late.startswith("It was due")
    assert "2 days ago" in late


def test_settling_and_the_inducer_stay_due_and_the_larvae_are_fed_meanwhile(plan):
    log, day = Written(plan).stocked(HATCH), (plan.batches[0].dates.induce - on(0)).days
    kinds = {task.kind for task in log.tasks(day + 2)}
    assert {"settle", "induce", "feed"} <= kinds
    assert all("2 days ago" in task.why for task in log.tasks(day + 2, "settle", "induce"))


def test_a_line_that_is_done_stays_on_the_list_of_its_day(plan):
    log = Written(plan).stocked(HATCH)
    thin = (plan.batches[0].dates.thin[0] - on(0)).days
    key = log.tasks(thin, "thin")[0].key
    log.add(thin, "thinned", "large tank 1", task=key, kept=10_000)
    assert key in [task.key for task in log.tasks(thin)]
    assert key in log.state.settled


def test_keys_are_met_once_in_a_day_and_do_not_change_with_the_work_done(plan):
    log, day = settled(plan)
    for number in range(HATCH, day + 40):
        keys = [task.key for task in log.tasks(number)]
        assert len(set(keys)) == len(keys)
    before = {task.key for task in log.tasks(day + 3)}
    log.add(day + 3, "counted", "tray 1", animals=200)
    assert {task.key for task in log.tasks(day + 3)} == before
