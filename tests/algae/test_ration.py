"""Culture to pour in so that a tank holds the cells wanted."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.algae.ration import ration_l
from protoconch.errors import BadInput

TANK = st.floats(min_value=1, max_value=1e5)
THIN = st.floats(min_value=0, max_value=1e5)


@given(TANK, THIN, THIN, st.floats(min_value=1.1e5, max_value=1e7))
def test_cells_are_conserved_when_culture_is_poured_in(
    tank: float, wanted: float, present: float, culture: float
) -> None:
    added = ration_l(tank, wanted_per_ml=wanted, culture_per_ml=culture, present_per_ml=present)
    assert added >= 0
    mixed = (tank * present + added * culture) / (tank + added)
    assert mixed == pytest.approx(max(wanted, present), rel=1e-9, abs=1e-9)


def test_a_tank_is_taken_as_empty_unless_said() -> None:
    from_empty = ration_l(500, wanted_per_ml=20_000, culture_per_ml=4e6)
    assert from_empty == pytest.approx(2.5126, abs=1e-4)


@pytest.mark.parametrize("culture", [20_000, 10_000])
def test_a_culture_as_thin_as_what_is_wanted_is_refused(culture: float) -> None:
    with pytest.raises(BadInput, match="too thin to bring a tank to 20,000 cells/mL"):
        ration_l(500, wanted_per_ml=20_000, culture_per_ml=culture)


def test_a_tank_with_food_enough_gets_none_even_from_a_thin_culture() -> None:
    assert ration_l(500, wanted_per_ml=500, culture_per_ml=100, present_per_ml=500) == 0


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    good = {"wanted_per_ml": 20_000, "culture_per_ml": 4e6, "present_per_ml": 0}
    for name in good:
        with pytest.raises(BadInput):
            ration_l(500, **(good | {name: wrong}))
    with pytest.raises(BadInput, match="Tank is"):
        ration_l(wrong, **good)
