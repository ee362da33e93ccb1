"""Tables taken into the log: whole or not at all, once however often, all faults at once."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from protoconch.log.payloads.water import Read
from protoconch.operations.exchange.columns import ENTRIES, READINGS, guessed
from protoconch.operations.exchange.raw_rows import entry_rows, reading_rows
from protoconch.operations.exchange.table_found import table_found
from protoconch.operations.exchange.taking_in import MOST_ENTRIES, taken_in, tried
from protoconch.records.queries.log import entries, rows, state
from protoconch.records.queries.site import hatchery

NOW = datetime(2027, 7, 20, 3, 0, tzinfo=UTC)
ZONE = ZoneInfo("America/Nassau")
pytestmark = pytest.mark.django_db
SOUND = """kind,happened,where,batch,animals,litres [L],text,item,amount,unit
note,2027-07-13 08:00,,,,,all calm,,,
stocked,2027-07-13 09:00,large tank 1,27A,9000,400,,,,
received,2027-07-13 10:00,,,,,,salt,25,kg
"""


def of_entries(person, text, **how):
    table = table_found(text, **how)
    return entry_rows(table, guessed(table, ENTRIES), hatchery(person.site), ZONE, "a site", NOW)


def of_readings(text, **how):
    table = table_found(text)
    return reading_rows(table, guessed(table, READINGS), ZONE, "a site", **how)


def test_a_sound_table_is_taken_in_once_however_often(crew):
    assert taken_in(crew, of_entries(crew, SOUND), NOW, sure=True).taken
    assert rows(crew.site).count() == 3
    again = taken_in(crew, of_entries(crew, SOUND), NOW, sure=True)
    assert (again.taken, again.there, again.fresh) == (True, 3, ())
    assert rows(crew.site).count() == 3
    assert state(crew.site).holdings["large tank 1"].alive == 9000


def test_looking_at_it_changes_nothing(crew):
    outcome = tried(crew, of_entries(crew, SOUND), NOW)
    assert len(outcome.fresh) == 3
    assert not outcome.taken
    assert rows(crew.site).count() == 0
    assert state(crew.site).holdings == {}


def test_rows_that_say_the_same_are_so_many_entries(crew):
    text = "kind,happened,text\n" + "note,2027-07-13 08:00,a knock at the pump\n" * 2
    assert taken_in(crew, of_entries(crew, text), NOW).taken
    assert rows(crew.site).count() == 2


def test_one_fault_leaves_the_whole_table_out_and_all_faults_are_told_at_once(crew):
    text = SOUND + (
        "note,31/02/2027 08:00,,,,,never,,,\n"
        "stocked,2027-07-13 09:00,large tank 77,27A,many,400,,,,\n"
    )
    outcome = taken_in(crew, of_entries(crew, text), NOW, sure=True)
    assert not outcome.taken
    assert rows(crew.site).count() == 0
    assert [problem.line for problem in outcome.problems] == [5, 6, 6]


def test_a_row_is_judged_after_those_before_it_wherever_they_stand(crew):
    text = (
        "kind,happened,where,batch,animals,litres\n"
        "lost,2027-07-13 12:00,large tank 1,,300,\n"
        "stocked,2027-07-13 09:00,large tank 1,27A,9000,400\n"
    )
    assert taken_in(crew, of_entries(crew, text), NOW, sure=True).taken
    assert state(crew.site).holdings["large tank 1"].alive == 8700


def test_an_unlikely_row_needs_one_tick(crew):
    text = (
        "kind,happened,where,batch,animals,litres\nstocked,2027-07-13,large tank 1,27A,900000,400\n"
    )
    asked = taken_in(crew, of_entries(crew, text), NOW)
    assert not asked.taken
    assert {problem.line for problem in asked.unlikely} == {2}
    assert rows(crew.site).count() == 0
    assert taken_in(crew, of_entries(crew, text), NOW, sure=True).taken


def test_units_and_decimal_commas_of_columns_count(crew):
    text = (
        "kind;happened;where;batch;animals;litres [US gal]\n"
        "stocked;13/07/2027 09:00;large tank 1;27A;9.000;105,5\n"
    )
    assert taken_in(crew, of_entries(crew, text, decimal=","), NOW, sure=True).taken
    payload = rows(crew.site).get().payload
    assert payload["animals"] == 9000
    assert payload["litres"] == pytest.approx(105.5 * 3.785411784)  # the US gallon by definition


def test_a_loggers_rows_become_readings_in_our_units(crew):
    text = "Time,Temp (°F),pH\n2027-07-13 08:00,82.4,8.1\n2027-07-13 08:10,,8.2\n"
    assert taken_in(crew, of_readings(text, where="large tank 1"), NOW, sure=True).taken
    found = {(one.payload.quantity, one.payload.value) for one in entries(rows(crew.site))
             if isinstance(one.payload, Read)}  # fmt: skip
    assert found == {("temperature", 28.0), ("pH", 8.1), ("pH", 8.2)}  # 82.4 °F = 28 °C
    assert taken_in(crew, of_readings(text, where="large tank 1"), NOW, sure=True).there == 3


def test_one_reading_an_hour_is_taken_where_asked():
    text = "Time,Temp\n" + "".join(
        f"2027-07-13 {h:02}:{m:02},28\n" for h in (8, 9) for m in (0, 30)
    )
    assert len(of_readings(text).made) == 4
    assert len(of_readings(text, every_min=60).made) == 2


def test_a_value_that_no_probe_shows_is_named_by_its_row(crew):
    text = "Time,Temp\n2027-07-13 08:00,28\n2027-07-13 09:00,---\n2027-07-13 10:00,280\n"
    outcome = tried(crew, of_readings(text, where="large tank 1"), NOW)
    assert [problem.line for problem in outcome.problems] == [3, 4]


def test_too_many_at_once_are_refused(crew):
    text = "Time,Temp\n" + "".join(
        f"2027-{m:02}-{d:02} {h:02}:{n:02},28\n"
        for m in (5, 6) for d in range(1, 29) for h in range(24) for n in (0, 15, 30)
    )  # fmt: skip
    outcome = tried(crew, of_readings(text, where="large tank 1"), NOW)
    assert str(MOST_ENTRIES // 1000) in outcome.problems[0].sentence
    assert rows(crew.site).count() == 0


def test_only_so_many_rows_may_lie_before_the_end_of_the_log(crew):
    text = "Time,Temp\n" + "".join(
        f"2027-07-{d:02} {h:02}:{m:02},28\n" for d in (1, 2, 3) for h in range(24) for m in range(6)
    )
    late = "Time,Temp\n2027-07-05 08:00,28\n"
    assert taken_in(crew, of_readings(late, where="large tank 1"), NOW, sure=True).taken
    outcome = tried(crew, of_readings(text, where="large tank 1"), NOW)
    assert "Before the last entry of the log lie 432 of the rows" in outcome.problems[0].sentence
    assert rows(crew.site).count() == 1


def test_a_viewer_takes_nothing_in(viewer):
    outcome = taken_in(viewer, of_entries(viewer, SOUND), NOW, sure=True)
    assert not outcome.taken
    assert rows(viewer.site).count() == 0
