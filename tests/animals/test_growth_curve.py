"""Shell length by age on the von Bertalanffy curve, and back."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.animals.growth_curve import von_bertalanffy_age_years, von_bertalanffy_length_mm
from protoconch.errors import BadInput

CURVE = {"l_inf_mm": 340, "k_per_year": 0.437, "t0_years": 0.462}


@given(st.floats(min_value=0.462, max_value=15), st.floats(min_value=0.001, max_value=5))
def test_a_snail_grows_and_never_passes_the_limit(age: float, later: float) -> None:
    length = von_bertalanffy_length_mm(age, **CURVE)
    assert 0 <= length < von_bertalanffy_length_mm(age + later, **CURVE) < 340


@given(st.floats(min_value=0, max_value=335))
def test_age_and_length_are_there_and_back(length: float) -> None:
    age = von_bertalanffy_age_years(length, **CURVE)
    assert von_bertalanffy_length_mm(age, **CURVE) == pytest.approx(length, abs=1e-9)


def test_the_curve_begins_at_t0_and_not_before() -> None:
    assert von_bertalanffy_length_mm(0.462, **CURVE) == 0
    with pytest.raises(BadInput, match=r"before t0.*take an age after t0"):
        von_bertalanffy_length_mm(0.461, **CURVE)


def test_the_curve_begins_at_hatching_unless_said() -> None:
    curve = {"l_inf_mm": 340, "k_per_year": 0.437}
    assert von_bertalanffy_length_mm(0, **curve) == 0
    assert von_bertalanffy_age_years(0, **curve) == 0


@pytest.mark.parametrize("length", [340, 500])
def test_the_limit_is_never_reached(length: float) -> None:
    with pytest.raises(BadInput, match="stays below 340 mm"):
        von_bertalanffy_age_years(length, **CURVE)


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf])
@pytest.mark.parametrize("name", ["l_inf_mm", "k_per_year"])
def test_parameters_that_cannot_be_are_refused(name: str, wrong: float) -> None:
    with pytest.raises(BadInput):
        von_bertalanffy_length_mm(2, **(CURVE | {name: wrong}))


@pytest.mark.parametrize("wrong", [math.nan, math.inf])
def test_what_is_not_finite_is_refused(wrong: float) -> None:
    for refuse in (
        lambda: von_bertalanffy_length_mm(wrong, **CURVE),
        lambda: von_bertalanffy_length_mm(2, **(CURVE | {"t0_years": wrong})),
        lambda: von_bertalanffy_age_years(wrong, **CURVE),
        lambda: von_bertalanffy_age_years(-1, **CURVE),
    ):
        with pytest.raises(BadInput):
            refuse()
