"""The reservoir by the log."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from protoconch.hatchery.reading import read_hatchery, whole_demo_text
from protoconch.log.state import Level
from protoconch.waterworks.network.solving import settled
from protoconch.work.waterside.store import store_now

WORKS = read_hatchery(whole_demo_text(), "demo.toml").waterworks
FLOWS = settled(WORKS.network)
TODAY = date(2027, 7, 1)
MORNING = datetime(2027, 7, 1, 8, tzinfo=UTC)


def level(litres, hours=0):
    read = MORNING - timedelta(hours=hours)
    return Level(WORKS.keeping.place, litres, MORNING, read, 0.0, 0.0)


def store(litres=12_000.0, use=None, **parts):
    return store_now(WORKS, FLOWS, level(litres, **parts), use or {}, TODAY)


def test_before_anybody_reads_it_the_level_is_the_description_s():
    for unread in (None, replace(level(90.0), read=None)):
        found = store_now(WORKS, FLOWS, unread, {}, TODAY)
        assert found.read is None
        assert found.keeping.store.level_l == WORKS.keeping.store.level_l


def test_the_days_left_are_those_until_the_reserve_at_the_day_s_use():
    keeping = WORKS.keeping
    a_day = keeping.daily_use_l + keeping.store.loss_l_per_day
    found = store(keeping.reserve_l + 9.5 * a_day)
    assert found.days_left == 9
    assert not found.by_work_list
    assert found.outlook.fill.by < TODAY + timedelta(days=9)


def test_more_use_leaves_fewer_days():
    days = [TODAY + timedelta(days=n) for n in range(28)]
    little, much = (store(use=dict.fromkeys(days, litres)) for litres in (500.0, 1500.0))
    assert much.days_left < little.days_left
    assert much.by_work_list


@pytest.mark.parametrize("litres", [0.0, 4_000.0, 5_000.0])
def test_at_its_reserve_no_day_is_left(litres):
    found = store(litres)
    assert found.at_reserve
    assert found.days_left == 0
    assert found.outlook.fill.overdue


def test_a_level_read_above_full_counts_as_full():
    assert store(99_000.0).keeping.store.level_l == WORKS.keeping.store.full_l


def test_a_level_that_was_carried_on_says_so():
    assert store(hours=5).moved
    assert not store().moved
