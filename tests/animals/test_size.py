"""Lengths along time, sizes in a cohort, and the floor that animals need."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from protoconch.animals.profiles import species
from protoconch.animals.size import (
    cover,
    growth_path,
    middle_multiplier,
    share_longer,
    share_longer_of_rest,
)

CONCH = species("queen-conch")
PATH = growth_path(CONCH.number)
shares = st.floats(0.0, 0.95)


@pytest.mark.parametrize(("length_mm", "per_m2"), [(5.0, 5000), (20.0, 625), (75.0, 90)])
def test_floors_hold_as_many_as_common_practice_says(length_mm, per_m2):
    """Common practice, no source: 5,000 animals of 5 mm on a square metre, 625 of 20, 90 of 75."""
    floor = float(cover(CONCH.number).floor_m2(np.array(length_mm)))
    assert 1 / floor == pytest.approx(per_m2, rel=0.02)


@given(st.floats(1.2, 200.0), st.floats(0.01, 50.0))
def test_larger_animals_need_more_floor(length_mm, more):
    rule = cover(CONCH.number)
    small, large = (float(rule.floor_m2(np.array(x))) for x in (length_mm, length_mm + more))
    assert large > small


def test_planning_growth_takes_435_days_to_75_mm_and_28_more_than_that_to_80():
    """Settlement to 5 mm at 0.10, to 20 mm at 0.16, to 75 mm at 0.20 mm/d: 38 + 93.75 + 275 d."""
    assert PATH.days_to(75.0) == pytest.approx(38 + 93.75 + 275)
    assert PATH.days_to(80.0) == pytest.approx(38 + 93.75 + 300)


@given(st.floats(0.1, 900.0), st.floats(1.3, 150.0), st.floats(0.05, 0.5))
def test_the_share_past_a_length_is_that_of_a_lognormal_growth(days, length_mm, spread):
    share = float(share_longer(np.array(days), PATH.days_to(length_mm), np.array(spread)))
    growth_needed = PATH.days_to(length_mm) / days
    assert share == pytest.approx(1 - norm.cdf(np.log(growth_needed) / spread), abs=1e-9)


def test_the_closed_form_agrees_with_single_animals():
    own = np.exp(0.25 * np.random.default_rng(1).standard_normal(200_000))
    lengths = PATH.length_mm(400.0 * own)
    for length_mm in (40.0, 60.0, 75.0, 90.0):
        share = float(share_longer(np.array(400.0), PATH.days_to(length_mm), np.array(0.25)))
        assert np.mean(lengths >= length_mm) == pytest.approx(share, abs=0.005)


@given(shares, shares, shares)
def test_grading_and_handing_over_keep_the_count_of_the_long_ones(longer, graded, ahead):
    if graded + ahead > 0.95:
        return
    of_rest = float(share_longer_of_rest(*(np.array(x) for x in (longer, graded, ahead))))
    assert 0.0 <= of_rest <= 1.0
    left = max(min(longer, 1 - graded) - ahead, 0.0)
    assert of_rest * (1 - graded - ahead) == pytest.approx(left, abs=1e-9)


def test_taking_the_slow_out_makes_the_middle_animal_faster_and_the_fast_slower():
    spread = np.array(0.25)
    whole, slow_out, fast_out = (
        float(middle_multiplier(spread, np.array(graded), np.array(ahead)))
        for graded, ahead in ((0.0, 0.0), (0.3, 0.0), (0.0, 0.3))
    )
    assert fast_out < whole < slow_out
    assert whole == pytest.approx(1.0)
