"""How many to begin with, in how many tanks."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.animals.stocking import animals_left, stocking
from protoconch.errors import BadInput

SURVIVALS = st.lists(st.floats(min_value=0.01, max_value=1), min_size=1, max_size=6)


@given(
    st.integers(min_value=1, max_value=100_000), SURVIVALS, st.floats(min_value=1, max_value=500)
)
def test_the_start_is_enough_and_one_less_is_not(
    wanted: int, survivals: list[float], density: float
) -> None:
    start = stocking(wanted, survivals, density_per_l=density, tank_l=100)
    survival = math.prod(survivals)
    assert start.start_animals * survival >= wanted * (1 - 1e-9)
    assert (start.start_animals - 1) * survival < wanted
    assert start.tanks * density * 100 >= start.start_animals * (1 - 1e-9)
    assert (start.tanks - 1) * density * 100 < start.start_animals


def test_a_tank_that_is_just_full_is_one_tank() -> None:
    assert stocking(3000, [0.3], density_per_l=100, tank_l=100).tanks == 1
    assert stocking(3001, [0.3], density_per_l=100, tank_l=100).tanks == 2


@given(st.floats(min_value=0, max_value=1e6), st.floats(min_value=0, max_value=1))
def test_days_of_loss_follow_one_on_the_other(animals: float, mortality: float) -> None:
    at_once = animals_left(animals, mortality, 6)
    assert animals_left(animals_left(animals, mortality, 2), mortality, 4) == pytest.approx(at_once)
    assert at_once <= animals


@pytest.mark.parametrize("wrong", [0, -1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: stocking(wrong, [0.5], density_per_l=100, tank_l=100),
        lambda: stocking(100, [wrong], density_per_l=100, tank_l=100),
        lambda: stocking(100, [0.5], density_per_l=wrong, tank_l=100),
        lambda: stocking(100, [0.5], density_per_l=100, tank_l=wrong),
        lambda: stocking(100, [], density_per_l=100, tank_l=100),
        lambda: stocking(100, [1.01], density_per_l=100, tank_l=100),
        lambda: animals_left(-1, 0.1, 5),
        lambda: animals_left(5, -abs(wrong) - 1, 5),
        lambda: animals_left(5, 0.1, -1),
    ):
        with pytest.raises(BadInput):
            refuse()
