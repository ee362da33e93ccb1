"""Published and worked cases: every row of the data files, beside its source."""

import csv
import importlib
import json
from functools import reduce
from importlib.resources import files

import pytest

from protoconch import calculations

NOT_YET: frozenset[str] = frozenset()
"""Calculations whose cases wait for them; a name leaves this list with the work that brings it."""


def cases(file: str) -> list[dict[str, str]]:
    text = files("protoconch.sources").joinpath("checks", file).read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    return [row | {"line": f"{file} {line}"} for line, row in enumerate(rows, start=2)]


def line(case: dict[str, str]) -> str:
    return case["line"]


CALC = cases("calc.csv")
FUNCTIONS = cases("functions.csv")


@pytest.mark.parametrize("case", CALC, ids=line)
def test_a_calculation_gives_the_value_of_its_source(case: dict[str, str]) -> None:
    if case["name"] in NOT_YET:
        assert case["name"] not in calculations.known(), "it is there: take it off NOT_YET"
        pytest.skip(f"{case['name']} is not there yet")
    found = calculations.run(case["name"], json.loads(case["inputs"])).result[case["key"]]
    assert found == pytest.approx(float(case["expected"]), rel=0, abs=float(case["tolerance"]))


@pytest.mark.parametrize("case", FUNCTIONS, ids=line)
def test_a_function_gives_the_value_of_its_source(case: dict[str, str]) -> None:
    module, _, name = case["function"].rpartition(".")
    function = getattr(importlib.import_module(f"protoconch.{module}"), name)
    path = case["key"].split(".") if case["key"] else []
    found = reduce(getattr, path, function(**json.loads(case["inputs"])))
    assert found == pytest.approx(float(case["expected"]), rel=0, abs=float(case["tolerance"]))


@pytest.mark.parametrize("case", CALC + FUNCTIONS, ids=line)
def test_every_case_names_its_source_and_its_kind(case: dict[str, str]) -> None:
    assert case["source"].strip()
    assert case["kind"] in {"published", "analytic", "regression"}
    assert float(case["tolerance"]) >= 0


def test_few_cases_wait_and_none_is_forgotten() -> None:
    waiting = {case["name"] for case in CALC if case["name"] in NOT_YET}
    assert waiting == NOT_YET
    assert len(CALC) > 60
    assert len(FUNCTIONS) > 30
