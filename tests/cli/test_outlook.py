"""`protoconch outlook` as it is typed."""

import csv
import json
from datetime import timedelta

import pytest
from click.testing import CliRunner

from protoconch.cli.main import main
from protoconch.operations import looking_ahead
from tests.season.outlook.seasons import plan as small_plan

PLAN = small_plan()
FIRST = PLAN.forecast.first_day
COLUMNS = ("site clock", "id", "kind", "happened", "arrived", "who", "where", "batch",
           "eggs [1]", "animals", "litres [L]", "aliquots", "aliquot_ml [mL]", "quantity",
           "value", "masses")  # fmt: skip


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """A small plan, made already, and few particles."""
    monkeypatch.setattr("protoconch.cli.outlook.season_plan", lambda _hatchery: PLAN)
    monkeypatch.setattr(looking_ahead, "PARTICLES", 200)


def row(day, kind, where="", **more):
    happened = f"{FIRST + timedelta(days=day)}T09:00:00-05:00"
    return {"kind": kind, "happened": happened, "who": "crew A", "where": where, **more}


def rows():
    """One batch, collected, hatched, stocked and counted twice."""
    tank = "large tank 1"
    return [
        row(4, "incubator loaded", "incubator 1", batch="27A", masses="M1; M2",
            **{"eggs [1]": 90000}),
        row(8, "stocked", tank, batch="27A", animals=40000, **{"litres [L]": 400}),
        row(11, "counted", tank, aliquots="9; 11; 8; 10",
            **{"aliquot_ml [mL]": 100, "litres [L]": 400}),
        row(14, "read", tank, quantity="temperature", value=27.5),
        row(15, "counted", tank, aliquots="6; 7; 9; 8",
            **{"aliquot_ml [mL]": 100, "litres [L]": 400}),
    ]  # fmt: skip


@pytest.fixture
def log(tmp_path):
    """Writes rows as the program writes out a log; gives the file."""

    def written(found):
        file = tmp_path / "entries.csv"
        with file.open("w", encoding="utf-8-sig", newline="") as out:
            writer = csv.DictWriter(out, COLUMNS)
            writer.writeheader()
            writer.writerows(found)
        return str(file)

    return written


def run(*words):
    return CliRunner().invoke(main, ["outlook", *words], prog_name="protoconch")


def one_sentence(result):
    assert result.exit_code == 2, result.output
    sentence = result.stderr.strip()
    assert "Traceback" not in sentence
    assert sentence.endswith((".", "?"))
    return sentence


def test_it_says_the_odds_as_of_the_last_entry(log):
    result = run("some.toml", "--log", log(rows()))
    assert result.exit_code == 0, result.stderr
    first, *others = result.stdout.splitlines()
    assert "that 300 juveniles of 50" in first
    assert "as of 16 April 2027." in result.stdout
    assert any("Before the season it was" in line for line in others)
    assert "It rests on" in result.stdout


def test_machines_get_numbers_and_the_same_answer_each_time(log):
    file = log(rows())
    first, second = (run("some.toml", "--log", file, "--json").stdout for _ in range(2))
    assert first == second
    told = json.loads(first)
    assert told["as_of"] == "2027-04-16"
    assert 0 <= told["odds"] <= 1
    assert told["p10"] <= told["expected"] <= told["p90"] * 2
    assert [batch["code"] for batch in told["batches"]] == ["27A", "27B"]
    assert [batch["begun"] for batch in told["batches"]] == [True, False]
    assert told["left_out"] == []
    assert {"kind", "gain", "low", "high", "hours"} <= told["actions"][0].keys()


def test_a_day_sees_only_what_had_happened_by_then(log):
    file = log(rows())
    early, late = (
        json.loads(run("some.toml", "--log", file, "--day", f"{FIRST + timedelta(days=day)}",
                       "--json").stdout)
        for day in (9, 15)
    )  # fmt: skip
    assert early["entries_used"] < late["entries_used"]


def test_a_count_ten_times_too_high_is_left_out_and_said(log):
    wild = [*rows(), row(16, "counted", "large tank 1", animals=400000)]
    calm, told = (run("some.toml", "--log", log(found), "--json", "--day", "2027-04-18").stdout
                  for found in (rows(), wild))  # fmt: skip
    calm, told = json.loads(calm), json.loads(told)
    assert told["entries_used"] == calm["entries_used"]
    assert told["expected"] == pytest.approx(calm["expected"], rel=0.01)
    said = run("some.toml", "--log", log(wild)).stdout
    assert [len(calm["left_out"]), len(told["left_out"])] == [0, 1]
    assert "Left out until somebody confirms it:" in said
    assert told["left_out"][0]["sentence"] in said


def test_what_is_wrong_is_said_in_a_sentence(log, tmp_path):
    assert "Say which log" in one_sentence(run("some.toml"))
    assert "cannot be read" in one_sentence(run("some.toml", "--log", str(tmp_path / "none.csv")))
    picture = tmp_path / "picture.csv"
    picture.write_bytes(b"\xff\xd8\xff\xe0")
    assert "no text in UTF-8" in one_sentence(run("some.toml", "--log", str(picture)))
    empty = tmp_path / "empty.csv"
    empty.write_text("when,what\n1,2\n")
    assert "holds no log" in one_sentence(run("some.toml", "--log", str(empty)))
    empty.write_text("")
    assert "holds no log" in one_sentence(run("some.toml", "--log", str(empty)))
    file = log(rows())
    assert "is no day" in one_sentence(run("some.toml", "--log", file, "--day", "tomorrow"))
    early = run("some.toml", "--log", file, "--day", f"{FIRST - timedelta(days=3)}")
    assert "no entry up to" in one_sentence(early)
    bad = [row(4, "counted", "large tank 99", animals=3)]
    assert "large tank 99" in one_sentence(run("some.toml", "--log", log(bad)))
