"""Growth rates read from counts: recovered, with limits that hold what they promise."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from protoconch.algae.growth import baranyi_per_ml, exponential_per_ml, logistic_per_ml
from protoconch.algae.growth_fit import CURVES, MOST_GROWTH, Curve, best_fit, fitted
from protoconch.errors import BadInput

START, GROWTH, PEAK, LAG = 2e5, 0.7, 8e6, 1.5
SCATTER = 0.1
"""Standard deviation of ln(count): some 100 cells a count, with filling and pipetting."""
DAYS = {"exponential": np.arange(6.0), "logistic": np.arange(9.0), "lag": np.arange(11.0)}


def true_cells(curve: Curve, day: NDArray[np.float64]) -> NDArray[np.float64]:
    if curve == "exponential":
        return exponential_per_ml(day, start_per_ml=START, growth_per_d=GROWTH)
    if curve == "logistic":
        return logistic_per_ml(day, start_per_ml=START, growth_per_d=GROWTH, peak_per_ml=PEAK)
    return baranyi_per_ml(day, start_per_ml=START, growth_per_d=GROWTH, peak_per_ml=PEAK, lag_d=LAG)


def counted(curve: Curve, rng: np.random.Generator, scatter: float = SCATTER) -> list[float]:
    day = DAYS[curve]
    return [float(n) for n in true_cells(curve, day) * np.exp(rng.normal(0, scatter, len(day)))]


@pytest.mark.parametrize("curve", CURVES)
def test_counts_without_error_give_the_curve_back(curve: Curve) -> None:
    day = DAYS[curve]
    fit = fitted(day.tolist(), true_cells(curve, day).tolist(), curve)
    assert fit.growth_per_d == pytest.approx(GROWTH, rel=1e-3)
    assert fit.start_per_ml == pytest.approx(START, rel=1e-2)
    assert fit.per_ml(day) == pytest.approx(true_cells(curve, day), rel=1e-2)
    assert fit.scatter < 1e-3
    assert fit.counts == len(day)
    if curve == "exponential":
        assert math.isnan(fit.peak_per_ml)
    else:
        assert fit.peak_per_ml == pytest.approx(PEAK, rel=1e-2)
    if curve == "lag":
        assert fit.lag_d == pytest.approx(LAG, abs=0.02)
    else:
        assert math.isnan(fit.lag_d)


@pytest.mark.parametrize(("curve", "cultures"), [("exponential", 500), ("logistic", 400),
                                                 ("lag", 250)])  # fmt: skip
def test_95_in_100_limits_hold_the_true_growth(curve: Curve, cultures: int) -> None:
    """Simulated counts, fixed seed; 93 to 97 of 100 asked, and the mean is not off."""
    rng = np.random.default_rng(20_260)
    fits = [fitted(DAYS[curve].tolist(), counted(curve, rng), curve) for _ in range(cultures)]
    held = sum(f.growth_limits.low <= GROWTH <= f.growth_limits.high for f in fits) / cultures
    mean = sum(f.growth_per_d for f in fits) / cultures
    print(f"{curve}: limits hold the truth in {held:.3f} of {cultures}, mean growth {mean:.4f}")
    assert 0.93 <= held <= 0.97
    assert mean == pytest.approx(GROWTH, rel=0.03)
    assert all(f.growth_limits.low <= f.growth_per_d <= f.growth_limits.high for f in fits)


def test_for_a_straight_line_the_limits_are_those_of_the_regression_line() -> None:
    """Student's limits of a slope (textbook)."""
    from scipy.stats import linregress, t

    day = DAYS["exponential"]
    counts = counted("exponential", np.random.default_rng(5))
    fit, line = fitted(day.tolist(), counts, "exponential"), linregress(day, np.log(counts))
    reach = t.ppf(0.975, len(day) - 2) * line.stderr
    assert fit.growth_per_d == pytest.approx(line.slope, abs=1e-6)
    assert fit.growth_limits.low == pytest.approx(line.slope - reach, abs=3e-4)
    assert fit.growth_limits.high == pytest.approx(line.slope + reach, abs=3e-4)
    assert math.log(fit.start_per_ml) == pytest.approx(line.intercept, abs=1e-5)
    squares = float(((np.log(counts) - line.intercept - line.slope * day) ** 2).sum())
    assert fit.scatter == pytest.approx(math.sqrt(squares / (len(day) - 2)), rel=1e-6)
    n, k = len(day), 3
    aicc = n * math.log(squares / n) + 2 * k + 2 * k * (k + 1) / (n - k - 1)
    assert fit.criterion == pytest.approx(aicc, rel=1e-6)


