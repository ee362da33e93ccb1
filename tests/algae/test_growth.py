"""How the cells of a culture multiply: limits of the curves, and the time they need."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from protoconch.algae.growth import (
    baranyi_per_ml,
    days_to_reach,
    doubling_days,
    exponential_per_ml,
    gompertz_per_ml,
    growth_between,
    logistic_per_ml,
)
from protoconch.errors import BadInput

START = st.floats(min_value=1e4, max_value=1e6)
TIMES = st.floats(min_value=2, max_value=500)
GROWTH = st.floats(min_value=0.1, max_value=2)
LAG = st.floats(min_value=0, max_value=5)
DAY = st.floats(min_value=0, max_value=60)


@given(START, TIMES, GROWTH, LAG)
def test_a_culture_starts_with_what_was_poured_in(
    start: float, times: float, growth: float, lag: float
) -> None:
    whole = {"start_per_ml": start, "growth_per_d": growth, "lag_d": lag}
    peak = start * times
    assert exponential_per_ml(0.0, **whole) == pytest.approx(start)
    assert logistic_per_ml(0.0, peak_per_ml=peak, **whole) == pytest.approx(start)
    assert baranyi_per_ml(0.0, peak_per_ml=peak, **whole) == pytest.approx(start)


@given(START, TIMES, GROWTH, LAG, DAY, DAY)
def test_a_culture_never_shrinks_nor_passes_its_peak(
    start: float, times: float, growth: float, lag: float, one: float, other: float
) -> None:
    whole = {"start_per_ml": start, "growth_per_d": growth, "lag_d": lag,
             "peak_per_ml": start * times}  # fmt: skip
    early, late = min(one, other), max(one, other)
    for curve in (logistic_per_ml, baranyi_per_ml, gompertz_per_ml):
        first, second = curve(early, **whole), curve(late, **whole)
        assert first <= second * (1 + 1e-9)
        assert second <= start * times * (1 + 1e-9)


@given(START, TIMES, GROWTH, LAG)
def test_in_the_end_every_culture_nears_its_peak(
    start: float, times: float, growth: float, lag: float
) -> None:
    whole = {"start_per_ml": start, "growth_per_d": growth, "lag_d": lag,
             "peak_per_ml": start * times}  # fmt: skip
    late = lag + (30 + 3 * math.log(times)) / growth
    for curve in (logistic_per_ml, baranyi_per_ml, gompertz_per_ml):
        assert curve(late, **whole) == pytest.approx(start * times, rel=1e-3)


@given(START, GROWTH, st.floats(min_value=0, max_value=10))
def test_far_from_the_peak_both_slowing_curves_are_the_exponential(
    start: float, growth: float, day: float
) -> None:
    free = exponential_per_ml(day, start_per_ml=start, growth_per_d=growth)
    peak = free * 1e6
    held = {"start_per_ml": start, "growth_per_d": growth, "peak_per_ml": peak}
    assert logistic_per_ml(day, **held) == pytest.approx(free, rel=1e-5)
    assert baranyi_per_ml(day, lag_d=0.0, **held) == pytest.approx(free, rel=1e-5)


@given(START, TIMES, GROWTH, DAY)
def test_without_a_lag_the_curve_with_a_lag_is_the_logistic(
    start: float, times: float, growth: float, day: float
) -> None:
    held = {"start_per_ml": start, "growth_per_d": growth, "peak_per_ml": start * times}
    straight = logistic_per_ml(day, **held)
    assert baranyi_per_ml(day, lag_d=0.0, **held) == pytest.approx(straight, rel=1e-9)


def test_the_curve_with_a_lag_solves_its_own_equation() -> None:
    """Baranyi & Roberts 1994: dN/dt = μ q/(1 + q) (1 - N/K) N, dq/dt = μ q, 1/q = exp(h0) - 1."""
    start, growth, peak, lag = 2e5, 0.7, 1e7, 1.0
    days = np.linspace(0, 12, 25)
    ready = -math.log(math.expm1(growth * lag))
    found = solve_ivp(
        lambda t, y: growth / (1 + math.exp(-ready - growth * t)) * (1 - np.exp(y) / peak),
        (0, 12), [math.log(start)], t_eval=days, rtol=1e-10, atol=1e-12,
    ).y[0]  # fmt: skip
    ours = baranyi_per_ml(
        days, start_per_ml=start, growth_per_d=growth, peak_per_ml=peak, lag_d=lag
    )
    assert np.log(ours) == pytest.approx(found, abs=1e-7)


def test_the_lagged_curves_wait_out_the_lag() -> None:
    whole = {"start_per_ml": 2e5, "growth_per_d": 0.7, "lag_d": 2.0}
    assert exponential_per_ml(1.0, **whole) == pytest.approx(2e5)
    assert exponential_per_ml(3.0, **whole) == pytest.approx(2e5 * math.exp(0.7))
    assert logistic_per_ml(2.0, peak_per_ml=1e7, **whole) == pytest.approx(2e5)


def test_the_curve_of_zwietering_does_not_start_at_the_inoculum() -> None:
    """Zwietering et al. 1990: 1.05 times the inoculum at day 0 in this case."""
    at_zero = gompertz_per_ml(0.0, start_per_ml=2e5, growth_per_d=0.7, peak_per_ml=1e7, lag_d=1.0)
    assert at_zero / 2e5 == pytest.approx(1.05, abs=0.005)


@given(START, TIMES, GROWTH, LAG, st.floats(min_value=0.02, max_value=0.98))
def test_on_the_day_told_a_culture_holds_the_cells_wanted(
    start: float, times: float, growth: float, lag: float, part: float
) -> None:
    peak = start * times
    wanted = start + part * (peak - start)
    whole = {"start_per_ml": start, "growth_per_d": growth, "peak_per_ml": peak, "lag_d": lag}
    day = days_to_reach(wanted, **whole)
    assert day >= lag
    assert logistic_per_ml(day, **whole) == pytest.approx(wanted, rel=1e-9)


@given(START, TIMES, GROWTH, st.floats(min_value=0.1, max_value=0.8))
def test_more_cells_or_slower_growth_take_longer(
    start: float, times: float, growth: float, part: float
) -> None:
    peak = start * times
    wanted = start + part * (peak - start)
    held = {"start_per_ml": start, "peak_per_ml": peak}
    day = days_to_reach(wanted, growth_per_d=growth, **held)
    assert days_to_reach(wanted * 1.01, growth_per_d=growth, **held) > day
    assert days_to_reach(wanted, growth_per_d=growth / 2, **held) == pytest.approx(2 * day)


def test_a_culture_that_holds_the_cells_already_needs_no_day() -> None:
    for wanted in (1e5, 2e5):
        day = days_to_reach(wanted, start_per_ml=2e5, growth_per_d=0.7, peak_per_ml=1e7, lag_d=2)
        assert day == 0


@pytest.mark.parametrize("wanted", [1e7, 2e7, 0, -1, math.nan])
def test_the_peak_itself_is_never_reached(wanted: float) -> None:
    with pytest.raises(BadInput, match="must be below the peak of 10,000,000"):
        days_to_reach(wanted, start_per_ml=2e5, growth_per_d=0.7, peak_per_ml=1e7)


def test_a_start_above_the_peak_is_refused() -> None:
    with pytest.raises(BadInput, match="both must be below the peak"):
        days_to_reach(1e5, start_per_ml=2e5, growth_per_d=0.7, peak_per_ml=2e5)


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf])
@pytest.mark.parametrize("name", ["start_per_ml", "growth_per_d", "peak_per_ml", "lag_d"])
def test_numbers_that_cannot_be_are_refused(name: str, wrong: float) -> None:
    good = {"start_per_ml": 2e5, "growth_per_d": 0.7, "peak_per_ml": 1e7, "lag_d": 1.0}
    with pytest.raises(BadInput):
        days_to_reach(1e6, **(good | {name: wrong}))


@given(START, GROWTH, st.floats(min_value=0.1, max_value=20))
def test_the_growth_between_two_counts_is_that_of_the_culture(
    start: float, growth: float, days: float
) -> None:
    later = exponential_per_ml(days, start_per_ml=start, growth_per_d=growth)
    assert growth_between(start, later, days) == pytest.approx(growth)
    assert growth_between(later, start, days) == pytest.approx(-growth)


@given(GROWTH)
def test_after_its_doubling_time_a_culture_has_doubled(growth: float) -> None:
    """Barsanti & Gualtieri, p. 249: Tg = 0.6931/μ."""
    days = doubling_days(growth)
    assert days * growth == pytest.approx(0.6931, abs=5e-5)
    assert growth_between(1e5, 2e5, days) == pytest.approx(growth)


@pytest.mark.parametrize("wrong", [0, -1, math.nan, math.inf])
def test_counts_and_rates_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: growth_between(wrong, 1e6, 1),
        lambda: growth_between(1e5, wrong, 1),
        lambda: growth_between(1e5, 1e6, wrong),
        lambda: doubling_days(wrong),
    ):
        with pytest.raises(BadInput):
            refuse()


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf])
@pytest.mark.parametrize("name", ["day", "start_per_ml", "growth_per_d", "peak_per_ml", "lag_d"])
def test_a_curve_of_numbers_that_cannot_be_is_refused(name: str, wrong: float) -> None:
    good = {"start_per_ml": 2e5, "growth_per_d": 0.7, "peak_per_ml": 1e7, "lag_d": 1.0}
    for curve in (exponential_per_ml, logistic_per_ml, baranyi_per_ml, gompertz_per_ml):
        known = {k: v for k, v in good.items()
                 if k != "peak_per_ml" or curve is not exponential_per_ml}  # fmt: skip
        shrinks = curve is exponential_per_ml and name == "growth_per_d" and wrong == -1
        if shrinks or (name not in known and name != "day"):
            continue
        changed = known | {name: wrong}
        day = changed.pop("day", 3.0)
        with pytest.raises(BadInput, match="must be"):
            curve(day, **changed)
        with pytest.raises(BadInput, match="must be"):
            curve(np.array([0.0, day]), **changed)


def test_a_peak_below_the_start_is_refused_where_the_curve_needs_it_above() -> None:
    for curve in (baranyi_per_ml, gompertz_per_ml):
        with pytest.raises(BadInput, match="must be above the start"):
            curve(3.0, start_per_ml=2e6, growth_per_d=0.7, peak_per_ml=1e6, lag_d=0.5)
