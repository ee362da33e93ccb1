"""Mesh openings for larvae of a size."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.animals.sieve import sieves, widest_that_passes_um
from protoconch.errors import BadInput


@given(st.floats(min_value=50, max_value=3000))
def test_the_mesh_that_holds_all_is_finer_and_both_grow_with_the_larva(length: float) -> None:
    mesh = sieves(length, 0.5, 0.75)
    assert mesh.hold_all_um == pytest.approx(length / 2)
    assert mesh.hold_all_um < mesh.fast_half_um < length
    assert sieves(length * 1.1, 0.5, 0.75).hold_all_um > mesh.hold_all_um


def test_a_veliger_190_wide_stays_on_120_and_may_slip_through_150_on_edge() -> None:
    assert widest_that_passes_um(120) == pytest.approx(169.7, abs=0.05)
    assert widest_that_passes_um(150) == pytest.approx(212.1, abs=0.05)


@pytest.mark.parametrize("wrong", [0, -1, math.nan, math.inf])
def test_sizes_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: sieves(wrong, 0.5, 0.75),
        lambda: sieves(300, wrong, 0.75),
        lambda: sieves(300, 0.5, wrong),
        lambda: widest_that_passes_um(wrong),
    ):
        with pytest.raises(BadInput):
            refuse()