@pytest.mark.parametrize("curve", CURVES)
def test_the_curve_that_made_the_counts_is_mostly_the_one_chosen(curve: Curve) -> None:
    """AICc, Hurvich & Tsai 1989; fixed seed."""
    rng = np.random.default_rng(7)
    chosen = [best_fit(DAYS[curve].tolist(), counted(curve, rng, 0.05)).curve for _ in range(40)]
    right = chosen.count(curve) / len(chosen)
    print(f"{curve}: chosen {right:.2f}")
    assert right >= 0.85


def test_few_counts_are_laid_only_under_curves_they_suffice_for() -> None:
    day = np.arange(5.0)
    bent = logistic_per_ml(day, start_per_ml=2e5, growth_per_d=2.0, peak_per_ml=1e6)
    assert best_fit(day.tolist(), bent.tolist()).curve == "exponential"
    day = np.arange(6.0)
    bent = logistic_per_ml(day, start_per_ml=2e5, growth_per_d=2.0, peak_per_ml=1e6)
    assert best_fit(day.tolist(), bent.tolist()).curve == "logistic"


@settings(max_examples=25)
@given(st.integers(min_value=0, max_value=10_000), st.floats(min_value=0.01, max_value=1000))
def test_the_unit_of_the_counts_does_not_change_the_growth(seed: int, factor: float) -> None:
    day, counts = DAYS["exponential"].tolist(), counted("exponential", np.random.default_rng(seed))
    one = fitted(day, counts, "exponential")
    other = fitted(day, [n * factor for n in counts], "exponential")
    assert other.growth_per_d == pytest.approx(one.growth_per_d, abs=1e-5)
    assert other.start_per_ml == pytest.approx(one.start_per_ml * factor, rel=1e-4)
    assert other.growth_limits.low == pytest.approx(one.growth_limits.low, abs=1e-3)


def test_counts_written_down_in_any_order_give_the_same_fit() -> None:
    day, counts = DAYS["logistic"], counted("logistic", np.random.default_rng(3))
    mixed = np.random.default_rng(4).permutation(len(day))
    one = fitted(day.tolist(), counts, "logistic")
    other = fitted(day[mixed].tolist(), [counts[place] for place in mixed], "logistic")
    assert other.growth_per_d == pytest.approx(one.growth_per_d, abs=1e-4)
    assert other.growth_limits.high == pytest.approx(one.growth_limits.high, abs=2e-3)


def test_counts_that_say_nothing_give_limits_as_wide_as_the_search() -> None:
    fit = fitted([0, 1, 2, 3, 4, 5], [1e5, 9e6, 2e4, 8e6, 1e5, 1e6], "logistic")
    assert fit.growth_limits.high == MOST_GROWTH
    assert fit.growth_limits.low == pytest.approx(1e-3)


def test_a_culture_that_shrinks_is_fitted_with_the_rate_at_which_it_does() -> None:
    days = np.arange(4.0, 12.0)
    cells = 2e6 * np.exp(-0.4 * days)
    fit = fitted(days.tolist(), cells.tolist(), "exponential")
    assert fit.growth_per_d == pytest.approx(-0.4, abs=1e-6)
    assert fit.start_per_ml == pytest.approx(2e6, rel=1e-5)
    wobble = cells * np.exp(0.1 * np.cos(5 * days))
    again = best_fit(days.tolist(), wobble.tolist())
    assert again.curve == "exponential"
    assert again.growth_limits.low < -0.4 < again.growth_limits.high < 0


