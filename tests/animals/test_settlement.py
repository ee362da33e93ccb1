"""Doses that bring larvae to settle."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.animals.settlement import peroxide_volume_ml, potassium_chloride_g
from protoconch.errors import BadInput

POSITIVE = st.floats(min_value=0.1, max_value=1e4)


@given(POSITIVE, POSITIVE, st.floats(min_value=0.5, max_value=35))
def test_what_is_added_carries_the_dose(volume_l: float, dose_um: float, strength: float) -> None:
    added_ml = peroxide_volume_ml(volume_l, dose_um, strength)
    peroxide_g = added_ml * strength / 100
    assert peroxide_g / 34.01 / volume_l * 1e6 == pytest.approx(dose_um, rel=1e-3)


@given(POSITIVE, POSITIVE)
def test_double_the_water_or_the_dose_takes_double(volume_l: float, dose: float) -> None:
    for needed in (lambda v, d: peroxide_volume_ml(v, d, 3), potassium_chloride_g):
        assert needed(2 * volume_l, dose) == pytest.approx(2 * needed(volume_l, dose))
        assert needed(volume_l, 2 * dose) == pytest.approx(2 * needed(volume_l, dose))


def test_twenty_millimolar_of_potassium_chloride_is_one_and_a_half_gram_a_litre() -> None:
    assert potassium_chloride_g(1, 20) == pytest.approx(1.491, abs=0.0005)


@pytest.mark.parametrize("wrong", [0, -1, math.nan, math.inf])
def test_amounts_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: peroxide_volume_ml(wrong, 50, 3),
        lambda: peroxide_volume_ml(100, wrong, 3),
        lambda: peroxide_volume_ml(100, 50, wrong),
        lambda: potassium_chloride_g(wrong, 20),
        lambda: potassium_chloride_g(1, wrong),
    ):
        with pytest.raises(BadInput):
            refuse()


def test_a_stock_cannot_be_more_than_all_peroxide() -> None:
    with pytest.raises(BadInput, match="Strength is 101 % w/v"):
        peroxide_volume_ml(100, 50, 101)
