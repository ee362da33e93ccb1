"""`protoconch work` as it is typed."""

import csv
import json
from dataclasses import replace
from datetime import timedelta

import pytest
from click.testing import CliRunner
from icalendar import Calendar

from protoconch.cli.main import main
from tests.work.made_up_plan import FIRST_DAY, Shape, made_up_plan


@pytest.fixture
def asked(monkeypatch):
    """What the plan was asked for; the plan itself is made up."""
    seen = []

    def season_plan(*words):
        seen.append(words)
        return seen_plan[0]

    seen_plan = [made_up_plan()]
    monkeypatch.setattr("protoconch.cli.work.season_plan", season_plan)
    seen.append(seen_plan)
    return seen


def run(*words):
    return CliRunner().invoke(main, ["work", *words], prog_name="protoconch")


def one_sentence(result):
    assert result.exit_code == 2
    assert "Traceback" not in result.stderr
    sentence = result.stderr.strip()
    assert "\n" not in sentence
    assert sentence.endswith(".")
    return sentence


def test_a_day_lists_its_rounds_with_places_and_amounts(asked):
    result = run("demo", "--day", "2027-04-11")
    assert result.exit_code == 0
    assert "Nowhere Cay practice hatchery (invented)" in result.stdout
    assert "Sunday 11 April 2027" in result.stdout
    assert "large tank 2" in result.stdout
    assert "sieve 230 µm or finer" in result.stdout
    assert "hold_factor" not in result.stdout


def test_the_working_is_shown_on_request(asked):
    shown = run("demo", "--day", "2027-04-11", "--show-working").stdout
    assert "hold_factor 0.5 (practice)" in " ".join(shown.split())


def test_the_target_goes_to_the_plan_as_it_was_typed(asked):
    run("mine.toml", "--day", "2027-04-11", "--target", "900", "--size", "75 mm",
        "--by", "2028-09-01", "--confidence", "70 %")  # fmt: skip
    assert asked[1] == ("mine.toml", "900", "75 mm", "2028-09-01", "70 %")


def test_json_is_for_programs(asked):
    data = json.loads(run("demo", "--day", "2027-04-11", "--json").stdout)
    assert data["day"] == "2027-04-11"
    assert data["invented"] is True
    assert data["minutes"] == pytest.approx(sum(task["minutes"] for task in data["tasks"]))
    assert {task["kind"] for task in data["tasks"]} == {"change water", "feed", "measure"}


def test_the_whole_season_goes_into_csv_and_calendar(asked, tmp_path):
    table, calendar = tmp_path / "season.csv", tmp_path / "season.ics"
    result = run("demo", "--all", "--csv", str(table), "--ics", str(calendar))
    assert result.exit_code == 0
    assert str(table) in result.stderr
    with table.open(encoding="utf-8", newline="") as file:
        days = {row["day"] for row in csv.DictReader(file)}
    found = Calendar.from_ical(calendar.read_bytes()).walk("VEVENT")
    assert {event["DTSTART"].dt.isoformat() for event in found} == days
    assert (min(days), max(days)) == ("2027-04-01", "2028-03-29")


def test_the_whole_season_can_be_read_as_text(asked):
    result = run("demo", "--all")
    assert result.stdout.count("MORNING") > 300


def test_a_plan_short_of_its_target_says_so_above_the_work(asked):
    asked[0][0] = replace(made_up_plan(), feasible=False)
    result = run("demo", "--day", "2027-04-11")
    assert "odds of 82%" in result.stdout
    assert "Sunday 11 April 2027" in result.stdout


@pytest.mark.parametrize("day", ["14.07.2027", "2027-02-30", "tomorrow", ""])
def test_what_is_no_day_is_refused_with_the_form_of_a_day(asked, day):
    assert "2027-07-14" in one_sentence(run("demo", "--day", day))
    assert len(asked) == 1  # no plan was made for it


@pytest.mark.parametrize("day", ["2027-03-31", "2028-03-30", "1999-01-01"])
def test_a_day_outside_the_season_is_refused_with_its_first_and_last_day(asked, day):
    sentence = one_sentence(run("demo", "--day", day))
    assert day in sentence
    assert "2027-04-01 to 2028-03-29" in sentence


def test_a_day_between_two_batches_says_that_there_is_nothing_to_do(asked):
    plan = made_up_plan(Shape(), Shape(start=60))
    early = replace(plan.batches[0].dates, release=FIRST_DAY + timedelta(days=30))
    first = replace(plan.batches[0], dates=early)
    asked[0][0] = replace(plan, batches=(first, plan.batches[1]))
    result = run("demo", "--day", "2027-05-16")
    assert result.exit_code == 0
    assert "Sunday 16 May 2027: no tasks." in result.stdout


def test_one_day_or_the_whole_season_must_be_asked_for(asked):
    assert "--day" in one_sentence(run("demo"))
    assert "not both" in one_sentence(run("demo", "--day", "2027-04-11", "--all"))


def test_a_plan_without_batches_says_that_there_is_no_work(asked):
    plan = made_up_plan()
    asked[0][0] = replace(plan, batches=())
    assert "no batch" in one_sentence(run("demo", "--all"))


def test_a_file_that_cannot_be_written_is_named(asked, tmp_path):
    sentence = one_sentence(run("demo", "--all", "--csv", str(tmp_path / "no" / "season.csv")))
    assert "season.csv cannot be written" in sentence


def test_the_help_has_an_example():
    result = run("--help")
    assert result.exit_code == 0
    assert "protoconch work demo --day 2027-07-14" in result.output
