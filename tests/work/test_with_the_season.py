"""The work list of a season that the season model itself has planned."""

from collections import defaultdict

import pytest

from protoconch.animals.profiles import species
from protoconch.hatchery.reading import demo_hatchery
from protoconch.season.plan.planning import plan_season
from protoconch.season.plan.study import Effort
from protoconch.sources.reading import load_table
from protoconch.work import hours
from protoconch.work.tasks import season_tasks

QUICK = Effort(common=400, fresh=400, look=400)


@pytest.fixture(scope="module")
def planned():
    hatchery = demo_hatchery()
    return plan_season(
        hatchery, species(hatchery.species), hatchery.target, hours, load_table("season"), 1,
        effort=QUICK, compare=False,
    )  # fmt: skip


@pytest.fixture(scope="module")
def tasks(planned):
    return season_tasks(planned, species(planned.hatchery.species))


def test_no_day_of_the_season_asks_for_more_hours_than_the_plan_keeps_or_the_crew_has(
    planned, tasks
):
    needed = defaultdict(float)
    for task in tasks:
        needed[task.day] += task.minutes / 60
    for day, spent in needed.items():
        kept = planned.forecast.work_h[(day - planned.forecast.first_day).days]
        assert spent <= kept + 1e-9, day
        assert spent <= planned.hatchery.crew_hours[day.weekday()] + 1e-9, day


def test_the_food_of_the_work_list_stays_within_what_the_algae_room_gives(planned, tasks):
    grams = defaultdict(float)
    for task in tasks:
        if task.kind == "feed":
            grams[task.day] += task.working.result
    assert grams
    assert max(grams.values()) <= planned.hatchery.algae_dry_g_per_day + 1e-9


def test_the_food_of_the_work_list_is_the_food_of_the_forecast_over_the_season(planned, tasks):
    fed = sum(task.working.result for task in tasks if task.kind == "feed")
    # the forecast takes each day's median over futures, so single days differ near the turns
    assert fed == pytest.approx(float(planned.forecast.algae_g.sum()), rel=0.05)


def test_every_batch_of_the_season_is_collected_settled_and_released(planned, tasks):
    kinds = defaultdict(set)
    for task in tasks:
        kinds[task.batch].add(task.kind)
    assert set(kinds) == {batch.code for batch in planned.batches}
    for seen in kinds.values():
        assert {"collect", "stock", "feed", "settle", "move to nursery", "release"} <= seen
        assert "split trays" not in seen
