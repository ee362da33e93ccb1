"""What the nine calculations of the season's first part say beside their numbers."""

import pytest

from protoconch import calculations
from protoconch.animals.profiles import species
from protoconch.errors import BadInput, MissingInput


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("chamber-count", {"cells_per_ml", "low_95", "high_95"}),
        ("aliquot-count", {"animals", "per_l", "low_95", "high_95", "dispersion_p"}),
        ("ration", {"add_l"}),
        ("culture-days", {"days", "doublings"}),
        ("breeders", {"effective_breeders", "families", "largest_share"}),
        ("screen", {"hold_all_um", "fast_half_um"}),
        ("stocking", {"start_animals", "tanks"}),
        ("von-bertalanffy", {"length_mm"}),
        ("peroxide-dose", {"add_ml"}),
    ],
)
def test_each_promises_its_results(name: str, keys: set[str]) -> None:
    assert {result.key for result in calculations.calculation(name).results} == keys
    with pytest.raises(MissingInput):
        calculations.run(name, {})


def aliquots(counts: str) -> calculations.Answer:
    return calculations.run("aliquot-count", {"counts": counts, "aliquot": 1, "volume": 10})


def test_over_dispersed_aliquots_say_so() -> None:
    assert "over-dispersed" in aliquots("4,41,12,30,13").cautions[0]
    assert "over-dispersed" not in " ".join(aliquots("18,22,20,25,15").cautions)
    assert "Nothing here tells" in aliquots("18").cautions[0]
    assert aliquots("18").result["dispersion_p"] is None


def test_a_mean_of_counts_is_marked_in_a_chamber() -> None:
    chamber = {"squares": 4, "square_area": 1, "depth": 0.1}
    assert "mean" in calculations.run("chamber-count", {"cells": 62.5, **chamber}).cautions[0]
    assert "mean" not in calculations.run("chamber-count", {"cells": 251, **chamber}).cautions[0]


def test_a_tank_with_food_enough_gets_none_and_is_told_why() -> None:
    full = {"tank": 500, "wanted": 5000, "present": 20000, "culture": "4e6"}
    answer = calculations.run("ration", full)
    assert answer.result == {"add_l": 0}
    assert "already holds" in answer.cautions[0]


def test_the_sieve_factors_are_those_of_the_profile_and_its_source() -> None:
    profile = species("queen-conch")
    answer = calculations.run("screen", {"shell_length": 600})
    assert answer.result["hold_all_um"] == 600 * profile.number("sieve.hold_factor")
    assert answer.result["fast_half_um"] == 600 * profile.number("sieve.fast_factor")
    assert any("sieve.hold_factor" in source for source in answer.source)


@pytest.mark.parametrize(("dose", "marked"), [(50, False), (25, False), (100, False), (500, True)])
def test_a_peroxide_dose_beyond_the_usual_is_marked(dose: float, marked: bool) -> None:
    answer = calculations.run("peroxide-dose", {"volume": 100, "dose": dose})
    assert ("outside the usual 25 to 100" in " ".join(answer.cautions)) is marked


def test_peroxide_comes_with_its_cautions() -> None:
    cautions = " ".join(calculations.run("peroxide-dose", {"volume": 1, "dose": 50}).cautions)
    for word in ("gloves", "goggles", "safety data sheet", "local rules"):
        assert word in cautions


def test_a_snail_before_the_curve_begins_has_no_length() -> None:
    curve = {"l_inf": 340, "k": 0.437, "t0": 0.462, "age": 0.2}
    with pytest.raises(BadInput, match=r"before t0 at 0\.462 years"):
        calculations.run("von-bertalanffy", curve)


