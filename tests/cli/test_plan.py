"""`protoconch plan` and `protoconch demo`: the answer, and every wrong input in a sentence."""

import json
from datetime import date

import pytest
from click.testing import CliRunner

from protoconch.cli import plan as plan_module
from protoconch.cli.main import main
from protoconch.hatchery.reading import demo_text
from protoconch.season.plan import planning
from protoconch.season.plan.study import Effort

KEYS = {
    "feasible", "odds", "odds_error", "expected", "p10", "p90", "egg_masses", "larvae_stocked",
    "competent", "settled", "released", "tanks", "binding_limit", "batches", "offers",
}  # fmt: skip
SMALL = {  # a room in which a plan is quickly made
    "count = 6": "count = 2",
    "last_day = 2027-08-31": "last_day = 2027-05-12",
    "animals = 1200": "animals = 60",
    "min_masses = 15": "min_masses = 3",
    'max_share = "15 %"': 'max_share = "50 %"',
}


@pytest.fixture(autouse=True)
def few_draws(monkeypatch):
    """Plans with few futures, so that the tests are quick."""
    quick = Effort(common=400, fresh=600, look=200)
    whole = planning.plan_season

    def quickly(*given, **named):
        return whole(*given, **{**named, "effort": quick})

    monkeypatch.setattr(planning, "plan_season", quickly)


@pytest.fixture
def own(tmp_path):
    """A small hatchery's file, changed from the invented one."""
    text = demo_text()
    for old, new in SMALL.items():
        assert old in text
        text = text.replace(old, new, 1)
    file = tmp_path / "own.toml"
    file.write_text(text, encoding="utf-8")
    return file


def run(*words):
    """Run the command line with these words."""
    return CliRunner().invoke(main, [str(word) for word in words])


def test_the_demo_is_planned_and_reported(tmp_path, monkeypatch):
    monkeypatch.setattr("protoconch.cli.season_work.SEASONS", 2)
    monkeypatch.setattr("protoconch.algae.chain.sureness.spare_ladder", lambda room: [{}])
    report = tmp_path / "season.html"
    result = run("demo", "--report", report)
    assert result.exit_code == 0, result.stderr
    assert "in ten" in result.stdout
    assert "What limits the season most" in result.stdout
    assert str(report) in result.stdout
    page = report.read_text(encoding="utf-8")
    assert page.lower().startswith("<!doctype html>")
    assert "The water path" in page
    assert "Stored seawater" in page


def test_a_file_of_ones_own_is_answered_as_data(own):
    result = run("plan", own, "--json")
    assert result.exit_code == 0, result.stderr
    answer = json.loads(result.stdout)
    assert set(answer) >= KEYS
    assert answer["invented"] is True
    assert set(answer["batches"][0]) >= {"start", "dates", "tanks"}
    assert answer["larvae_stocked"] > answer["competent"] > answer["settled"] > answer["released"]


def test_the_target_may_be_given_beside_the_file(own):
    result = run("plan", own, "--target", "50", "--size", "60 mm", "--by", "2028-09-30",
                 "--confidence", "70 %", "--json")  # fmt: skip
    assert result.exit_code == 0, result.stderr
    asked = json.loads(result.stdout)["target"]
    assert asked == {"animals": 50, "size_mm": 60.0, "by": "2028-09-30", "confidence": 0.7}


def test_sizes_take_units():
    hatchery = plan_module.described_hatchery("demo")
    target = plan_module.asked_target(hatchery, None, "3 in", None, None)
    assert target.size_mm == pytest.approx(76.2)


WRONG = [
    (("--target", ""), "target"),
    (("--target", "-5"), "target"),
    (("--target", "0"), "target"),
    (("--target", "1e12"), "target"),
    (("--target", "many"), "target"),
    (("--target", "12 mm"), "target"),
    (("--size", "-80 mm"), "size"),
    (("--size", "80 kg"), "size"),
    (("--size", "5 km"), "size"),
    (("--confidence", "1.7"), "confidence"),
    (("--confidence", "-0.2"), "confidence"),
    (("--by", "2020-01-01"), "2020-01-01"),
    (("--by", "31/10/2028"), "31/10/2028"),
    (("--by", "2028-02-30"), "2028-02-30"),
    (("--by", "2027-06-15"), "too few"),
]


@pytest.mark.parametrize(("words", "named"), WRONG)
def test_a_wrong_target_is_refused_in_a_sentence(words, named):
    result = run("plan", "demo", *words)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert named in result.stderr
    assert result.stderr.strip().endswith((".", "?"))
    assert "Traceback" not in result.stderr


def test_two_wrong_parts_are_told_together():
    result = run("plan", "demo", "--size", "80 kg", "--by", "soon")
    assert result.exit_code == 2
    assert "kg" in result.stderr
    assert "soon" in result.stderr


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ('species = "queen-conch"', 'species = "queen-cinch"', "queen-conch"),
        ('volume = "400 L"', 'volume = "400 kg"', "kg"),
        ('volume = "400 L"', 'volume = "-400 L"', "-400"),
        ("places = 12", "places = ", "line"),
        ("egg_masses = 24", 'egg_masses = "none"', "egg masses"),
    ],
)
def test_a_faulty_file_is_told_with_its_line(tmp_path, old, new, named):
    file = tmp_path / "faulty.toml"
    text = demo_text()
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    result = run("plan", str(file))
    assert result.exit_code == 2
    assert named in result.stderr
    assert "line" in result.stderr
    assert "Traceback" not in result.stderr


def test_a_missing_file_is_told():
    result = run("plan", "nowhere.toml")
    assert result.exit_code == 2
    assert "nowhere.toml" in result.stderr


def test_a_season_that_is_over_is_told(own, monkeypatch):
    monkeypatch.setattr(plan_module, "today_here", lambda: date(2027, 9, 30))
    result = run("plan", own)
    assert result.exit_code == 2
    assert "season ended" in result.stderr


def test_a_report_that_cannot_be_written_is_told(own, tmp_path):
    result = run("plan", own, "--report", tmp_path / "no" / "such" / "folder.html")
    assert result.exit_code == 2
    assert "cannot be written" in result.stderr


def test_an_infeasible_ask_is_an_answer_and_not_an_error(own):
    result = run("plan", own, "--target", "90000", "--confidence", "0.5", "--json")
    assert result.exit_code == 0
    answer = json.loads(result.stdout)
    assert answer["feasible"] is False
    assert any(offer["kind"] == "fewer" for offer in answer["offers"])


def test_the_plan_for_the_work_list_is_the_plan_as_written(own):
    plan = plan_module.plan_for(str(own), None, None, None, None)
    assert plan.batches
    assert plan.limits == ()
