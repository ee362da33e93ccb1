"""Least squares within bounds, against a library that does it another way."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares as library
from scipy.optimize import lsq_linear

from protoconch.algae.least_squares import Numbers, least_squares

WIDE = np.array([-100.0, -100.0]), np.array([100.0, 100.0])


@settings(max_examples=60)
@given(st.integers(min_value=0, max_value=100_000))
def test_straight_problems_within_bounds_end_where_the_library_ends(seed: int) -> None:
    rng = np.random.default_rng(seed)
    slopes, data = rng.normal(size=(8, 3)), rng.normal(size=8) * 2
    lows, highs = np.full(3, -0.5), np.full(3, 0.5)
    _, squares = least_squares(lambda x: slopes @ x - data, np.zeros(3), lows, highs)
    best = 2 * lsq_linear(slopes, data, (lows, highs)).cost
    assert squares == pytest.approx(best, rel=1e-5)


def test_a_bent_valley_is_followed_to_its_end() -> None:
    """Rosenbrock's valley; least at (1, 1)."""
    found, squares = least_squares(
        lambda x: np.array([10 * (x[1] - x[0] ** 2), 1 - x[0]]), np.array([-1.2, 1.0]), *WIDE
    )
    assert found == pytest.approx([1, 1], abs=1e-4)
    assert squares < 1e-8


def test_a_curve_is_fitted_as_the_library_fits_it() -> None:
    day = np.arange(8.0)
    data = 3 * np.exp(0.4 * day) + np.random.default_rng(1).normal(0, 0.5, 8)

    def misfit(x: Numbers) -> Numbers:
        return np.asarray(x[0] * np.exp(x[1] * day) - data)

    start, lows, highs = np.array([1.0, 0.1]), np.array([0.1, 0.0]), np.array([50.0, 2.0])
    found, squares = least_squares(misfit, start, lows, highs)
    theirs = library(misfit, start, bounds=(lows, highs))
    assert squares == pytest.approx(2 * theirs.cost, rel=1e-6)
    assert found == pytest.approx(theirs.x, rel=1e-3)


def test_a_number_held_fast_stays_and_the_others_do_their_best() -> None:
    found, squares = least_squares(
        lambda x: np.array([x[0] - 5, x[1] - 7]),
        np.array([2.0, 0.0]), np.array([2.0, -100.0]), np.array([2.0, 100.0]),
    )  # fmt: skip
    assert found == pytest.approx([2, 7])
    assert squares == pytest.approx(9)


def test_with_all_held_fast_nothing_moves() -> None:
    held = np.array([2.0, 3.0])
    found, squares = least_squares(lambda x: x - 1, held, held, held)
    assert found == pytest.approx([2, 3])
    assert squares == pytest.approx(1 + 4)


def test_bounds_are_kept_where_the_least_lies_outside_them() -> None:
    for wanted, kept in ((5.0, 1.0), (-5.0, 0.0)):
        found, _ = least_squares(
            lambda x, wanted=wanted: x - wanted, np.array([0.5]), np.zeros(1), np.ones(1)
        )
        assert found == pytest.approx([kept])


def test_from_either_bound_it_comes_off_again() -> None:
    for start in (0.0, 1.0):
        found, squares = least_squares(
            lambda x: x - 0.25, np.array([start]), np.zeros(1), np.ones(1)
        )
        assert found == pytest.approx([0.25], abs=1e-6)
        assert squares < 1e-10


def test_a_misfit_that_nothing_changes_ends_where_it_began() -> None:
    found, squares = least_squares(lambda x: np.array([3.0]), np.zeros(2), *WIDE)
    assert found == pytest.approx([0, 0])
    assert squares == 9


def test_a_valley_that_is_flat_at_its_end_is_left_after_enough_steps() -> None:
    found, squares = least_squares(lambda x: x**4, np.ones(1), -np.ones(1), np.ones(1))
    assert abs(found[0]) < 1e-3
    assert squares < 1e-20
