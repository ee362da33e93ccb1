"""Where a day, a number and a number of animals lie in a drawing."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.pictures.scales import NumberScale, Thickness, TimeScale, round_step

animals = st.floats(10.0, 1e7)


@given(animals, st.floats(0.5, 20.0))
def test_ten_times_as_many_animals_are_always_the_same_step_thicker(number, step):
    ribbon = Thickness(step)
    assert ribbon.of(10 * number) - ribbon.of(number) == pytest.approx(step, rel=1e-9)


@given(st.floats(0, 1e8), st.floats(0, 1e8))
def test_more_animals_never_make_a_ribbon_thinner(one, other):
    low, high = sorted((one, other))
    assert Thickness(9.0).of(low) <= Thickness(9.0).of(high)


@pytest.mark.parametrize("few", [0.0, 0.4, 1.0, 10.0])
def test_ten_animals_or_fewer_have_no_thickness(few):
    assert Thickness(9.0).of(few) == 0.0


def test_the_layers_lie_at_the_tenfolds_below_the_number():
    assert Thickness(9.0).tenfolds(60_000) == (100.0, 1_000.0, 10_000.0)
    assert Thickness(9.0).tenfolds(1_000) == (100.0,)
    assert Thickness(9.0).tenfolds(7) == ()


def test_a_day_lies_as_far_along_as_its_share_of_the_days():
    scale = TimeScale(date(2027, 4, 1), date(2027, 4, 11), 100.0, 200.0)
    assert scale.at(date(2027, 4, 6)) == pytest.approx(150.0)
    assert scale.at(date(2027, 3, 1)) == 100.0
    assert scale.at(date(2028, 3, 1)) == 200.0
    assert scale.holds(date(2027, 4, 11))
    assert not scale.holds(date(2027, 4, 12))


@given(st.dates(date(2000, 1, 1), date(2080, 1, 1)), st.integers(0, 900))
def test_months_are_the_first_days_of_all_months_on_the_scale(first, length):
    last = first + timedelta(days=length)
    days = (first + timedelta(days=i) for i in range(length + 1))
    assert TimeScale(first, last, 0, 100).months() == tuple(d for d in days if d.day == 1)


@given(st.floats(0.01, 1e6), st.floats(0.01, 1e6))
def test_ticks_are_few_and_lie_on_the_scale(low, width):
    ticks = NumberScale(low, low + width, 0, 300).ticks(5)
    assert len(ticks) <= 6
    assert all(low - 1e-6 * width <= t <= low + width * (1 + 1e-6) for t in ticks)


@given(st.floats(1e-6, 1e9))
def test_a_round_step_is_one_two_or_five_times_a_power_of_ten(least):
    step = round_step(least)
    assert step >= least * (1 - 1e-9)
    assert f"{step:.0e}"[0] in "125"
