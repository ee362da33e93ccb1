"""The seawater that the work of a season draws."""

from datetime import date

import pytest

from protoconch.animals.profiles import species
from protoconch.sources.reading import load_table
from protoconch.work.tasks import season_tasks
from protoconch.work.water_use import litres_by_day
from tests.season.seasons import TARGET
from tests.season.test_planning import planned

ASSUMED = load_table("season")


@pytest.fixture(scope="module")
def plan():
    return planned(TARGET)


@pytest.fixture(scope="module")
def tasks(plan):
    return season_tasks(plan, species("queen-conch"))


def test_every_filling_takes_its_tank_and_the_rinsing(plan, tasks):
    use = litres_by_day(plan, tasks, ASSUMED)
    litres = {tank.litres for batch in plan.batches for tank in batch.tanks}
    assert litres == {300.0}
    fillings = sum(task.kind in ("stock", "change water") for task in tasks)
    rinsing = ASSUMED["water.rinsing_share"].number
    assert fillings > 10
    assert sum(use.values()) == pytest.approx(fillings * 300.0 * (1 + rinsing))


def test_steady_uses_come_on_top_of_every_day_with_work(plan, tasks):
    bare, steady = (litres_by_day(plan, tasks, ASSUMED, litres) for litres in (0.0, 50.0))
    assert list(bare) == list(steady) == sorted({task.day for task in tasks})
    assert all(steady[day] == pytest.approx(bare[day] + 50.0) for day in bare)


def test_no_water_is_changed_once_the_larvae_have_settled(plan, tasks):
    last = max(batch.dates.induce for batch in plan.batches)
    use = litres_by_day(plan, tasks, ASSUMED)
    assert all(litres == 0.0 for day, litres in use.items() if day > last)
    assert use[plan.batches[0].dates.hatch] > 0.0
    assert max(use) <= date(2028, 8, 31)
