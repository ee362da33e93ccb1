"""The work from collecting to the inducer."""

from collections import Counter
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings

from protoconch.animals.profiles import species
from protoconch.animals.sieve import sieves
from protoconch.sources.values import SourcedValue
from protoconch.work.parameters import table_values
from protoconch.work.tasks import day_tasks, season_tasks
from tests.work.made_up_plan import Shape, made_up_plan
from tests.work.shapes import TANKS, plans

FEEDING = ("queen-conch", "fighting-conch", "milk-conch")


def listed(plan, *kinds):
    tasks = season_tasks(plan, species(plan.hatchery.species))
    return [task for task in tasks if task.kind in kinds]


def inputs_of(working):
    return {part.name: part.value for part in working.inputs}


@settings(max_examples=25)
@given(plans())
def test_no_sieve_is_wider_than_what_holds_every_larva_of_the_day(plan):
    animal = species(plan.hatchery.species)
    hold = animal.number("sieve.hold_factor")
    start = animal.number("veliger.hatch_length_um")
    end = animal.number(f"regime.{plan.hatchery.regime}.competence_length_um")
    dates = {batch.code: batch.dates for batch in plan.batches}
    for task in listed(plan, "change water"):
        own = dates[task.batch]
        part = (task.day - own.hatch) / (own.induce - own.hatch)
        length = start + (end - start) * part
        mesh = task.working.result
        assert mesh <= hold * length + 1e-9
        assert mesh > hold * length - 10
        assert mesh <= sieves(length, hold, 0.75).hold_all_um + 1e-9
        assert f"{mesh:.0f} µm or finer" in task.amount


@settings(max_examples=25)
@given(plans(FEEDING))
def test_the_food_of_a_day_is_the_ration_of_each_age_times_all_the_water(plan):
    animal = species(plan.hatchery.species)
    grams = {}
    for task in listed(plan, "feed"):
        grams[task.day] = grams.get(task.day, 0.0) + task.working.result
    own = animal.values.get(f"regime.{plan.hatchery.regime}.ration")
    for day, given_g in grams.items():
        wanted = 0.0
        for batch in plan.batches:
            age = (day - batch.dates.hatch).days
            if age >= 0 and day < batch.dates.induce:
                step = [value for from_day, value in animal.steps("veliger.ration")
                        if from_day <= age][-1]  # fmt: skip
                wanted += batch.litres * (own or step).number / 1000
        assert given_g == pytest.approx(wanted)


def test_cells_and_litres_hold_the_dry_mass_that_is_asked():
    table = table_values("algae")
    for task in listed(made_up_plan(), "feed"):
        held = 0.0
        for alga in ("flagellate.isochrysis", "diatom.chaetoceros_gracilis"):
            mass = table[f"{alga}.dry_mass_pg"].number
            density = table[f"{alga}.harvest_per_ml"].number
            litres = [w.result for w in task.also
                      if w.unit == "L" and inputs_of(w)["cell_mass"] == mass]  # fmt: skip
            held += sum(litres) * 1000 * density * mass * 1e-12
        assert held == pytest.approx(task.working.result)


def test_a_diatom_joins_on_day_five_little_at_first_and_half_from_day_eight():
    plan = made_up_plan()
    hatch = plan.batches[0].dates.hatch
    shares = {}
    for task in listed(plan, "feed"):
        share = [w.result for w in task.also if w.formula.startswith("0.5 * min")]
        shares[(task.day - hatch).days] = share[0] if share else 0.0
    assert [shares[n] for n in range(10)] == [0, 0, 0, 0, 0, 0.125, 0.25, 0.375, 0.5, 0.5]


def test_the_trial_regime_keeps_to_its_single_flagellate():
    plan = made_up_plan(Shape(larval=27), regime="trial")
    tasks = listed(plan, "feed")
    assert len(tasks) == 27 * 2
    assert all("diatom" not in task.amount for task in tasks)
    assert [task.working.result for task in tasks] == pytest.approx([400 * 0.2 / 1000] * 54)


def test_a_tank_is_changed_every_second_day_and_its_neighbour_on_the_others():
    plan = made_up_plan()
    changed = {}
    for task in listed(plan, "change water"):
        changed.setdefault(task.where, []).append(task.day)
    one, two = changed["large tank 1"], changed["large tank 2"]
    for days in (one, two):
        assert {(b - a).days for a, b in pairwise(days)} == {2}
    assert not set(one) & set(two)


