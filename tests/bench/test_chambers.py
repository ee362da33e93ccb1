"""Cells in a chamber of known geometry."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.bench.chambers import chamber_count
from protoconch.bench.limits import poisson_limits
from protoconch.errors import BadInput

CORNERS = {"squares": 4, "square_area_mm2": 1, "depth_mm": 0.1}


def test_the_chamber_is_its_volume() -> None:
    count = chamber_count(250, **CORNERS)
    assert count.counted_ml == pytest.approx(4e-4)
    assert count.per_ml == pytest.approx(625_000)
    assert count.limits.low == pytest.approx(poisson_limits(250).low / 4e-4)
    assert count.limits.high == pytest.approx(poisson_limits(250).high / 4e-4)


def test_dilution_and_fixative_belong_to_the_culture_not_to_the_chamber() -> None:
    plain = chamber_count(250, **CORNERS)
    treated = chamber_count(250, **CORNERS, dilution=10, fixative_share=0.05)
    assert treated.per_ml == pytest.approx(10.5 * plain.per_ml)
    assert treated.limits.low == pytest.approx(10.5 * plain.limits.low)
    assert treated.in_chamber_per_ml == plain.in_chamber_per_ml


def test_a_chamber_of_forty_small_squares_holds_less_than_a_fifth_of_a_microlitre() -> None:
    count = chamber_count(160, squares=40, square_area_mm2=0.04, depth_mm=0.1)
    assert count.counted_ml == pytest.approx(1.6e-4)


@given(st.integers(min_value=0, max_value=10_000), st.integers(min_value=1, max_value=400))
def test_the_same_cells_over_more_squares_are_a_thinner_culture(cells: int, squares: int) -> None:
    one = chamber_count(cells, squares=squares, square_area_mm2=0.04, depth_mm=0.1)
    two = chamber_count(cells, squares=2 * squares, square_area_mm2=0.04, depth_mm=0.1)
    assert one.per_ml == pytest.approx(2 * two.per_ml)
    assert one.limits.low <= one.per_ml <= one.limits.high


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"squares": 0}, "Squares is 0"),
        ({"square_area_mm2": -1}, "Square area is -1 mm²"),
        ({"depth_mm": math.nan}, "Depth is nan mm"),
        ({"dilution": 0.1}, "Dilution is 0.1, below 1.*tenfold 10"),
        ({"dilution": math.inf}, "Dilution"),
        ({"fixative_share": -0.1}, "Fixative share is -0.1"),
        ({"cells": -1}, "Count is -1"),
    ],
)
def test_a_chamber_that_cannot_be_is_refused(changed: dict[str, float], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        chamber_count(**({"cells": 250} | CORNERS | changed))
