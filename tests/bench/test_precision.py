"""How many aliquots are enough, and when two counts differ."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.bench.precision import aliquots_needed, second_count_that_differs, survival_between
from protoconch.errors import BadInput


@pytest.mark.parametrize(
    ("mean", "k", "precision"), [(20, math.inf, 0.1), (20, 12, 0.1), (5, 2, 0.2)]
)
def test_so_many_aliquots_reach_the_precision_and_one_less_does_not(
    mean: float, k: float, precision: float
) -> None:
    needed = aliquots_needed(mean, precision, clumping_k=k)
    generator = np.random.default_rng(2)
    share = generator.gamma(k, mean / k, (20_000, needed)) if k < math.inf else mean
    means = generator.poisson(share, (20_000, needed)).mean(axis=1)
    assert means.std() / mean == pytest.approx(precision, rel=0.15)
    assert means.std() / mean < precision * 1.03
    assert math.sqrt((1 / mean + 1 / k) / (needed - 1)) > precision


def test_more_aliquots_do_not_mend_a_wrong_volume() -> None:
    assert aliquots_needed(20, 0.1, shared_error=0.05) > aliquots_needed(20, 0.1)
    with pytest.raises(BadInput, match="measure the volume better"):
        aliquots_needed(20, 0.1, shared_error=0.1)


@given(st.floats(min_value=0.5, max_value=500), st.floats(min_value=0.02, max_value=1))
def test_clumping_and_care_both_ask_for_more_aliquots(mean: float, precision: float) -> None:
    needed = aliquots_needed(mean, precision)
    assert needed >= 1
    assert aliquots_needed(mean, precision, clumping_k=5) >= needed
    assert aliquots_needed(mean, precision / 2) >= needed


def test_one_aliquot_may_be_enough() -> None:
    assert aliquots_needed(10_000, 0.5) == 1


def test_volumes_weigh_in_what_is_left() -> None:
    left = survival_between(100, 100, first_factor=2, second_factor=1)
    assert left.share == 0.5
    assert left.differ


def test_125_then_100_may_be_chance() -> None:
    assert not survival_between(125, 100).differ


@given(st.integers(min_value=10, max_value=5000))
def test_the_count_that_differs_is_the_last_one_that_does(first: int) -> None:
    second = second_count_that_differs(first)
    assert second is not None
    assert survival_between(first, second).differ
    assert not survival_between(first, second + 1).differ


@pytest.mark.parametrize("first", [1, 2, 3])
def test_of_very_few_animals_no_loss_can_be_told(first: int) -> None:
    assert second_count_that_differs(first) is None


def test_limits_of_survival_hold_the_truth_in_95_of_100() -> None:
    generator = np.random.default_rng(4)
    pairs = generator.poisson([125, 100], (4000, 2)).tolist()
    limits = [survival_between(*pair).limits for pair in pairs]
    assert 0.94 < np.mean([each.low <= 0.8 <= each.high for each in limits]) < 0.965


@pytest.mark.parametrize("wrong", [0, -5, math.nan, math.inf])
def test_counts_of_nothing_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: survival_between(wrong, 5),
        lambda: survival_between(5, wrong),
        lambda: survival_between(5, 5, first_factor=wrong),
        lambda: second_count_that_differs(wrong),  # type: ignore[arg-type]
        lambda: aliquots_needed(wrong, 0.1),
        lambda: aliquots_needed(20, wrong),
        lambda: aliquots_needed(20, 0.1, clumping_k=-abs(wrong)),
    ):
        with pytest.raises(BadInput):
            refuse()


def test_a_confidence_outside_nothing_to_one_is_refused() -> None:
    with pytest.raises(BadInput, match="Confidence"):
        survival_between(5, 5, confidence=1)
