"""The invented season: sound, deterministic, and told as if it were lived."""

from datetime import UTC, date, datetime, timedelta, timezone

import numpy as np
import pytest

from protoconch.animals.profiles import species
from protoconch.hatchery.reading import read_hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.fold import fold
from protoconch.log.reading.entries import read_entry
from protoconch.operations.demo.dates import FIRST_TRIP, MIDDLE
from protoconch.operations.demo_season import INVENTED, demo_for, demo_text_for, half_a_season
from protoconch.work.missed import missed
from protoconch.work.present import present_tasks
from tests.work.made_up_plan import FIRST_DAY, Shape, made_up_plan

PLAN = made_up_plan(
    Shape(0, tanks=(("large", 1, 400.0),)),
    Shape(12, tanks=(("large", 2, 400.0), ("small", 1, 200.0))),
    Shape(31, tanks=(("large", 1, 400.0),)),
    Shape(60, tanks=(("large", 2, 400.0),)),
)
UNTIL = FIRST_DAY + timedelta(days=84)
CONCH = species("queen-conch")
ZONE = timezone(timedelta(hours=-5))


def season(seed=3):
    rng = np.random.default_rng(seed)
    return half_a_season(PLAN, PLAN.hatchery, CONCH, None, rng, UNTIL, ZONE)


@pytest.fixture(scope="module")
def raw():
    return season()


@pytest.fixture(scope="module")
def state(raw):
    known = {vessel.name: vessel for vessel in vessels(PLAN.hatchery)}
    return fold([read_entry(entry, known) for entry in raw], PLAN.hatchery)


def test_the_same_seed_tells_the_same_season_and_another_seed_another(raw):
    assert season() == raw
    assert season(4) != raw


def test_the_log_says_first_that_it_is_invented(raw):
    first = min(raw, key=lambda entry: entry["happened"])
    assert (first["kind"], first["payload"]["text"]) == ("note", INVENTED)


def test_the_people_are_named_by_their_work(raw):
    assert {entry["who"] for entry in raw} == {"crew A", "crew B", "crew C", "manager"}


def test_the_log_holds_no_doubt_but_the_one_on_purpose(state):
    assert [doubt.sentence for doubt in state.doubts] == [
        "large tank 1 was fed, but the log has no animals in it."
    ]


@pytest.mark.parametrize("seed", [11, 12, 13])
def test_no_seed_tells_a_season_that_contradicts_itself(seed):
    known = {vessel.name: vessel for vessel in vessels(PLAN.hatchery)}
    state = fold([read_entry(entry, known) for entry in season(seed)], PLAN.hatchery)
    assert len(state.doubts) <= 1, [doubt.sentence for doubt in state.doubts]


def test_every_animal_is_accounted_for(state):
    assert sum(batch.account.stocked for batch in state.batches.values()) > 100_000
    for batch in state.batches.values():
        a = batch.account
        assert a.stocked == a.alive + a.lost + a.removed + a.released + a.missing


def test_animals_are_in_tanks_on_trays_and_in_the_nursery(state):
    stages = {holding.stage for holding in state.holdings.values()}
    assert {"veliger", "post-larva", "juvenile"} <= stages


def test_batches_do_better_or_worse_than_the_plan(state):
    expected = {batch.code: batch.to_nursery.p50 for batch in PLAN.batches}
    share = state.batches["27A"].account.alive / expected["A"]
    assert 0.2 < share < 5
    assert abs(share - 1) > 0.01


def test_nothing_happens_today_or_later_and_nothing_arrives_before_it_happened(raw):
    for entry in raw:
        happened, arrived = (datetime.fromisoformat(entry[k]) for k in ("happened", "arrived"))
        assert happened.astimezone(ZONE).date() < UNTIL
        assert arrived > happened


def test_all_sorts_of_entries_are_met(raw):
    met = {entry["kind"] for entry in raw}
    assert met >= {
        "egg mass collected", "incubator loaded", "hatched", "stocked", "counted", "measured",
        "competence checked", "thinned", "moved", "settled", "graded", "weighed", "lost",
        "water changed", "fed", "cleaned", "done", "pumped", "read", "received", "used", "note",
        "correction",
    }  # fmt: skip


def test_two_slips_of_a_count_are_put_right(raw):
    corrected = [entry["payload"]["of"] for entry in raw if entry["kind"] == "correction"]
    kinds = {entry["id"]: entry["kind"] for entry in raw}
    assert [kinds[of] for of in corrected].count("counted") == 2


def test_the_work_list_of_yesterday_is_nearly_all_done(state):
    yesterday = UNTIL - timedelta(days=1)
    tasks = present_tasks(state, PLAN, CONCH, yesterday)
    assert len(missed(tasks, state, UNTIL)) <= 0.2 * len(tasks)
    assert sum(task.key in state.settled for task in tasks) >= 0.7 * len(tasks)


def test_a_plan_without_batches_has_no_season():
    nothing = made_up_plan()
    nothing = type(nothing)(**{f: getattr(nothing, f) for f in nothing.__slots__} | {"batches": ()})
    rng = np.random.default_rng(1)
    assert half_a_season(nothing, nothing.hatchery, CONCH, None, rng, UNTIL) == ()


@pytest.mark.parametrize("today", [date(2026, 1, 1), date(2026, 7, 4), date(2028, 2, 29)])
def test_today_lies_in_the_middle_of_the_season_and_the_permit_allows_it(today):
    found = read_hatchery(demo_text_for(today), "demo.toml")
    unmoved = read_hatchery(demo_text_for(FIRST_TRIP + MIDDLE), "demo.toml")
    by = found.first_day - unmoved.first_day
    assert by.days % 7 == 0
    assert abs((FIRST_TRIP + by + MIDDLE - today).days) <= 3
    assert found.last_day - found.first_day == unmoved.last_day - unmoved.first_day
    assert found.target.by - found.first_day == unmoved.target.by - unmoved.first_day
    day = found.first_day
    while day <= found.last_day:
        assert day.month in found.permit.months
        day += timedelta(days=1)


def test_the_water_is_as_warm_as_in_the_unmoved_season():
    found = read_hatchery(demo_text_for(date(2026, 1, 1)), "demo.toml")
    unmoved = read_hatchery(demo_text_for(FIRST_TRIP + MIDDLE), "demo.toml")
    assert sorted(found.temperature_c) == sorted(unmoved.temperature_c)
    first, then = found.first_day.month - 1, unmoved.first_day.month - 1
    assert found.temperature_c[first] == pytest.approx(unmoved.temperature_c[then], abs=0.8)


def test_the_demonstration_says_that_its_dates_were_moved():
    assert (
        "Every date of this file was moved by"
        in demo_for(date(2026, 7, 4), np.random.default_rng(1), UTC).text
    )
