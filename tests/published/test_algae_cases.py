"""The algae room: every row of the data file, beside its source; the rest worked here.

An oracle that starts with P is printed somewhere; the others are worked from what is printed and
bear the number of their subject: 1 species, 2 media, 3 growth, 4 counting, 5 rations.
"""

import csv
import importlib
import json
import math
from functools import reduce
from importlib.resources import files

import pytest

from protoconch.algae.diets import diet
from protoconch.algae.medium import medium
from protoconch.algae.species import alga
from protoconch.sources.reading import load_catalogue

IN_CODE = {"P6", "P11"}
"""Printed oracles that have a test below."""
NOT_OURS = {
    "P1": "the volume of a sphere: no function here takes a cell for a sphere",
    "P8": "a ration by dry meat: food of broodstock is not planned from algae here",
    "P9": "paste by the bottle: only grown algae are planned here",
}
"""Printed oracles that nothing here computes, and why."""


def rows() -> list[dict[str, str]]:
    text = files("protoconch.sources").joinpath("checks", "algae.csv").read_text("utf-8")
    return [row | {"line": str(i)} for i, row in enumerate(csv.DictReader(text.splitlines()), 2)]


ROWS = rows()


def line(row: dict[str, str]) -> str:
    return f"line {row['line']}"


@pytest.mark.parametrize("row", ROWS, ids=line)
def test_a_function_gives_the_value_of_its_source(row: dict[str, str]) -> None:
    module, _, name = row["function"].rpartition(".")
    function = getattr(importlib.import_module(f"protoconch.{module}"), name)
    path = row["key"].split(".") if row["key"] else []
    found = reduce(getattr, path, function(**json.loads(row["inputs"])))
    assert found == pytest.approx(float(row["expected"]), rel=0, abs=float(row["tolerance"]))


@pytest.mark.parametrize("row", ROWS, ids=line)
def test_every_row_names_its_kind_and_source(row: dict[str, str]) -> None:
    assert row["source"].strip()
    assert row["kind"] in {"published", "analytic", "regression"}
    assert float(row["tolerance"]) >= 0


@pytest.mark.parametrize("row", ROWS, ids=line)
def test_no_row_is_so_loose_that_it_could_not_fail(row: dict[str, str]) -> None:
    assert float(row["tolerance"]) <= 0.02 * abs(float(row["expected"]))


def test_all_twelve_printed_oracles_are_accounted_for() -> None:
    in_file = {row["oracle"] for row in ROWS if row["oracle"].startswith("P")}
    assert in_file | IN_CODE | set(NOT_OURS) == {f"P{number}" for number in range(1, 13)}


def test_a_mole_of_thiosulfate_weighs_248_grams() -> None:
    """Oracle P6, published: a protocol page for 1 M of the pentahydrate."""
    mass = load_catalogue("sterilising")["thiosulfate"]["molar_mass_pentahydrate"].number
    assert mass == pytest.approx(248, abs=0.5)


def test_five_hundred_cubic_metres_of_usual_culture_are_fifty_kilograms() -> None:
    """Oracle P11, published: Coutteau & Sorgeloos 1992, J Shellfish Res 11:467-476."""
    dry_g_l = load_catalogue("flocculation")["survey"]["dry_g_l"].number
    assert 500_000 * dry_g_l / 1000 == pytest.approx(50)


def test_a_diet_of_three_species_worked_by_hand() -> None:
    """Subject 5: 20 000 T-Iso cells/mL on organic mass; within 0.3 % of C V / C culture."""
    mixed = diet(
        500, {"t-iso": 0.5, "c-muelleri": 0.3, "tetraselmis": 0.2},
        {"t-iso": 8e6, "c-muelleri": 4e6, "tetraselmis": 1e6},
        wanted_t_iso_per_ml=20_000, basis="organic",
    )  # fmt: skip
    assert [part.wanted_per_ml for part in mixed.parts] == pytest.approx([10_000, 4_300, 430])
    short = [10_000 * 500 / 8e6, 4_300 * 500 / 4e6, 430 * 500 / 1e6]
    assert [part.add_l for part in mixed.parts] == pytest.approx(short, rel=0.003)


def test_nitrogen_and_phosphorus_of_f_half() -> None:
    """Subject 2: 12.36 mg N/L, 1.122 mg P/L, 2.965 mg Si/L (14.007, 30.974, 28.085 g/mol)."""
    content = medium("f/2", 1).content_um
    assert content["nitrate"] * 14.007 / 1000 == pytest.approx(12.36, abs=0.005)
    assert content["phosphate"] * 30.974 / 1000 == pytest.approx(1.122, abs=0.0006)
    assert content["silicate"] * 28.085 / 1000 == pytest.approx(2.965, abs=0.0006)


def test_starters_ready_when_the_manual_says_grew_at_a_believable_rate() -> None:
    """Helm, Bourne & Lovatelli 2004, section 3.2: 20 mL in 250 mL, 7 d flagellates, 4 d diatoms."""
    flagellate, diatom = math.log(12.5) / 7, math.log(12.5) / 4
    assert (flagellate, diatom) == pytest.approx((0.36, 0.63), abs=0.005)
    assert flagellate < alga("t-iso").number("growth_per_d") <= 2 * flagellate
    assert diatom < alga("c-muelleri").number("growth_per_d") <= 2 * diatom
