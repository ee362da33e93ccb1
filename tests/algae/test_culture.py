"""Days until a culture is dense enough."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.algae.culture import growing
from protoconch.errors import BadInput


@given(
    st.floats(min_value=1e3, max_value=1e7),
    st.floats(min_value=1, max_value=1e3),
    st.floats(min_value=0.05, max_value=3),
)
def test_after_those_days_the_culture_is_as_dense_as_wanted(
    start: float, times: float, growth: float
) -> None:
    time = growing(start, start * times, growth)
    assert start * math.exp(growth * time.days) == pytest.approx(start * times)
    assert start * 2**time.doublings == pytest.approx(start * times)


def test_a_culture_that_is_there_needs_no_days() -> None:
    assert growing(1e6, 1e6, 0.7).days == 0


def test_less_than_there_is_is_refused() -> None:
    with pytest.raises(BadInput, match="Wanted is 1,000 cells/mL, less than the 2,000"):
        growing(2000, 1000, 0.7)


@pytest.mark.parametrize("wrong", [0, -1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: growing(wrong, 1e6, 0.7),
        lambda: growing(1e5, wrong, 0.7),
        lambda: growing(1e5, 1e6, wrong),
    ):
        with pytest.raises(BadInput):
            refuse()
