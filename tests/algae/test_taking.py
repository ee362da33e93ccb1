"""Taking a part of a culture again and again."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.algae.growth import logistic_per_ml
from protoconch.algae.taking import most_from_taking, refuse_washout, steady_taking
from protoconch.errors import BadInput, OutOfRange

SHARE = st.floats(min_value=0.02, max_value=0.9)
EVERY = st.floats(min_value=0.25, max_value=14)
GROWTH = st.floats(min_value=0.1, max_value=2)
PEAK = 1e7


@given(SHARE, EVERY, GROWTH)
def test_between_two_takings_the_culture_grows_back_to_where_it_was(
    share: float, every: float, growth: float
) -> None:
    taking = steady_taking(share, every, growth_per_d=growth, peak_per_ml=PEAK)
    if taking.before_per_ml < 1:
        return
    left = (1 - share) * taking.before_per_ml
    back = logistic_per_ml(every, start_per_ml=left, growth_per_d=growth, peak_per_ml=PEAK)
    assert back == pytest.approx(taking.before_per_ml, rel=1e-6)
    assert taking.before_per_ml < PEAK
    assert taking.per_ml_d * every == pytest.approx(share * taking.before_per_ml)


@given(SHARE, EVERY, GROWTH)
def test_a_culture_is_washed_out_just_where_more_is_taken_than_grows_back(
    share: float, every: float, growth: float
) -> None:
    taking = steady_taking(share, every, growth_per_d=growth, peak_per_ml=PEAK)
    assert (1 - share) * math.exp(taking.needed_per_d * every) == pytest.approx(1)
    if growth > taking.needed_per_d * (1 + 1e-9):
        assert taking.before_per_ml > 0
        refuse_washout(taking, growth)
    elif growth < taking.needed_per_d * (1 - 1e-9):
        assert taking.before_per_ml == taking.per_ml_d == 0
        with pytest.raises(BadInput, match=r"washed out\. Take less, or less often"):
            refuse_washout(taking, growth)


@given(SHARE, EVERY, GROWTH)
def test_no_taking_wins_more_than_a_quarter_of_growth_times_peak(
    share: float, every: float, growth: float
) -> None:
    taking = steady_taking(share, every, growth_per_d=growth, peak_per_ml=PEAK)
    assert taking.per_ml_d <= most_from_taking(growth, PEAK) * (1 + 1e-9)


def test_taking_little_and_often_at_half_the_peak_nears_the_ceiling() -> None:
    every = 0.001
    taking = steady_taking(-math.expm1(-0.35 * every), every, growth_per_d=0.7, peak_per_ml=PEAK)
    assert taking.before_per_ml == pytest.approx(PEAK / 2, rel=1e-3)
    assert taking.per_ml_d == pytest.approx(most_from_taking(0.7, PEAK), rel=1e-3)
    assert most_from_taking(0.7, PEAK) == pytest.approx(1.75e6)


def test_a_culture_left_alone_for_years_is_back_at_its_peak() -> None:
    taking = steady_taking(0.5, 2000, growth_per_d=1.0, peak_per_ml=PEAK)
    assert taking.before_per_ml == pytest.approx(PEAK)


def test_the_practice_of_three_times_a_week_asks_little_growth() -> None:
    """A quarter to a half three times a week, Helm, Bourne & Lovatelli 2004, section 3.3."""
    for share, needed in ((0.25, 0.123), (0.5, 0.297)):
        taking = steady_taking(share, 7 / 3, growth_per_d=0.7, peak_per_ml=PEAK)
        assert taking.needed_per_d == pytest.approx(needed, abs=5e-4)


@pytest.mark.parametrize("share", [0, 1, -0.1, 1.1, math.nan])
def test_a_share_is_between_nothing_and_all(share: float) -> None:
    with pytest.raises(OutOfRange, match="Share taken"):
        steady_taking(share, 1, growth_per_d=0.7, peak_per_ml=PEAK)


@pytest.mark.parametrize("wrong", [0, -1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: steady_taking(0.3, wrong, growth_per_d=0.7, peak_per_ml=PEAK),
        lambda: steady_taking(0.3, 1, growth_per_d=wrong, peak_per_ml=PEAK),
        lambda: steady_taking(0.3, 1, growth_per_d=0.7, peak_per_ml=wrong),
    ):
        with pytest.raises(BadInput):
            refuse()
