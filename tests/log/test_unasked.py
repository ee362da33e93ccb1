"""Entries of phones that were away: judged where they belong, in whatever order they arrive."""

from dataclasses import replace
from datetime import timedelta
from itertools import permutations

import pytest

from protoconch.log.fold import Folding, fold
from tests.strategies import HATCHERY, entry

TANK, OTHER = "large tank 1", "large tank 2"


def unasked(kind, where, payload, **more):
    return replace(entry(kind, where, payload, **more), unasked=True)


STOCKED = {"batch": "27A", "animals": 9000, "litres": 400}


def test_a_tank_moved_twice_is_in_doubt_whichever_phone_comes_first():
    log = [
        entry("stocked", TANK, STOCKED, minutes=0, number=1),
        unasked("moved", TANK, {"to": [OTHER]}, minutes=60, number=2),
        unasked("moved", TANK, {"to": ["large tank 3"]}, minutes=90, number=3),
    ]
    states = {repr(Folding(HATCHERY, order).state) for order in permutations(log)}
    assert len(states) == 1
    (doubt,) = fold(log, HATCHERY).doubts
    assert (doubt.entries[0], doubt.counted) == (log[2].id, False)
    assert fold(log, HATCHERY).holdings[OTHER].alive == 9000


def test_what_would_have_been_asked_counts_and_is_in_doubt_until_confirmed():
    reading = unasked("read", "reservoir", {"quantity": "temperature", "value": 38}, number=1)
    found = fold([reading], HATCHERY)
    assert found.readings["reservoir", "temperature"].value == 38
    assert [doubt.counted for doubt in found.doubts] == [True]
    confirmed = entry("confirmed", "", {"of": str(reading.id)}, minutes=5, number=2)
    assert fold([reading, confirmed], HATCHERY).doubts == ()


def test_what_would_have_been_refused_beside_the_log_does_not_count_until_confirmed():
    log = [
        entry("stocked", TANK, STOCKED, minutes=0, number=1),
        unasked("measured", TANK, {"mean_mm": 390.0, "animals": 30}, minutes=60, number=2),
    ]
    found = fold(log, HATCHERY)
    assert found.holdings[TANK].length_mm is None
    assert [doubt.counted for doubt in found.doubts] == [False]


def test_an_entry_that_somebody_was_asked_about_is_not_asked_about_again():
    reading = entry("read", "reservoir", {"quantity": "temperature", "value": 38}, number=1)
    assert fold([reading], HATCHERY).doubts == ()


@pytest.mark.parametrize("later_unasked", [True, False])
def test_a_line_that_two_entered_apart_is_in_doubt_and_one_form_is_not(later_unasked):
    food = {"foods": [{"food": "flagellate", "litres": 0.5}]}
    stocked = entry("stocked", TANK, STOCKED, minutes=0, number=1)
    first = unasked("fed", TANK, food, minutes=60, number=2, task="feed")
    make = unasked if later_unasked else entry
    again = make("fed", TANK, food, minutes=95, number=3, task="feed", who="crew B")
    (doubt,) = fold([stocked, first, again], HATCHERY).doubts
    assert doubt.entries == (again.id, first.id)
    assert "Was it done twice?" in doubt.sentence
    both = unasked("measured", TANK, {"mean_mm": 0.5, "animals": 30}, minutes=60, number=4,
                   task="feed")  # fmt: skip
    assert timedelta(0) == both.happened - first.happened
    assert fold([stocked, first, both], HATCHERY).doubts == ()
