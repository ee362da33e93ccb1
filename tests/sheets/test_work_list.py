"""The work list as text, CSV and JSON."""

import csv
import io
import json
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.animals.profiles import species
from protoconch.sheets.work_list import (
    COLUMNS,
    day_words,
    hours_text,
    one_line,
    work_csv,
    work_json,
    work_text,
    working_text,
)
from protoconch.work.tasks import day_tasks, season_tasks
from tests.work.made_up_plan import FIRST_DAY, made_up_plan


def day_of(number):
    return day_tasks(made_up_plan(), species("queen-conch"), FIRST_DAY + timedelta(days=number))


def unwrapped(text):
    return " ".join(text.split())


def test_the_text_has_every_place_amount_and_reason_of_the_day():
    tasks = day_of(10)
    text = work_text(tasks)
    assert text.startswith("Sunday 11 April 2027\n")
    for task in tasks:
        assert task.where in text
        assert task.amount in unwrapped(text)
        assert task.why in unwrapped(text)
    assert text.index("MORNING") < text.index("MIDDAY")


def test_the_columns_of_the_text_stand_under_each_other():
    lines = [line for line in work_text(day_of(10)).splitlines() if line.startswith("    A ")]
    assert len(lines) == 4
    assert len({line.index("tank") for line in lines}) == 1
    assert len({line.index(" min  ") for line in lines}) == 1


def test_no_line_of_the_text_is_wider_than_a_page():
    for number in range(0, 363, 3):
        for line in work_text(day_of(number), show_working=True).splitlines():
            assert len(line) <= 100


def test_the_text_tells_each_caution_of_the_day_once():
    tasks = day_of(8)
    text = work_text(tasks)
    for caution in {caution for task in tasks for caution in task.cautions}:
        assert unwrapped(text).count(caution) == 1


def test_the_working_is_shown_on_request_with_formula_inputs_and_sources():
    tasks = day_of(10)
    plain, shown = work_text(tasks), unwrapped(work_text(tasks, show_working=True))
    assert "hold_factor" not in plain
    assert "hold_factor 0.5 (practice)" in shown
    assert "hatch 300 µm (brito-manzano-2004)" in shown
    assert "1. Check the sieve" in shown
    assert "brito-manzano-2004: Brito-Manzano & Aldana Aranda 2004" in shown
    assert "practice: Common practice, no source" in shown


def test_a_working_reads_as_result_formula_and_inputs():
    feed = next(task for task in day_of(10) if task.kind == "feed")
    assert working_text(feed.working) == (
        "0.126 g = tank_water × ration / 1000; "
        "tank_water 400 L (the plan), ration 0.315 mg/L/d (practice)"
    )


def test_csv_comes_back_as_it_went_out():
    tasks = season_tasks(made_up_plan(), species("queen-conch"))
    text = work_csv(tasks)
    assert text.startswith(",".join(COLUMNS) + "\r\n")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert len(rows) == len(tasks)
    for row, task in zip(rows, tasks, strict=True):
        assert row["day"] == task.day.isoformat()
        assert row["amount"] == task.amount
        assert float(row["minutes"]) == pytest.approx(task.minutes, rel=1e-4)
        assert None not in row


@given(st.text(min_size=1), st.sampled_from(["=", "+", "-", "@", "\t=", "\r=", " =", "\n@"]))
def test_no_cell_of_the_csv_is_a_formula_to_a_spreadsheet(name, start):
    task = replace(day_of(10)[0], where=start + name, what=start + name, amount=start)
    text = work_csv([task])
    (row,) = csv.DictReader(io.StringIO(text, newline=""))
    for column, cell in row.items():
        if column not in {"day", "minutes"}:
            assert not cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n"))
    assert text.encode()


@settings(max_examples=30)
@given(st.text())
def test_names_typed_by_people_never_break_a_line_of_the_text(name):
    task = replace(day_of(10)[0], where=name)
    plain, named = work_text([replace(task, where="x")]), work_text([task])
    starts = [line for line in named.splitlines() if line.startswith("    A ")]
    assert len(starts) == 1
    assert unwrapped(name if name.isprintable() else "") in unwrapped(starts[0])
    assert all(c.isprintable() or c == "\n" for c in named)
    assert named.splitlines()[:4] == plain.splitlines()[:4]


def test_json_carries_every_field_and_the_workings_with_their_inputs():
    tasks = day_of(10)
    data = json.loads(json.dumps(work_json(tasks), allow_nan=False))
    feed = next(entry for entry in data if entry["kind"] == "feed")
    assert feed["day"] == "2027-04-11"
    assert feed["workings"][0]["result"] == pytest.approx(0.126)
    assert feed["workings"][0]["inputs"][0] == {
        "name": "tank_water", "value": 400.0, "unit": "L", "source": "the plan",
    }  # fmt: skip
    assert sum(entry["minutes"] for entry in data) == pytest.approx(
        sum(task.minutes for task in tasks)
    )


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0.4, "1 min"), (45, "45 min"), (60, "1 h 00 min"), (130.2, "2 h 10 min")],
)
def test_times_are_told_in_hours_and_minutes(minutes, words):
    assert hours_text(minutes) == words


def test_days_are_written_out():
    assert day_words(FIRST_DAY) == "Thursday 1 April 2027"


def test_one_line_keeps_words_and_drops_control_characters():
    assert one_line("north\n bank\x1b[2J\t1") == "north bank [2J 1"


def test_a_list_without_tasks_is_empty():
    assert work_text(()) == ""
    assert work_json(()) == []
    assert work_csv(()) == ",".join(COLUMNS) + "\r\n"
