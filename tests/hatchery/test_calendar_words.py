"""Months and weekdays as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.errors import UnknownName
from protoconch.hatchery.calendar_words import month_name, months, weekday_name, weekdays


@given(st.integers(1, 12), st.integers(1, 12), st.integers(3, 9))
def test_a_range_runs_from_its_first_to_its_last_month(first, last, letters):
    words = f"{month_name(first)[:letters]} to {month_name(last)[:letters].upper()}"
    expected = {(first - 1 + step) % 12 + 1 for step in range((last - first) % 12 + 1)}
    assert months([words]) == tuple(sorted(expected))


@given(st.integers(0, 6))
def test_a_weekday_is_known_by_its_name(day):
    assert weekdays(weekday_name(day)) == (day,)
    assert weekdays(weekday_name(day)[:3].lower()) == (day,)


def test_a_week_may_run_over_its_end():
    assert weekdays("saturday-monday") == (5, 6, 0)


@pytest.mark.parametrize("word", ["", "ju", "0", "13", "Mai-", "a to b to c", "sommer"])
def test_what_is_no_month_is_refused(word):
    with pytest.raises(UnknownName):
        months([word])


@pytest.mark.parametrize("word", ["1", "fr", "", "people"])
def test_what_is_no_weekday_is_refused(word):
    with pytest.raises(UnknownName):
        weekdays(word)


def test_the_nearest_name_is_offered():
    with pytest.raises(UnknownName, match=r'"Octobre" is not a month. Did you mean October\?'):
        months(["Octobre"])