@settings(max_examples=20)
@given(TANKS)
def test_the_tanks_of_a_batch_alone_in_the_room_are_changed_half_and_half(room):
    lone = made_up_plan(Shape(larval=12, on_trays=2, nursery=2, tanks=tuple(room)))
    changed = Counter(task.day for task in listed(lone, "change water"))
    tanks = len(lone.batches[0].tanks)
    hatch = lone.batches[0].dates.hatch
    for n in range(1, 12):
        assert changed[hatch + timedelta(days=n)] in {tanks // 2, tanks - tanks // 2}


def test_tanks_of_several_batches_take_turns_through_the_whole_room():
    alone = [(("large", n, 400.0),) for n in (1, 3, 5)]
    plan = made_up_plan(*(Shape(start=2 * n, tanks=tanks) for n, tanks in enumerate(alone)))
    changed = Counter(task.day for task in listed(plan, "change water"))
    together = plan.batches[2].dates.hatch + timedelta(days=1)
    counts = [changed[together + timedelta(days=n)] for n in range(12)]
    assert set(counts) == {1, 2}


@settings(max_examples=20)
@given(plans())
def test_no_tank_is_changed_and_counted_or_sampled_on_one_day(plan):
    tasks = listed(plan, "change water", "count", "measure", "test competence")
    for batch in plan.batches:
        busy = [(task.day, task.where) for task in tasks if task.batch == batch.code]
        assert len(busy) == len(set(busy))


def test_larvae_are_measured_twice_a_week():
    days = [task.day for task in listed(made_up_plan(Shape(larval=29)), "measure")]
    gaps = [(b - a).days for a, b in pairwise(days)]
    assert len(days) == 8  # the eighth in the week of the test
    assert all(2 <= gap <= 5 for gap in gaps)


def test_a_lone_tank_is_measured_on_the_days_between_its_changes():
    plan = made_up_plan(Shape(tanks=(("large", 1, 400.0),)))
    days = {task.day for task in listed(plan, "measure")}
    assert len(days) >= 5
    assert not days & {task.day for task in listed(plan, "change water")}


@settings(max_examples=20)
@given(plans(FEEDING))
def test_one_inducer_test_comes_within_two_days_before_the_inducer(plan):
    for batch in plan.batches:
        days = [t.day for t in listed(plan, "test competence") if t.batch == batch.code]
        if batch.dates.induce <= batch.dates.release:
            assert len(days) == 1
            assert 1 <= (batch.dates.induce - days[0]).days <= 2


def test_the_test_asks_for_the_share_that_common_practice_asks():
    (task,) = listed(made_up_plan(), "test competence")
    assert task.working.result == pytest.approx(50 / 2 * 0.6)
    assert "50 larvae" in task.amount
    assert "15 of that half" in task.amount


def test_stocking_and_thinning_follow_the_density_for_the_age():
    plan = made_up_plan()
    stocked = listed(plan, "stock")
    assert [task.working.result for task in stocked] == [40_000, 40_000]
    kept = [(task.day - plan.batches[0].dates.hatch, task.working.result)
            for task in listed(plan, "thin")]  # fmt: skip
    assert kept == [(timedelta(4), 20_000)] * 2 + [(timedelta(11), 10_000)] * 2


def test_the_aliquots_of_a_count_hold_a_hundred_animals_or_a_little_more():
    for task in listed(made_up_plan(), "count"):
        expected, aliquot = task.also[0].result, task.working.result
        counted = 5 * aliquot / 1000 * expected / 400
        assert 100 <= counted <= 100 + 5 * 0.05 * expected / 400


def test_the_strand_to_take_follows_the_eggs_wanted():
    (task,) = listed(made_up_plan(), "collect")
    assert task.working.result == pytest.approx(160_000 / 3)
    assert task.also[0].result == pytest.approx(160_000 / 3 / 13 / 1000)
    assert "4.1 m of strand" in task.amount


def test_where_water_is_changed_daily_there_is_still_time_to_count_and_measure():
    plan = made_up_plan()
    daily = SourcedValue("veliger.water_change_every_days", 1, "d", "own-log", "own")
    own = replace(plan.hatchery, own_values={daily.name: daily})
    plan = replace(plan, hatchery=own)
    kinds = {task.kind for task in listed(plan, "count", "measure", "test competence")}
    assert kinds == {"count", "measure", "test competence"}
    animal = species("queen-conch")
    for n in range(21):
        day = plan.batches[0].dates.hatch + timedelta(days=n)
        minutes = sum(task.minutes for task in day_tasks(plan, animal, day))
        assert minutes / 60 <= plan.forecast.work_h[4 + n] + 1e-9


def test_the_hatcherys_own_numbers_go_before_the_profile():
    plan = made_up_plan()
    own = SourcedValue("sieve.hold_factor", 0.4, "1", "own-log", "own")
    plan = replace(plan, hatchery=replace(plan.hatchery, own_values={own.name: own}))
    task = listed(plan, "change water")[0]
    assert inputs_of(task.working)["hold_factor"] == 0.4
    assert "own-log" in {part.source for part in task.working.inputs}


def test_a_tank_is_not_counted_again_on_the_day_it_is_thinned():
    tasks = listed(made_up_plan(), "count", "thin")
    places = [(task.day, task.where) for task in tasks]
    assert len(places) == len(set(places))
