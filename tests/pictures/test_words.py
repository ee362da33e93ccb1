"""Numbers, days and odds in words."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.pictures import words

TENTHS = {name.split()[0].capitalize(): i for i, name in enumerate(words._TENS)}


@pytest.mark.parametrize(
    ("odds", "said"),
    [
        (0.801, "Eight in ten"),
        (0.52, "Five in ten"),
        (0.76, "76 in 100"),
        (0.97, "97 in 100"),
        (0.999, "More than 99 in 100"),
        (0.001, "Less than 1 in 100"),
    ],
)
def test_odds_are_said_in_tenths_where_tenths_are_near_enough(odds, said):
    assert words.odds_written(odds) == said


@given(st.floats(0, 1), st.sampled_from([0.5, 0.75, 0.8, 0.9, 0.95]))
def test_words_never_round_odds_across_the_confidence_asked(odds, asked):
    said = words.odds_written(odds, asked)
    if said.startswith(("More", "Less")):
        return
    number = TENTHS[said.split()[0]] / 10 if "ten" in said else int(said.split()[0]) / 100
    assert (number >= asked) == (odds >= asked)
    assert abs(number - odds) <= 0.026


@given(st.floats(0, 1), st.sampled_from([0.5, 0.75, 0.8, 0.9, 0.95]))
def test_a_percentage_never_rounds_across_the_confidence_asked(odds, asked):
    said = words.percent(odds, asked)
    if not said[0].isdigit():
        return
    assert (int(said.split()[0]) >= round(100 * asked)) == (odds >= asked)


@pytest.mark.parametrize(
    ("odds", "asked", "said"), [(0.797, 0.8, "79"), (0.803, 0.8, "80"), (0.806, 0.8055, "81")]
)
def test_odds_just_short_of_the_confidence_do_not_look_as_if_they_reached_it(odds, asked, said):
    assert words.percent(odds, asked).split()[0] == said


def test_simulated_seasons_never_show_certainty():
    assert words.percent(0.0) == "under 1\N{NO-BREAK SPACE}%"
    assert words.percent(0.9999) == "over 99\N{NO-BREAK SPACE}%"


@pytest.mark.parametrize(
    ("number", "digits", "said"),
    [(62_340, 2, "62,000"), (1_312, 3, "1,310"), (48.4, 2, "48"), (0.4, 2, "0"), (996, 2, "1,000")],
)
def test_a_forecast_number_has_as_many_digits_as_it_deserves(number, digits, said):
    assert words.about(number, digits) == said


@pytest.mark.parametrize(
    ("number", "said"), [(1200.0, "1,200"), (0.5, "0.5"), (0.126, "0.13"), (12.04, "12"), (0, "0")]
)
def test_an_amount_has_no_needless_digits(number, said):
    assert words.amount(number) == said


def test_days_are_written_out():
    assert words.day_written(date(2028, 10, 31)) == "31 October 2028"
    assert words.day_short(date(2028, 5, 1)) == "1 May 2028"
    assert words.month_written(date(2028, 5, 1)) == "May 2028"


def test_a_share_is_said_as_one_in_so_many():
    assert words.one_in(10, 1600) == "1 in 160"
    assert words.one_in(3, 4) == "75 %"
    assert words.one_in(0, 4) == "none"
