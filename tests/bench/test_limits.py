"""Limits of counts against scipy, and how often they hold the truth."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from protoconch.bench.limits import (
    Limits,
    clumped_limits,
    poisson_limits,
    spread_limits,
    summed_limits,
)
from protoconch.errors import BadInput, OutOfRange

COUNTS = st.integers(min_value=0, max_value=100_000)


@given(COUNTS, st.sampled_from([0.5, 0.8, 0.9, 0.95, 0.99]))
def test_poisson_limits_are_the_chi_square_quantiles_of_scipy(n: int, confidence: float) -> None:
    limits = poisson_limits(n, confidence)
    tail = (1 - confidence) / 2
    low = stats.chi2.ppf(tail, 2 * n) / 2 if n else 0.0
    assert limits.low == pytest.approx(low, rel=1e-9)
    assert limits.high == pytest.approx(stats.chi2.ppf(1 - tail, 2 * n + 2) / 2, rel=1e-9)


@given(st.integers(min_value=1, max_value=5000))
def test_at_each_limit_the_count_is_just_rare_enough(n: int) -> None:
    limits = poisson_limits(n)
    assert stats.poisson.sf(n - 1, limits.low) == pytest.approx(0.025, rel=1e-6)
    assert stats.poisson.cdf(n, limits.high) == pytest.approx(0.025, rel=1e-6)


@given(
    st.integers(min_value=1, max_value=2000),
    st.integers(min_value=1, max_value=20),
    st.floats(min_value=0.5, max_value=200),
)
def test_clumped_limits_have_the_tails_of_the_negative_binomial(
    total: int, aliquots: int, k: float
) -> None:
    limits, size = clumped_limits(total, aliquots, k), aliquots * k
    at_low = stats.nbinom.sf(total - 1, size, size / (size + limits.low))
    at_high = stats.nbinom.cdf(total, size, size / (size + limits.high))
    assert at_low == pytest.approx(0.025, rel=1e-6)
    assert at_high == pytest.approx(0.025, rel=1e-6)


@given(COUNTS, st.integers(min_value=1, max_value=20))
def test_without_clumping_the_limits_are_those_of_poisson(total: int, aliquots: int) -> None:
    assert clumped_limits(total, aliquots, math.inf) == poisson_limits(total)


@given(st.integers(min_value=3, max_value=1000), st.floats(min_value=0.5, max_value=100))
def test_clumping_only_widens_the_limits(total: int, k: float) -> None:
    clumped, even = clumped_limits(total, 5, k), poisson_limits(total)
    assert clumped.low < even.low
    assert clumped.high > even.high


def test_spread_limits_are_those_of_student() -> None:
    counts = [18, 22, 20, 25, 15]
    expected = stats.t.interval(0.95, 4, loc=20, scale=stats.sem(counts))
    limits = spread_limits(counts)
    assert (limits.low, limits.high) == pytest.approx(expected)


def test_spread_limits_never_go_below_nothing() -> None:
    assert spread_limits([0, 0, 30]).low == 0


@given(st.lists(st.integers(min_value=0, max_value=500), min_size=1, max_size=6))
def test_tanks_of_one_size_are_one_count(counts: list[int]) -> None:
    limits = summed_limits(counts, [1.0] * len(counts))
    expected = poisson_limits(sum(counts))
    assert limits.low == pytest.approx(expected.low, rel=1e-9)
    assert limits.high == pytest.approx(expected.high, rel=1e-9)


def test_a_part_of_an_animal_is_a_total_too() -> None:
    assert summed_limits([1], [0.1]).low == pytest.approx(poisson_limits(1).low / 10)
    assert summed_limits([0], [0.1]).low == 0


def test_the_total_of_unlike_tanks_is_held_in_95_of_100_seasons() -> None:
    generator = np.random.default_rng(5)
    means, factors = np.array([80.0, 40.0, 110.0]), [1200.0, 900.0, 1600.0]
    truth = float(means @ np.array(factors))
    held = sum(
        limits.low <= truth <= limits.high
        for counts in generator.poisson(means, (2000, 3))
        for limits in [summed_limits(counts.tolist(), factors)]
    )
    assert 0.935 < held / 2000 < 0.975  # methods trial with 20,000: 0.955


@pytest.mark.parametrize("count", [-1, math.nan, math.inf])
def test_a_count_below_nothing_or_endless_is_refused(count: float) -> None:
    for refuse in (
        lambda: poisson_limits(count),
        lambda: clumped_limits(count, 5, 10),
        lambda: summed_limits([count], [1]),
        lambda: summed_limits([1], [count]),
    ):
        with pytest.raises(BadInput):
            refuse()


@pytest.mark.parametrize("confidence", [0, 1, -1, math.nan])
def test_a_confidence_outside_nothing_to_one_is_refused(confidence: float) -> None:
    with pytest.raises(OutOfRange, match="Confidence"):
        poisson_limits(5, confidence)


def test_lists_that_do_not_fit_and_single_aliquots_are_refused() -> None:
    with pytest.raises(BadInput, match="2 counts and 1 factors"):
        summed_limits([1, 2], [1])
    with pytest.raises(BadInput, match="no spread"):
        spread_limits([5])
    with pytest.raises(OutOfRange, match="Clumping k"):
        clumped_limits(5, 5, 0)


def test_limits_scale_and_join() -> None:
    assert Limits(1, 3).times(10) == Limits(10, 30)
    assert Limits(1, 3).widest(Limits(2, 5)) == Limits(1, 5)
