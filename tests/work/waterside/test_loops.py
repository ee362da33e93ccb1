"""A loop's readings beside their limits."""

from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from protoconch.hatchery.reading import read_hatchery, whole_demo_text
from protoconch.log.state import Reading
from protoconch.seawater.ammonia import unionised_mg_n_l
from protoconch.work.waterside.loops import UNIONISED, bounds_of, loop_now

NOW = datetime(2027, 7, 1, 12, tzinfo=UTC)
LOOP = read_hatchery(whole_demo_text(), "demo.toml").waterworks.loops[0]


def read(days=0.0, **values):
    when = NOW - timedelta(days=days)
    return {what.replace("_", " "): Reading(uuid4(), LOOP.name, what, value, when, "crew A")
            for what, value in values.items()}  # fmt: skip


def judged(readings, quantity):
    return next(one for one in loop_now(LOOP, readings, NOW).judged if one.quantity == quantity)


def test_what_was_never_read_says_so_and_still_has_its_limits():
    found = loop_now(LOOP, {}, NOW)
    assert not found.read
    assert {one.word for one in found.judged} == {"not read"}
    assert all(one.bounds.warn_low or one.bounds.warn_high for one in found.judged)


@pytest.mark.parametrize(
    ("celsius", "word"),
    [(25.9, "look"), (26, "within"), (30, "within"), (30.5, "look"), (31.1, "act"), (23, "act")],
)
def test_a_temperature_is_judged_at_both_ends(celsius, word):
    assert judged(read(temperature=celsius), "temperature").word == word


@pytest.mark.parametrize(("oxygen", "word"), [(5.1, "within"), (4.9, "look"), (3.9, "act")])
def test_oxygen_is_judged_from_below(oxygen, word):
    assert judged(read(oxygen=oxygen), "oxygen").word == word


def test_a_loop_s_own_limits_come_first():
    assert bounds_of("ammonia as nitrogen", LOOP).warn_high == LOOP.ammonia_limit_mg_l
    assert bounds_of("nitrate as nitrogen", LOOP).warn_high == LOOP.nitrate_limit_mg_l


def test_the_unionised_part_follows_ph_warmth_and_salt():
    seen = read(ammonia_as_nitrogen=0.2, pH=8.2, temperature=29.0, salinity=36.0)
    found = judged(seen, UNIONISED)
    assert found.value == pytest.approx(unionised_mg_n_l(29.0, 36.0, 8.2, "nbs", 0.2))
    assert found.word == "look"
    assert "29 °C" in found.working


def test_without_a_ph_nothing_is_said_of_the_unionised_part():
    assert judged(read(ammonia_as_nitrogen=0.2), UNIONISED).word == "not read"


def test_a_salinity_beyond_what_is_understood_leaves_it_unsaid():
    seen = read(ammonia_as_nitrogen=0.2, pH=8.2, salinity=5.0)
    assert judged(seen, UNIONISED).word == "not read"


def test_an_old_reading_is_called_old():
    assert judged(read(2, temperature=28.0), "temperature").old
    assert not judged(read(2, salinity=35.0), "salinity").old
