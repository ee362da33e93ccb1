"""Animals in a vessel from aliquots, even and clumped."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from protoconch.bench.aliquots import AliquotCount, aliquot_count, clumping_k, dispersion_p
from protoconch.bench.limits import poisson_limits
from protoconch.errors import BadInput

EVEN = [18, 22, 20, 25, 15]
UNEVEN = [4, 41, 12, 30, 13]
ALIQUOTS = st.lists(st.integers(min_value=0, max_value=300), min_size=1, max_size=12)


def of_ten_litres(counts: list[float]) -> AliquotCount:
    return aliquot_count(counts, aliquot_ml=1, volume_l=10)


def test_even_aliquots_give_the_mean_and_exact_poisson_limits() -> None:
    count = of_ten_litres(EVEN)
    assert (count.animals, count.per_l, count.mean_count) == (200_000, 20_000, 20)
    assert count.limits == poisson_limits(100).times(2000)
    assert (count.clumped, count.rests_on) == (False, "poisson")


def test_uneven_aliquots_widen_the_limits_and_say_so() -> None:
    count = of_ten_litres(UNEVEN)
    poisson = poisson_limits(100).times(2000)
    assert count.animals == 200_000
    assert (count.clumped, count.rests_on) == (True, "spread")
    assert count.limits.low < poisson.low
    assert count.limits.high > poisson.high


def test_a_known_clumping_rules_whatever_the_aliquots_look_like() -> None:
    count = aliquot_count(EVEN, aliquot_ml=1, volume_l=10, clumping_k=12)
    assert count.rests_on == "clumping k"
    assert count.limits.high > of_ten_litres(EVEN).limits.high


@given(st.lists(st.integers(min_value=1, max_value=300), min_size=2, max_size=12))
def test_the_dispersion_test_is_the_chi_square_test_of_scipy(counts: list[int]) -> None:
    assert dispersion_p(counts) == pytest.approx(stats.chisquare(counts).pvalue, abs=1e-12)


@pytest.mark.parametrize("counts", [[7], [0], [0, 0, 0]])
def test_one_aliquot_or_none_seen_tells_nothing_of_clumping(counts: list[float]) -> None:
    count = of_ten_litres(counts)
    assert count.dispersion_p is None
    assert not count.clumped


@given(ALIQUOTS)
def test_the_number_lies_within_its_limits_and_more_counted_is_more(counts: list[int]) -> None:
    count, more = of_ten_litres(counts), of_ten_litres([*counts[:-1], counts[-1] + 1])
    assert count.limits.low <= count.animals <= count.limits.high
    assert more.animals > count.animals


@given(ALIQUOTS, st.floats(min_value=0.5, max_value=50), st.floats(min_value=1, max_value=1000))
def test_limits_are_never_narrower_than_those_of_chance(
    counts: list[int], aliquot_ml: float, volume_l: float
) -> None:
    count = aliquot_count(counts, aliquot_ml=aliquot_ml, volume_l=volume_l)
    scale = volume_l * 1000 / (len(counts) * aliquot_ml)
    poisson = poisson_limits(sum(counts)).times(scale)
    assert count.limits.low <= poisson.low
    assert count.limits.high >= poisson.high


def share_held(
    draw: Callable[[np.random.Generator], np.ndarray], mean: float, only_clumped: bool
) -> float:
    generator = np.random.default_rng(11)
    found = [aliquot_count(draw(generator).tolist(), aliquot_ml=1, volume_l=1) for _ in range(2000)]
    judged = [count for count in found if count.clumped or not only_clumped]
    held = [count.limits.low <= mean * 1000 <= count.limits.high for count in judged]
    return sum(held) / len(held)


def test_limits_hold_the_truth_in_95_of_100_counts_of_random_animals() -> None:
    assert share_held(lambda generator: generator.poisson(20, 5), 20, only_clumped=False) > 0.94


@pytest.mark.parametrize(("mean", "k"), [(20, 12), (20, 4), (60, 12), (5, 2)])
def test_once_clumping_is_seen_the_widened_limits_hold_the_truth(mean: int, k: int) -> None:
    held = share_held(
        lambda generator: generator.negative_binomial(k, k / (k + mean), 5), mean, only_clumped=True
    )
    assert held > 0.94


def test_clumping_that_five_aliquots_do_not_show_costs_the_coverage_that_is_told() -> None:
    held = share_held(
        lambda generator: generator.negative_binomial(12, 12 / 32, 5), 20, only_clumped=False
    )
    assert 0.84 < held < 0.91  # the docstring of aliquot_count tells 88 of 100


def test_clumping_is_known_by_its_moments_and_endless_for_even_counts() -> None:
    generator = np.random.default_rng(3)
    counts = generator.negative_binomial(4, 4 / 24, 5000).tolist()
    assert clumping_k(counts) == pytest.approx(4, rel=0.1)
    assert clumping_k([10, 20, 30]) == pytest.approx(5)  # mean 20, variance 100
    assert clumping_k([20, 20, 20]) == math.inf
    assert clumping_k([1, 3]) == math.inf  # mean and variance both 2: just random


@pytest.mark.parametrize(
    ("counts", "aliquot_ml", "volume_l", "words"),
    [
        ([], 1, 10, "no counts"),
        ([5, -1], 1, 10, "Count is -1 animals"),
        ([math.nan], 1, 10, "Count is nan"),
        ([5], 0, 10, "Aliquot is 0 mL"),
        ([5], 1, 0, "Volume is 0 L"),
        ([5], -1, 10, "Aliquot is -1 mL"),
        ([5, 6], 600, 1, "2 aliquots of 600 mL are more than the 1 L"),
    ],
)
def test_counts_that_cannot_be_are_refused(
    counts: list[float], aliquot_ml: float, volume_l: float, words: str
) -> None:
    with pytest.raises(BadInput, match=words):
        aliquot_count(counts, aliquot_ml=aliquot_ml, volume_l=volume_l)


def test_a_vessel_may_be_counted_out() -> None:
    assert aliquot_count([5, 6], aliquot_ml=500, volume_l=1).animals == 11


def test_clumping_needs_two_aliquots() -> None:
    with pytest.raises(BadInput, match="two or more"):
        clumping_k([5])