GOOD = {
    "ration": {"tank": 500, "wanted": 0, "present": 0, "culture": 4e6},
    "culture-days": {"start": 0.25, "wanted": 0.5, "growth": 0.5},
    "chamber-count": {"cells": 250, "squares": 4, "square_area": 1, "depth": 0.1},
    "peroxide-dose": {"volume": 100, "dose": 50},
    "von-bertalanffy": {"l_inf": 340, "k": 0.437, "t0": -1, "age": 2},
    "breeders": {"contributions": "1,2"},
    "aliquot-count": {"counts": "1,2", "aliquot": 0.01, "volume": 10},
    "stocking": {"wanted": 1000, "survival": 0.5, "density": 100, "tank": 100},
    "screen": {"shell_length": 300},
}


@pytest.mark.parametrize(
    ("name", "key", "allowed", "refused"),
    [
        ("ration", "tank", 0.5, 0),
        ("ration", "wanted", 0, -0.1),
        ("ration", "present", 0.5, -0.1),
        ("ration", "culture", 0.5, 0),
        ("culture-days", "start", 0.1, 0),
        ("culture-days", "wanted", 0.5, 0),
        ("culture-days", "growth", 0.1, 0),
        ("chamber-count", "cells", 0, -1),
        ("chamber-count", "squares", 0.5, 0),
        ("chamber-count", "square_area", 2500, 2501),
        ("chamber-count", "square_area", 0.0025, 0),
        ("chamber-count", "depth", 10, 10.5),
        ("chamber-count", "depth", 0.1, 0),
        ("chamber-count", "dilution", 1, 0.9),
        ("chamber-count", "fixative_share", 0, -0.1),
        ("chamber-count", "fixative_share", 10, 11),
        ("peroxide-dose", "volume", 0.5, 0),
        ("peroxide-dose", "dose", 0.5, 0),
        ("peroxide-dose", "dose", 10000, 10001),
        ("peroxide-dose", "strength", 0.5, 0),
        ("peroxide-dose", "strength", 60, 60.5),
        ("von-bertalanffy", "l_inf", 0.5, 0),
        ("von-bertalanffy", "l_inf", 2000, 2001),
        ("von-bertalanffy", "k", 0.1, 0),
        ("von-bertalanffy", "k", 50, 51),
        ("von-bertalanffy", "t0", -20, -20.5),
        ("von-bertalanffy", "age", 0, -0.1),
        ("von-bertalanffy", "age", 100, 101),
        ("breeders", "sires_per_mass", 1, 0.9),
        ("breeders", "sires_per_mass", 50, 51),
        ("breeders", "contributions", "0,1", "-1,2"),
        ("aliquot-count", "aliquot", 0.01, 0),
        ("aliquot-count", "volume", 0.5, 0),
        ("aliquot-count", "counts", "0,0", "-1"),
        ("stocking", "wanted", 0.5, 0),
        ("stocking", "survival", "0.1,1", "0"),
        ("stocking", "survival", "1", "1.1"),
        ("stocking", "density", 0.5, 0),
        ("stocking", "tank", 0.5, 0),
        ("screen", "shell_length", 0.5, 0),
        ("screen", "shell_length", 20000, 20001),
    ],
)
def test_each_input_has_its_limits(
    name: str, key: str, allowed: float | str, refused: float | str
) -> None:
    assert calculations.run(name, GOOD[name] | {key: allowed}).result
    with pytest.raises(BadInput, match=key.replace("_", " ").capitalize()):
        calculations.run(name, GOOD[name] | {key: refused})


@pytest.mark.parametrize(
    ("name", "key", "default"),
    [
        ("ration", "present", 0),
        ("chamber-count", "dilution", 1),
        ("chamber-count", "fixative_share", 0),
        ("peroxide-dose", "strength", 3),
        ("breeders", "sires_per_mass", 1),
        ("von-bertalanffy", "t0", 0),
    ],
)
def test_what_is_left_out_has_the_default_that_is_promised(
    name: str, key: str, default: float
) -> None:
    left_out = {other: value for other, value in GOOD[name].items() if other != key}
    assert calculations.run(name, left_out).inputs[key] == default