def test_a_culture_first_counted_late_is_carried_back_to_its_start() -> None:
    days = np.arange(9.0, 15.0)
    cells = exponential_per_ml(days, start_per_ml=2e4, growth_per_d=0.7)
    fit = fitted(days.tolist(), cells.tolist(), "exponential")
    assert fit.growth_per_d == pytest.approx(0.7, abs=1e-6)
    assert fit.start_per_ml == pytest.approx(2e4, rel=1e-4)


def test_counts_on_too_few_days_are_laid_through_the_simpler_curve() -> None:
    days, cells = [0.0, 0.0, 0.0, 1.0, 2.0, 3.0], [1e5, 1.1e5, 0.9e5, 2e5, 4e5, 8e5]
    assert best_fit(days, cells).curve == "exponential"


def test_a_count_that_is_unsure_weighs_less() -> None:
    days, cells = np.arange(7.0), exponential_per_ml(np.arange(7.0), start_per_ml=2e5,
                                                     growth_per_d=0.6)  # fmt: skip
    cells[-1] *= 3
    alike = fitted(days.tolist(), cells.tolist(), "exponential")
    sure = fitted(days.tolist(), cells.tolist(), "exponential", [0.05] * 6 + [0.8])
    same = fitted(days.tolist(), cells.tolist(), "exponential", [0.3] * 7)
    assert abs(sure.growth_per_d - 0.6) < 0.02 < abs(alike.growth_per_d - 0.6)
    assert same.growth_per_d == pytest.approx(alike.growth_per_d)
    assert same.criterion == pytest.approx(alike.criterion)
    with pytest.raises(BadInput, match="needs its error"):
        fitted(days.tolist(), cells.tolist(), "exponential", [0.1] * 6 + [0.0])


@pytest.mark.parametrize("curve", ["exponential", "logistic"])
def test_95_in_100_limits_of_the_curve_hold_the_true_cells(curve: Curve) -> None:
    rng, held, cultures = np.random.default_rng(77), 0, 150
    day = np.array([float(DAYS[curve][-1]) + 1])
    for _ in range(cultures):
        fit = fitted(DAYS[curve].tolist(), counted(curve, rng), curve)
        low, high = fit.limits_per_ml(day)
        held += bool(low[0] <= true_cells(curve, day)[0] <= high[0])
    assert 0.9 <= held / cultures <= 0.99


@pytest.mark.parametrize(("curve", "needed"), [("exponential", 5), ("logistic", 6), ("lag", 7)])
def test_too_few_counts_are_refused(curve: Curve, needed: int) -> None:
    days = [float(d) for d in range(needed)]
    counts = [1e5 * 2**d for d in days]
    assert fitted(days, counts, curve).counts == needed
    with pytest.raises(BadInput, match=f"too few for the {curve} curve; it needs {needed} on"):
        fitted(days[:-1], counts[:-1], curve)
    with pytest.raises(BadInput, match="too few"):
        fitted([0.0, 1.0, 2.0] + [2.0] * (needed - 3), counts, curve)


def test_faulty_lists_are_refused() -> None:
    with pytest.raises(BadInput, match="There are 2 days and 3 counts; give one for each"):
        fitted([0, 1], [1, 2, 3], "exponential")
    good = [1e5, 2e5, 4e5, 8e5, 16e5]
    for wrong in (0, -1, math.nan, math.inf):
        with pytest.raises(BadInput, match="each count one above 0"):
            fitted([0, 1, 2, 3, 4], [*good[:-1], wrong], "exponential")
    with pytest.raises(BadInput, match="must be a number"):
        fitted([0, 1, 2, 3, math.nan], good, "exponential")
    with pytest.raises(BadInput, match="4 counts are too few"):
        best_fit([0, 1, 2, 3], good[:4])
