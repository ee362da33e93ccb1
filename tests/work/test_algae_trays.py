"""Diatoms that the algae room grows for the trays."""

from datetime import timedelta
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings

from protoconch.algae.species import alga
from protoconch.animals.profiles import species
from protoconch.work.algae_trays import (
    film_g,
    settled_for,
    settled_ration_g,
    sown_days,
    tray_diatom_tasks,
    tray_food,
)
from protoconch.work.expected import expected_batches
from protoconch.work.settling import tray_floor_cm2
from protoconch.work.task import worked
from tests.work.made_up_plan import made_up_plan
from tests.work.shapes import plans

CONCH = species("queen-conch")
SHARES = {"t-iso": 1.0, "c-muelleri": 1.0, "navicula": 1.0}
PLAN = made_up_plan()
FIRST = PLAN.forecast.first_day
BATCH = expected_batches(PLAN, CONCH)[0]


def grams(food, key):
    return sum(entry.grams.get(key, 0.0) for entry in food)


def test_a_film_is_renewed_in_a_week():
    # 2,000 cells/mm2: abstract on Haliotis rufescens, light by diatom density; 7 days: practice
    cells = film_g(BATCH, "navicula").result * 1e12 / alga("navicula").number("ration_pg")
    assert cells == pytest.approx(tray_floor_cm2(BATCH) * 100 * 2000 / 7)


def test_films_stand_before_the_animals_come_and_end_when_they_leave():
    days = sown_days(BATCH)
    dates = BATCH.batch.dates
    assert days[0] == dates.induce - timedelta(days=7)
    assert days[-1] == dates.to_nursery - timedelta(days=1)
    assert all(b - a == timedelta(days=1) for a, b in pairwise(days))


def test_post_larvae_get_settled_diatoms_by_their_live_weight():
    # 0.3 g organic algae for each g live and week: Laing & Chang 1998, bivalve spat, abstract
    day = BATCH.batch.dates.induce + timedelta(days=20)
    live_g = BATCH.alive(day) * 5.2e-5 * BATCH.length_mm(day) ** 3.2
    assert settled_ration_g(BATCH, CONCH, day).result == pytest.approx(live_g * 0.3 / 7)
    assert settled_ration_g(BATCH, CONCH, BATCH.batch.dates.induce) is None
    assert settled_ration_g(BATCH, species("west-indian-top-shell"), day) is None


@settings(max_examples=25, deadline=None)
@given(plans(("queen-conch", "milk-conch", "fighting-conch")))
def test_each_day_on_the_trays_is_settled_for_exactly_once(plan):
    animal = species(plan.hatchery.species)
    for batch in expected_batches(plan, animal):
        wanted = [settled_ration_g(batch, animal, day) for day in sown_days(batch)]
        got = [ration for day in sown_days(batch) for ration in settled_for(batch, animal, day)]
        assert got == [ration for ration in wanted if ration is not None]


def test_the_harvest_counts_what_settling_loses():
    food = tray_food(PLAN, CONCH, SHARES, FIRST)
    rations = [settled_ration_g(BATCH, CONCH, day) for day in sown_days(BATCH)]
    poured = sum(ration.result for ration in rations if ration is not None)
    # 80 % recovered: Knuckey et al. 2006, abstract
    assert grams(food, "c-muelleri") == pytest.approx(poured / 0.8)
    assert grams(food, "navicula") == pytest.approx(
        len(sown_days(BATCH)) * film_g(BATCH, "navicula").result
    )
    assert grams(food, "t-iso") == 0
    assert all(entry.trays for entry in food)
    assert {entry.tank for entry in food} == {"trays of batch A"}


def test_without_a_film_diatom_the_others_make_the_film():
    both = tray_food(PLAN, CONCH, SHARES, FIRST)
    only = tray_food(PLAN, CONCH, {"t-iso": 1.0, "c-muelleri": 1.0}, FIRST)
    film = len(sown_days(BATCH)) * film_g(BATCH, "c-muelleri").result / 0.8
    assert grams(only, "c-muelleri") == pytest.approx(grams(both, "c-muelleri") + film)
    assert tray_food(PLAN, CONCH, {"t-iso": 1.0}, FIRST) == ()


def test_the_work_list_sows_daily_and_settles_every_third_day():
    days = sown_days(BATCH)
    tasks = [task for day in days for task in tray_diatom_tasks(PLAN, CONCH, SHARES, day)]
    sown = [task.day for task in tasks if task.kind == "sow films"]
    settled = [task for task in tasks if task.kind == "settle diatoms"]
    assert sown == days
    assert {(b.day - a.day).days for a, b in pairwise(settled)} == {3}
    assert all(any("goggles" in caution for caution in task.cautions) for task in settled)
    assert tray_diatom_tasks(PLAN, CONCH, SHARES, days[0] - timedelta(days=1)) == ()
    assert tray_diatom_tasks(PLAN, CONCH, SHARES, days[-1] + timedelta(days=1)) == ()


def test_what_the_work_list_harvests_is_what_the_room_is_asked_for():
    asked = {entry.day: entry.grams for entry in tray_food(PLAN, CONCH, SHARES, FIRST)}
    for day in sown_days(BATCH):
        tasks = tray_diatom_tasks(PLAN, CONCH, SHARES, day)
        told = sum(task.working.result for task in tasks)
        assert told == pytest.approx(sum(asked[(day - FIRST).days].values()))
        for task in tasks:
            for working in (task.working, *task.also):
                again = worked(working.formula, working.inputs, working.unit)
                assert np.isclose(again.result, working.result)
