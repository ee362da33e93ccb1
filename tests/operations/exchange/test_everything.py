"""Everything goes out as tables, and the log comes back from them unchanged."""

import csv
import io
import re
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from protoconch.log.fold.corrections import POINTING
from protoconch.operations.exchange.columns import ENTRIES, guessed
from protoconch.operations.exchange.everything import everything, sheet_of
from protoconch.operations.exchange.raw_rows import entry_rows
from protoconch.operations.exchange.table_found import decoded, table_found
from protoconch.operations.exchange.taking_in import taken_in
from protoconch.operations.recording import correct, record, withdraw
from protoconch.records.models import Description, Person, Role, Site
from protoconch.records.queries.answers import planned
from protoconch.records.queries.log import entries, rows, state
from protoconch.records.queries.site import hatchery
from protoconch.sheets.workbook import csv_lines

TODAY = date(2027, 7, 20)
NOW = datetime(2027, 7, 20, 3, 0, tzinfo=UTC)
ZONE = ZoneInfo("America/Nassau")
pytestmark = pytest.mark.django_db


def raw(number, kind, payload, where="", **parts):
    return {
        "id": f"0b9f2f5e-6f4e-4d6c-9d0b-{number:012d}", "kind": kind, "where": where,
        "happened": f"2027-07-13T{number:02}:00:00-04:00", "payload": payload, **parts,
    }  # fmt: skip


@pytest.fixture
def logged(crew):
    said = [
        raw(6, "note", {"text": "=HYPERLINK(1); said, with a comma\nand a line"}),
        raw(7, "stocked", {"batch": "27A", "animals": 9000, "litres": 400}, "large tank 1"),
        raw(8, "counted", {"aliquots": [11, 9, 12], "aliquot_ml": 500, "litres": 400},
            "large tank 1"),
        raw(9, "fed", {"foods": [{"food": "Tisochrysis lutea", "litres": 2.5, "cells_per_ml": 3e6},
                                 {"food": "flakes", "grams": 1.5}]}, "large tank 1"),
        raw(10, "read", {"quantity": "temperature", "value": 28.4}, "large tank 1"),
        raw(11, "read", {"quantity": "temperature", "value": 12.0}, "large tank 1"),
        raw(12, "received", {"item": "salt", "amount": 25, "unit": "kg", "expires": "2028-01-01"}),
    ]  # fmt: skip
    answers = record(crew, said, NOW, sure=True)
    assert {answer.outcome for answer in answers} == {"added"}, answers
    correct(crew, answers[4].entry.id, NOW, payload={"quantity": "temperature", "value": 28.9})
    withdraw(crew, answers[5].entry.id, NOW)
    return crew


def renumbered(text):
    """The same table with other numbers for its entries, as a second hatchery would have."""
    begun = re.compile(r"\b([0-9a-f])(?=[0-9a-f]{7}-[0-9a-f]{4}-[0-9a-f]{4}-)")
    return begun.sub(lambda found: f"{(int(found[0], 16) + 1) % 16:x}", text)


def table(site, name):
    text = "".join(csv_lines(sheet_of(site, name, TODAY)))
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def test_the_log_comes_back_from_its_table_as_it_was(logged):
    text = "".join(csv_lines(sheet_of(logged.site, "entries", TODAY)))
    other = Site.objects.create(name="the same hatchery elsewhere", zone=logged.site.zone)
    Description.objects.create(site=other, text=logged.site.descriptions.last().text)
    manager = Person.objects.create_user(
        "manager-b", "a password of the tests", site=other, name="manager B", role=Role.MANAGER
    )
    Person.objects.create_user("crew-b", "a password of the tests", site=other, name="crew A")
    found = table_found(renumbered(text))
    assert guessed(found, ENTRIES)[0].target == "", "the site's clock is left out"
    raws = entry_rows(found, guessed(found, ENTRIES), hatchery(other), ZONE, "b", NOW)
    taken = taken_in(manager, raws, NOW, sure=True)
    assert (taken.taken, taken.problems) == (True, ())

    def told(site):
        return [
            (e.kind, e.happened, e.who, e.where, e.kind in POINTING or e.payload)
            for e in entries(rows(site).order_by("happened", "payload"))
        ]

    assert sorted(map(str, told(other))) == sorted(map(str, told(logged.site)))
    here, there = state(logged.site), state(other)
    assert [one.alive for one in there.holdings.values()] == [
        one.alive for one in here.holdings.values()
    ]
    assert [one.value for one in there.readings.values()] == [28.9]


def test_a_table_of_the_log_adds_nothing_to_its_own_log(logged):
    text = "".join(csv_lines(sheet_of(logged.site, "entries", TODAY)))
    found, count = table_found(decoded(text.encode())), rows(logged.site).count()
    own = entry_rows(found, guessed(found, ENTRIES), hatchery(logged.site), ZONE, "a", NOW)
    outcome = taken_in(logged, own, NOW)
    assert (outcome.taken, outcome.there, outcome.fresh) == (True, count, ())


def test_each_kind_has_its_table_with_units_in_the_headings(logged):
    (row,) = table(logged.site, "counted")
    assert row["aliquot_ml [mL]"] == "500"
    assert row["happened"] == "2027-07-13T08:00:00-04:00"
    assert row["site clock"] == "2027-07-13 08:00"
    (row,) = table(logged.site, "fed")
    assert (row["foods.1.litres [L]"], row["foods.2.grams [g]"]) == ("2.5", "1.5")


def test_readings_are_those_that_count_as_they_read_now(logged):
    (row,) = table(logged.site, "readings")
    assert (row["value"], row["unit"]) == ("28.9", "°C")


def test_what_was_typed_is_no_formula(logged):
    (row,) = table(logged.site, "note")
    assert row["text"].startswith("'=HYPERLINK")


def test_all_tables_are_there_even_before_anything_is(site):
    names = [sheet.name for sheet in everything(site, TODAY, NOW)]
    assert names[0] == "read me"
    assert {"entries", "readings", "animals now", "plan batches", "work list"} <= set(names)
    assert sheet_of(site, "no-such-table", TODAY) is None


def test_the_plan_and_the_work_go_out(planned_site):
    plan = table(planned_site, "plan-batches")
    assert plan
    assert all(row["batch"][:2].isdigit() for row in plan)
    day = plan_day(planned_site)
    work = list(sheet_of(planned_site, "work-list", day).rows)
    assert {row[0] for row in work} <= {day + timedelta(days=n) for n in range(14)}
    assert len(work) > 14


def plan_day(site):
    """A day on which the plan has much work."""
    plan = planned(site).plan
    return plan.batches[0].dates.hatch


def test_every_table_is_explained_column_by_column(logged):
    whole = everything(logged.site, TODAY, NOW)
    said = {(row[0], row[1]) for row in whole[0].rows}
    for sheet in whole[1:]:
        assert {(sheet.name, column.name) for column in sheet.columns} <= said
