"""The work list as a calendar, read back by a parser."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import UUID

from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from protoconch.animals.profiles import species
from protoconch.sheets.work_list_calendar import work_calendar
from protoconch.work.tasks import day_tasks, season_tasks
from tests.work.made_up_plan import FIRST_DAY, made_up_plan

STAMP = datetime(2027, 3, 20, 8, 30, tzinfo=UTC)
NAME = "Nowhere Cay practice hatchery"


def season():
    return season_tasks(made_up_plan(), species("queen-conch"))


def events(tasks, name=NAME, stamp=STAMP):
    return Calendar.from_ical(work_calendar(tasks, name, stamp)).walk("VEVENT")


def test_each_round_of_each_day_is_one_event_of_its_day():
    tasks = season()
    found = [(e["DTSTART"].dt, str(e["SUMMARY"]).split(":")[0].lower()) for e in events(tasks)]
    assert found == list(dict.fromkeys((task.day, task.round) for task in tasks))
    for event in events(tasks):
        assert event["DTEND"].dt - event["DTSTART"].dt == timedelta(days=1)
        assert event["DTSTAMP"].dt == STAMP


def test_every_task_is_told_in_the_event_of_its_round():
    tasks = season()
    told = {
        (e["DTSTART"].dt, str(e["SUMMARY"]).split(":")[0].lower()): str(e["DESCRIPTION"])
        for e in events(tasks)
    }
    for task in tasks:
        lines = told[task.day, task.round].splitlines()
        assert any(task.where in line and task.amount in line for line in lines)


def test_ids_are_one_of_a_kind_and_stay_the_same_when_the_list_is_made_again():
    first = [str(e["UID"]) for e in events(season())]
    again = [str(e["UID"]) for e in events(season(), stamp=STAMP + timedelta(days=9))]
    assert first == again
    assert len(set(first)) == len(first)
    assert all(UUID(uid) for uid in first)


def test_another_hatchery_gets_other_ids():
    mine, other = season()[:40], season()[:40]
    assert not {str(e["UID"]) for e in events(mine)} & {
        str(e["UID"]) for e in events(other, name="Nowhere Cay")
    }


def test_no_line_of_the_file_is_longer_than_75_octets_and_all_end_in_crlf():
    content = work_calendar(season(), NAME, STAMP)
    assert content.endswith(b"\r\n")
    lines = content.split(b"\r\n")
    assert max(len(line) for line in lines) <= 75
    assert not any(b"\n" in line or b"\r" in line for line in lines)


def test_the_calendar_says_what_made_it_and_which_version_of_the_standard_it_keeps():
    calendar = Calendar.from_ical(work_calendar(season()[:3], NAME, STAMP))
    assert str(calendar["VERSION"]) == "2.0"
    assert "Protoconch" in str(calendar["PRODID"])


@settings(max_examples=40)
@given(st.text(min_size=1), st.text())
def test_names_typed_by_people_come_back_whole_or_on_one_line(where, name):
    tasks = [replace(t, where=where) for t in
             day_tasks(made_up_plan(), species("queen-conch"), FIRST_DAY)]  # fmt: skip
    (event,) = events(tasks, name=name)
    assert len(str(event["DESCRIPTION"]).splitlines()) == len(tasks)


def test_a_calendar_without_tasks_has_no_events():
    assert not events(())
