"""`protoconch algae`: the room's schedule on the command line."""

import json
from datetime import date

import click
import pytest
from click.testing import CliRunner

from protoconch.cli import algae as command
from protoconch.cli.season_work import season_algae
from protoconch.errors import BadInput, MissingInput
from tests.pictures.algae_answer import FIRST, small_answer
from tests.work.made_up_plan import Shape, made_up_plan


@pytest.fixture
def quick(monkeypatch):
    """The small answer in place of the season's, which others test."""
    monkeypatch.setattr("protoconch.cli.plan.plan_for", lambda *_: made_up_plan())
    monkeypatch.setattr(command, "season_algae", lambda *_: small_answer())


def run(*arguments):
    return CliRunner().invoke(command.algae, list(arguments), catch_exceptions=True)


def first_carboy(day):
    life = next(x for x in small_answer().plan.lives if x.vessel[0] == "carboy"
                and x.started < day <= (x.ended if x.ended is not None else 99))  # fmt: skip
    return f"carboy {life.vessel[1]}"


def test_the_answer_is_told(quick):
    said = run("demo").output
    assert "The algae room feeds" in said
    assert str(FIRST) in said


def test_the_answer_is_json(quick):
    found = json.loads(run("demo", "--json").output)
    assert found["species"] == ["t-iso", "c-muelleri", "navicula"]
    assert found["days_short_without_losses"] == 0
    assert len(found["moves"]) == found["days"]


def test_a_loss_is_planned_around(quick):
    day = FIRST.replace(day=28)
    lost = first_carboy(27)
    found = json.loads(run("demo", "--day", str(day), "--lost", lost, "--json").output)
    anew = found["planned_anew"]
    assert anew["from"] == str(day)
    assert anew["days_short_after"] <= anew["days_short_before"]
    told = run("demo", "--day", str(day), "--lost", lost).output
    assert "Planned anew from 28 April" in told


def test_the_report_is_written(quick, tmp_path):
    file = tmp_path / "algae.html"
    said = run("demo", "--report", str(file))
    assert "Report written to" in said.output
    assert "<title>The algae room feeds" in file.read_text(encoding="utf-8")
    refused = run("demo", "--report", str(tmp_path / "no" / "algae.html"))
    assert isinstance(refused.exception, BadInput)


@pytest.mark.parametrize(
    ("arguments", "kind", "said"),
    [
        (("--day", "soon"), BadInput, "is no day"),
        (("--lost", "carboy 3"), MissingInput, "on which day"),
        (("--day", "2027-04-10", "--lost", "carboy"), BadInput, "is no vessel"),
        (("--day", "2027-04-10", "--lost", "bucket 1"), BadInput, "holds no culture"),
        (("--day", "2031-04-10", "--missing", "flask 1"), BadInput, "outside the schedule"),
    ],
)
def test_a_mistake_is_a_sentence(quick, arguments, kind, said):
    caught = run("demo", *arguments).exception
    assert isinstance(caught, kind)
    assert said in str(caught)


def test_it_is_a_command():
    assert isinstance(command.algae, click.Command)
    assert command.asked_day("2027-04-10") == date(2027, 4, 10)


def test_a_room_is_read_from_a_file(tmp_path):
    file = tmp_path / "my.toml"
    file.write_text("[hatchery]\n", encoding="utf-8")
    with pytest.raises(MissingInput, match="has no"):
        command.described_room(str(file))
    assert command.described_room("demo").room.vessels > 0


def test_a_season_asks_the_room_for_its_larvae_and_its_trays(monkeypatch):
    monkeypatch.setattr("protoconch.cli.season_work.SEASONS", 4)
    monkeypatch.setattr("protoconch.algae.chain.sureness.spare_ladder", lambda room: [{}])
    season = made_up_plan(Shape(on_trays=8))
    answer = season_algae(season, command.described_room("demo"), effort=0.2)
    food = dict(zip(answer.demand.species, answer.demand.grams.sum(axis=1), strict=True))
    assert food["t-iso"] > 0
    assert food["navicula"] > 0
    assert {entry.tank for entry in answer.demand.tanks if entry.trays} == {"trays of batch A"}
    assert answer.plan.days_short == 0 or answer.short
