"""`protoconch calc`: answers for people and programs, mistakes in a sentence."""

import json

import pytest
from click.testing import CliRunner, Result

from protoconch import calculations
from protoconch.cli.main import main

RATION = ["calc", "ration", "tank=500 L", "wanted=20000", "present=5000", "culture=4e6"]


def told(*words: str) -> Result:
    return CliRunner().invoke(main, words)


def test_json_holds_what_was_promised_and_nothing_else() -> None:
    answer = json.loads(told(*RATION, "--json").stdout)
    assert list(answer) == ["calculation", "result", "units", "inputs", "source", "cautions"]
    assert answer["calculation"] == "ration"
    assert answer["result"] == {"add_l": pytest.approx(1.8844, abs=1e-4)}
    assert answer["units"] == {"add_l": "L"}
    assert answer["inputs"] == {"tank": 500, "wanted": 20000, "present": 5000, "culture": 4e6}
    assert isinstance(answer["source"], list)
    assert isinstance(answer["cautions"], list)


def test_people_get_the_number_its_unit_its_meaning_and_its_source() -> None:
    lines = told(*RATION).stdout.splitlines()
    assert lines[0] == "add_l  1.884 L  Culture to add."
    assert any(line.startswith("Source: ") for line in lines)
    assert any(line.startswith("Mind: ") for line in lines)


def test_lists_and_units_are_typed_as_people_type_them() -> None:
    words = ["counts=18,22,20,25,15", "aliquot=1 mL", "volume=2.641720524 US gal", "--json"]
    answer = json.loads(told("calc", "aliquot-count", *words).stdout)
    assert answer["result"]["animals"] == pytest.approx(200_000)
    assert answer["inputs"]["counts"] == [18, 22, 20, 25, 15]


def test_a_bare_gallon_is_remarked_for_people_and_for_programs() -> None:
    words = ["calc", "ration", "tank=130 gal", "wanted=20000", "culture=4e6"]
    assert "Mind: A bare gallon is read as the US gallon" in told(*words).stdout
    assert "US gallon" in json.loads(told(*words, "--json").stdout)["cautions"][0]


def test_a_result_that_does_not_exist_is_null_and_never() -> None:
    words = ["calc", "aliquot-count", "counts=18", "aliquot=1", "volume=10"]
    assert json.loads(told(*words, "--json").stdout)["result"]["dispersion_p"] is None
    assert "dispersion_p" in told(*words).stdout


def test_the_list_names_every_calculation_with_its_inputs() -> None:
    listed = told("calc", "--list").stdout
    for name, one in calculations.known().items():
        assert name in listed
        for given in one.inputs:
            assert given.key in listed
    assert told("calc").stdout == listed


def test_the_list_for_programs_says_what_each_takes_and_gives() -> None:
    listed = {
        one["calculation"]: one for one in json.loads(told("calc", "--list", "--json").stdout)
    }
    assert set(listed) == set(calculations.known())
    inputs = {one["key"]: one for one in listed["ration"]["inputs"]}
    assert inputs["tank"] == {
        "key": "tank",
        "kind": "number",
        "unit": "L",
        "sentence": "Water in the tank.",
        "needed": True,
        "default": None,
        "default_says": "",
        "choices": [],
    }
    assert (inputs["present"]["needed"], inputs["present"]["default"]) == (False, 0)
    assert listed["ration"]["results"][0]["unit"] == "L"


def test_a_name_alone_tells_what_it_takes_and_what_is_missing() -> None:
    alone = told("calc", "ration")
    assert alone.exit_code == 2
    assert "present (cells/mL; 0)" in alone.stdout
    assert alone.stderr == "ration needs tank, wanted, culture; write them as KEY=VALUE.\n"
    assert told("calc", "ration", "--json").stdout == ""


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["raton", "tank=3"], "did you mean ration?"),
        (["ration", "tank=3", "culture=3"], "ration needs wanted (cells/mL) as well."),
        (["ration", "tank=0", "wanted=2", "culture=3"], "it must be more than 0 L"),
        (["ration", "tank=-3", "wanted=2", "culture=3"], "Tank is -3 L"),
        (["ration", "tank=nan", "wanted=2", "culture=3"], "'nan'"),
        (["ration", "tank=", "wanted=2", "culture=3"], "Tank is empty"),
        (["ration", "tank=5 kg", "wanted=2", "culture=3"], "give it in L"),
        (["ration", "tank=5", "wanted=20", "culture=10"], "too thin"),
        (["ration", "tank=5", "tank=6"], "tank is given twice"),
        (["ration", "500"], "write KEY=VALUE"),
        (["ration", "=500"], "write KEY=VALUE"),
        (["screen", "length=3"], "no input length"),
        (["screen", "shell_length=3 m"], "outside 0 to 20000 µm"),
        (["stocking", "wanted=1", "survival=80", "density=1", "tank=1"], "80 %"),
    ],
)
def test_a_mistake_is_one_line_on_standard_error(words: list[str], says: str) -> None:
    for more in ([], ["--json"]):
        result = told("calc", *words, *more)
        assert (result.exit_code, result.stdout) == (2, "")
        assert says in result.stderr
        assert len(result.stderr.splitlines()) == 1
        assert result.stderr.rstrip().endswith((".", "?"))


def test_several_mistakes_come_in_one_line_too() -> None:
    result = told("calc", "ration", "tank=-3", "wanted=x", "foo=1")
    assert len(result.stderr.splitlines()) == 1
    for words in ("input foo", "Tank is -3", "'x'", "needs culture"):
        assert words in result.stderr
