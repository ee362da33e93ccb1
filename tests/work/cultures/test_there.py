"""Cultures as they stand by the log."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from protoconch.algae.chain.logged_room import logged_room
from protoconch.hatchery.algae_vessels import demo_algae_room
from protoconch.log.state import Culture, CultureCount, State
from protoconch.work.cultures.there import cultures_there, present_cultures, species_key

ROOM = demo_algae_room()
NOW = datetime(2027, 7, 20, 9, tzinfo=UTC)


def culture(vessel="carboy 2", species="t-iso", days=6.0, litres=20.0, **parts):
    return Culture(vessel, species, NOW - timedelta(days=days), litres, "f/2", "bottle 1", **parts)


def count(per_ml, days_ago=0.1, spread=0.1):
    when = NOW - timedelta(days=days_ago)
    low, high = per_ml * (1 - spread), per_ml * (1 + spread)
    return CultureCount(uuid4(), when, per_ml, low, high)


def state(*cultures, dirty=()):
    return State(cultures={one.vessel: one for one in cultures}, dirty=frozenset(dirty))


def standing(one):
    (found,) = cultures_there(state(one), ROOM, NOW)
    return found.standing


def test_a_young_culture_grows_and_a_dense_one_is_ready():
    assert standing(culture(days=0.5)) == "growing"
    assert standing(culture(counts=(count(9e6),))) == "ready"


def test_what_something_was_found_in_is_contaminated_however_dense():
    assert standing(culture(counts=(count(9e6),), found="ciliates")) == "contaminated"


def test_a_culture_past_its_days_is_too_old():
    (found,) = cultures_there(state(culture(days=5)), ROOM, NOW)
    old = culture(days=found.last_d + 1.5, counts=(count(9e6),), last_harvest=NOW)
    assert standing(old) == "too old"
    last_day = replace(old, started=NOW - timedelta(days=found.last_d))
    assert standing(last_day) == "ready"


def test_a_drawn_culture_rests_below_half_of_its_usual_density():
    (found,) = cultures_there(state(culture()), ROOM, NOW)
    thin, dense = (
        culture(counts=(count(share * found.usual_per_ml),), last_harvest=NOW)
        for share in (0.45, 0.55)
    )
    assert standing(thin) == "growing"
    assert standing(dense) == "ready"


def test_an_alga_without_a_line_through_its_vessel_is_said_to_have_none():
    assert standing(culture(species="some alga")) == "no line"
    assert standing(culture(vessel="bucket")) == "no line"


@pytest.mark.parametrize("words", ["t-iso", "T-Iso", " Tisochrysis lutea (T-Iso) "])
def test_an_alga_is_known_by_its_key_or_its_name(words):
    assert species_key(words) == "t-iso"


def test_cultures_come_from_small_to_large():
    there = [culture("carboy 1"), culture("flask 3", litres=0.25), culture("bottle 2", litres=2)]
    found = cultures_there(state(*there), ROOM, NOW)
    assert [one.kind for one in found] == ["flask", "bottle", "carboy"]


def test_the_schedule_gets_every_culture_that_it_can_use_and_all_dirty_vessels():
    there = (
        culture("flask 3", litres=0.25), culture(counts=(count(4e6),)),
        culture("carboy 5", found="bacteria"), culture("carboy 6", species="some alga"),
    )  # fmt: skip
    found, dirty = present_cultures(state(*there, dirty=("flask 1", "large tank 2")), ROOM, NOW)
    assert {one.vessel for one in found} == {("flask", 3), ("carboy", 2), ("carboy", 5)}
    assert [one.vessel for one in found if one.contaminated] == [("carboy", 5)]
    assert dirty == (("carboy", 6), ("flask", 1))
    logged_room(ROOM.room, NOW.date(), found, dirty=dirty)
