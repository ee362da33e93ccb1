"""A log is followed from vessel to vessel, and what was thinned, moved or lost is so."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

import numpy as np
import pytest

from protoconch.log.entry import Entry
from protoconch.log.kinds import kind
from protoconch.season.outlook.history import history
from protoconch.season.outlook.laid_out import laid_out
from protoconch.season.outlook.names import trade_name
from protoconch.season.outlook.seen import History
from tests.season.outlook.seasons import FIRST, on, small


def log(*told: tuple[int, str, str, dict[str, object]]) -> list[Entry]:
    """Entries: (day, kind, where, payload), an hour apart."""
    made = []
    for number, (day, name, where, payload) in enumerate(told):
        at = datetime.combine(FIRST, datetime.min.time(), UTC) + timedelta(days=day, hours=number)
        made.append(Entry(UUID(int=number + 1), name, at, at, "crew A", where,
                          kind(name).payload.model_validate(payload)))  # fmt: skip
    return made


def read(*told: tuple[int, str, str, dict[str, object]]) -> History:
    basis = small()
    return history(log(*told), FIRST, on(60), basis.vessels, basis.measures.counting)


STOCKED = (10, "stocked", "large tank 1", {"batch": "27A", "animals": 10000})
TRAYS = ("tray 1", "tray 2", "tray 3", "tray 4")
MOVED = (34, "moved", "large tank 1", {"to": TRAYS})


def test_a_count_in_one_of_four_trays_is_of_a_quarter_of_the_lot() -> None:
    seen = read(STOCKED, MOVED, (36, "counted", "tray 2", {"animals": 700})).observations
    assert [(p.share, p.settled) for p in seen[0].parts] == [(0.25, True)]


def test_larvae_sorted_before_the_trays_have_still_to_settle() -> None:
    sorted_out = (34, "thinned", "large tank 1", {"kept": 4000})
    told = read(STOCKED, sorted_out, MOVED, (36, "counted", "tray 2", {"animals": 500}))
    pairs = laid_out(told, small().site, small().measures).pairs
    assert pairs.settled.tolist() == [True]
    assert pairs.placed.tolist() == [False]
    unsorted = read(STOCKED, MOVED, (36, "counted", "tray 2", {"animals": 500}))
    assert laid_out(unsorted, small().site, small().measures).pairs.placed.tolist() == [True]


def test_a_tank_lost_whole_has_ended_and_a_great_loss_is_taken_out() -> None:
    assert read(STOCKED, (20, "lost", "large tank 1", {})).courses[0].ended == 20
    removals = read(STOCKED, (20, "lost", "large tank 1", {"animals": 4000})).courses[0].removals
    assert removals[0].kept == pytest.approx(0.6)


def test_half_released_leaves_half_and_is_counted_as_released() -> None:
    told = read(STOCKED, MOVED, (50, "released", "tray 1", {"animals": 1250}))
    assert told.released == 1250
    assert told.courses[0].removals[0].kept == pytest.approx(0.875)


def test_the_order_of_arrival_does_not_matter() -> None:
    entries = log(STOCKED, MOVED, (36, "counted", "tray 2", {"animals": 700}))
    basis = small()
    a, b = (history(e, FIRST, on(60), basis.vessels, basis.measures.counting)
            for e in (entries, entries[::-1]))  # fmt: skip
    assert a == b


def test_ten_times_too_many_settled_is_doubted_and_a_plausible_count_is_not() -> None:
    counted = ("counted", "large tank 1")
    fine = {"aliquots": (24, 26, 20, 30, 22), "aliquot_ml": 1000, "litres": 400}
    many = fine | {"aliquots": (240, 260, 200, 300, 220)}
    assert not read(STOCKED, (12, *counted, fine)).doubted
    assert read(STOCKED, (12, *counted, many)).doubted[0].entry == UUID(int=2)
    assert not read(STOCKED, (12, *counted, many)).observations
    assert np.isfinite(read(STOCKED).day)


def test_the_water_is_that_of_the_animals_and_shared_water_only_where_theirs_is_not_read() -> None:
    def warm(day: int, where: str, value: float) -> tuple[int, str, str, dict[str, object]]:
        return (day, "read", where, {"quantity": "temperature", "value": value})

    told = read(STOCKED, warm(11, "reservoir", 27.0), warm(12, "large tank 1", 28.0),
                warm(12, "reservoir", 26.0), warm(13, "large tank 2", 35.0))  # fmt: skip
    assert told.readings == ((11, 27.0), (12, 28.0))


def test_eggs_in_an_incubator_have_water_of_their_own_until_they_hatch() -> None:
    loaded = {"batch": "27A", "masses": ("27A-1",), "eggs": 1000}
    warm = {"quantity": "temperature", "value": 28.0}
    told = read((4, "incubator loaded", "incubator 1", loaded), (6, "read", "incubator 1", warm),
                (8, "hatched", "incubator 1", {"batch": "27A"}),
                (9, "read", "incubator 1", warm))  # fmt: skip
    assert told.readings == ((6, 28.0),)


def test_doubts_name_real_days_and_are_good_english() -> None:
    held = (10, "counted", "large tank 1", {"animals": 9000})
    same_day = read(STOCKED, held, (10, "counted", "large tank 1", {"animals": 100})).doubted
    assert "on the same day" in same_day[0].sentence
    day_after = read(STOCKED, (11, "counted", "large tank 1", {"animals": 100})).doubted
    assert "the day before" in day_after[0].sentence
    nobody = read((20, "counted", "large tank 2", {"animals": 100})).doubted
    assert "in large tank 2 on 21 Apr 2027" in nobody[0].sentence


def test_everything_an_outlook_does_not_know_has_a_name_of_the_trade() -> None:
    basis = small()
    told = read(STOCKED, MOVED, (36, "counted", "tray 2", {"animals": 700}))
    names = laid_out(told, basis.site, basis.measures).coordinates.names
    said = [trade_name(name) for name in names]
    assert len(set(said)) == len(names)
    assert not [word for word in said if "_" in word or "." in word]
    assert "mortality on the trays of the larvae from large tank 1, batch 27A" in said
