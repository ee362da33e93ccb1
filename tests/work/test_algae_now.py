"""The algae room's lines by what the log has in its vessels."""

from dataclasses import replace
from datetime import UTC, timedelta

import numpy as np
import pytest

from protoconch.animals.profiles import species
from protoconch.hatchery.reading import demo_hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.fold import fold
from protoconch.log.reading.entries import read_entry
from protoconch.operations.demo_season import half_a_season
from protoconch.work.entries.asked import filled
from protoconch.work.entries.of_task import ways
from protoconch.work.present import present_tasks
from tests.pictures.algae_answer import FIRST, small_answer
from tests.work.made_up_plan import Shape, made_up_plan
from tests.work.test_entries import typed
from tests.work.written import Written, on

CONCH = species("queen-conch")
SHAPES = (Shape(15, tanks=(("large", 1, 400.0),)), Shape(19, tanks=(("large", 2, 400.0),)))
PLAN = replace(made_up_plan(*SHAPES), hatchery=demo_hatchery())
KNOWN = {vessel.name: vessel for vessel in vessels(PLAN.hatchery)}
UNTIL = FIRST + timedelta(days=45)


@pytest.fixture(scope="module")
def algae():
    return small_answer()


@pytest.fixture(scope="module")
def raw(algae):
    rng = np.random.default_rng(5)
    return half_a_season(PLAN, PLAN.hatchery, CONCH, algae, rng, UNTIL, UTC)


@pytest.fixture(scope="module")
def entries(raw):
    return [read_entry(entry, KNOWN) for entry in raw]


def before(entries, day):
    return fold([e for e in entries if e.happened.date() < on(day)], PLAN.hatchery)


def test_the_invented_season_lives_in_the_algae_room_and_at_the_water_too(raw):
    assert {entry["kind"] for entry in raw} >= {
        "inoculated", "harvested", "culture counted", "culture ended", "medium made",
        "cartridge changed", "lamp changed",
    }  # fmt: skip


def test_the_log_of_the_algae_room_contradicts_itself_nowhere(entries):
    doubts = [doubt.sentence for doubt in fold(entries, PLAN.hatchery).doubts]
    assert len(doubts) <= 1, doubts


def test_keys_are_met_once_in_a_day_with_several_media_at_one_bench(algae, entries):
    benches = 0
    for day in range(0, 45, 3):
        tasks = present_tasks(before(entries, day), PLAN, CONCH, on(day), algae)
        assert len({task.key for task in tasks}) == len(tasks)
        benches += sum(task.kind == "make medium" for task in tasks) > 1
    assert benches > 0


def test_every_way_of_every_line_of_the_room_gives_entries_that_the_log_takes(algae, entries):
    kinds = set()
    for day in range(0, 45, 4):
        state = before(entries, day)
        for task in present_tasks(state, PLAN, CONCH, on(day), algae):
            kinds.add(task.kind)
            for way in ways(task, state, PLAN.hatchery, algae):
                for asked in way.asked:
                    raw = {"id": "1" * 32, "kind": asked.kind, "who": "crew A", "task": task.key,
                           "happened": "2027-04-09T08:00-05:00", "where": asked.where,
                           "arrived": "2027-04-09T08:00-05:00",
                           "payload": filled(asked, typed(asked))}  # fmt: skip
                    assert read_entry(raw, KNOWN).where == asked.where
    assert kinds >= {"inoculate", "harvest", "make medium", "empty a vessel", "look at cultures"}


def harvests(algae, per_ml=None):
    """Litres of each harvest on the first day with one, with all its cultures counted at that."""
    state = Written(PLAN).state
    day = next(d for d in range(45) for task in present_tasks(state, PLAN, CONCH, on(d), algae)
               if task.kind == "harvest")  # fmt: skip
    planned = present_tasks(state, PLAN, CONCH, on(day), algae)
    if per_ml is None:
        return {task.where: task.working for task in planned if task.kind == "harvest"}
    log = Written(PLAN)
    for task in planned:
        if task.kind == "harvest":
            log.add(day - 5, "inoculated", task.where, species="t-iso", litres=20.0)
            log.add(day, "culture counted", task.where, cells_per_ml=per_ml)
    tasks = present_tasks(log.state, PLAN, CONCH, on(day), algae)
    return {task.where: task.working for task in tasks if task.kind == "harvest"}


def test_twice_as_dense_a_culture_is_drawn_half_as_much(algae):
    thin, dense = harvests(algae, 6e6), harvests(algae, 12e6)
    for where, working in dense.items():
        assert thin[where].result == pytest.approx(2 * working.result)
        assert (
            "this hatchery's log, counted" in {p.name: p.source for p in working.inputs}["counted"]
        )


def test_no_more_is_drawn_than_the_culture_holds(algae):
    assert {working.result for working in harvests(algae, 1e4).values()} == {20.0}


def test_the_cells_wanted_stay_those_of_the_schedule(algae):
    planned, counted = harvests(algae), harvests(algae, 6e6)
    for where, working in counted.items():
        cells = {part.name: part.value for part in planned[where].inputs}["cells"]
        assert working.result * 1000 * 6e6 == pytest.approx(cells)


def test_a_harvest_from_a_vessel_that_the_log_knows_as_empty_says_so(algae, entries):
    state = before(entries, 40)
    gone = replace(state, cultures={"flask 1": next(iter(state.cultures.values()))})
    tasks = present_tasks(gone, PLAN, CONCH, on(40), algae)
    lines = [task for task in tasks if task.kind == "harvest"]
    assert lines
    assert all(f"no culture in {line.where}" in line.why for line in lines)


def test_larvae_are_fed_from_the_culture_that_was_counted(algae):
    log = Written(PLAN).stocked(19)
    log.add(20, "inoculated", "carboy 7", species="t-iso", litres=20.0)
    log.add(25, "culture counted", "carboy 7", 7, cells_per_ml=4e6)
    feed = next(t for t in log.tasks(25, "feed"))
    assert "flagellate of carboy 7 at 4 million/mL" in feed.amount
    asked = ways(feed, log.state, PLAN.hatchery)[0].asked[0]
    assert asked.prefilled["foods"][0]["culture"] == "carboy 7"
    log.add(25, "culture counted", "carboy 7", 8, cells_per_ml=4e6, found="ciliates")
    assert "carboy 7" not in log.tasks(25, "feed")[0].amount
