"""Published and worked cases of the algae room: every row, beside its source."""

import csv
import importlib
import json
from functools import reduce
from importlib.resources import files
from typing import Any

import pytest

from protoconch import calculations


def cases(file: str) -> list[dict[str, str]]:
    text = files("protoconch.sources").joinpath("checks", file).read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    return [row | {"line": f"{file} {line}"} for line, row in enumerate(rows, start=2)]


def line(case: dict[str, str]) -> str:
    return case["line"]


def part_of(whole: Any, key: str) -> Any:
    """key: "low" is an attribute, "content_um:iron" an entry of one."""
    name, _, entry = key.partition(":")
    found = reduce(getattr, name.split(".") if name else [], whole)
    return found[entry] if entry else found


FUNCTIONS, CALC = cases("algae.csv"), cases("algae_calc.csv")


@pytest.mark.parametrize("case", FUNCTIONS, ids=line)
def test_a_function_gives_the_value_of_its_source(case: dict[str, str]) -> None:
    module, _, name = case["function"].rpartition(".")
    function = getattr(importlib.import_module(f"protoconch.{module}"), name)
    found = part_of(function(**json.loads(case["inputs"])), case["key"])
    assert found == pytest.approx(float(case["expected"]), rel=0, abs=float(case["tolerance"]))


@pytest.mark.parametrize("case", CALC, ids=line)
def test_a_calculation_gives_the_value_of_its_source(case: dict[str, str]) -> None:
    found = calculations.run(case["name"], json.loads(case["inputs"])).result[case["key"]]
    assert found == pytest.approx(float(case["expected"]), rel=0, abs=float(case["tolerance"]))


@pytest.mark.parametrize("case", FUNCTIONS + CALC, ids=line)
def test_every_case_names_its_source_and_its_kind(case: dict[str, str]) -> None:
    assert case["source"].strip()
    assert case["kind"] in {"published", "analytic", "regression"}
    assert float(case["tolerance"]) > 0


def test_no_row_is_lost() -> None:
    assert len(FUNCTIONS) > 150
    assert len(CALC) >= 8
