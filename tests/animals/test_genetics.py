"""Parents behind a release, by formula and by dropping genes."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from protoconch.animals.genetics import (
    allele_kept,
    breeders,
    effective_size,
    effective_size_after_release,
    effective_size_by_variance,
    inbreeding_per_generation,
    largest_hatchery_share,
)
from protoconch.errors import BadInput

MASSES = st.lists(st.integers(min_value=0, max_value=5000), min_size=1, max_size=40)
NUMBER = st.floats(min_value=0.5, max_value=1e4)


def dropped_genes(shares: list[float], sires: int) -> float:
    """Effective breeders as seen in the drift of a neutral allele among 4000 offspring."""
    generator, drift = np.random.default_rng(8), []
    mothers = np.array(shares) / sum(shares)
    fathers = np.repeat(mothers / sires, sires)
    for _ in range(3000):
        genes = 0
        for parents in (mothers, fathers):
            from_each = generator.multinomial(4000, parents)
            own = generator.binomial(2, 0.5, len(parents)) / 2
            genes += generator.binomial(from_each, own).sum()
        drift.append(genes / 8000)
    return 0.25 / (2 * float(np.var(drift)))


@pytest.mark.parametrize(
    ("shares", "sires"), [([1, 1, 1, 1], 1), ([8, 4, 2, 1, 1], 1), ([5, 3, 1], 3)]
)
def test_the_formula_is_what_dropped_genes_show(shares: list[float], sires: int) -> None:
    assert breeders(shares, sires).effective == pytest.approx(
        dropped_genes(shares, sires), rel=0.08
    )


@given(MASSES, st.floats(min_value=1, max_value=10))
def test_unequal_families_and_few_sires_only_lower_the_number(
    masses: list[int], sires: float
) -> None:
    assume(sum(masses))
    found = breeders(masses, sires)
    equal = breeders([1] * found.families, sires)
    assert 1 <= found.equal_families <= found.families * (1 + 1e-9)
    assert found.effective <= equal.effective * (1 + 1e-9)
    assert 2 * found.equal_families <= found.effective * (1 + 1e-9)
    assert found.effective < 4 * found.equal_families
    assert 1 / found.families <= found.largest_share * (1 + 1e-9)


@given(MASSES)
def test_a_mass_that_left_none_counts_for_nothing(masses: list[int]) -> None:
    assume(sum(masses))
    assert breeders([*masses, 0]) == breeders(masses)


@given(NUMBER, NUMBER)
def test_the_rarer_sex_rules(females: float, males: float) -> None:
    assert effective_size(females, males) == effective_size(males, females)
    assert effective_size(females, males) <= 4 * min(females, males)
    assert effective_size(females, males) <= (females + males) * (1 + 1e-9)


@given(NUMBER, NUMBER, st.floats(min_value=0, max_value=1))
def test_a_release_never_adds_more_than_both_stocks_hold(nc: float, nw: float, x: float) -> None:
    after = effective_size_after_release(x, nc, nw)
    assert after <= (nc + nw) * (1 + 1e-9)
    assert effective_size_after_release(0, nc, nw) == pytest.approx(nw)
    assert effective_size_after_release(1, nc, nw) == pytest.approx(nc)


@given(NUMBER, NUMBER, st.floats(min_value=0.01, max_value=0.99))
def test_the_largest_hatchery_share_keeps_just_the_size_asked(
    nc: float, nw: float, part: float
) -> None:
    least = part * (nc + nw)
    share = largest_hatchery_share(nc, nw, least)
    assume(share < 1)
    assert effective_size_after_release(share, nc, nw) == pytest.approx(least, rel=1e-6)
    assert effective_size_after_release(min(1, share * 1.01), nc, nw) < least


def test_a_size_beyond_both_stocks_is_refused() -> None:
    with pytest.raises(BadInput, match=r"out of reach.*give together is 110"):
        largest_hatchery_share(10, 100, 111)


@given(st.floats(min_value=0, max_value=200), st.floats(min_value=0, max_value=1))
def test_more_parents_keep_more(parents: float, frequency: float) -> None:
    assert 0 <= allele_kept(parents, frequency) <= allele_kept(parents + 1, frequency) <= 1


def test_families_of_equal_size_double_the_stock_and_poisson_families_keep_it() -> None:
    assert effective_size_by_variance(30, 0) == 59
    assert effective_size_by_variance(30, 2) == 29.5
    assert effective_size_by_variance(1, 0) == 1
    assert effective_size_by_variance(30, 5, mean=5) < effective_size_by_variance(30, 1, mean=5)
    with pytest.raises(BadInput, match="nothing is lost"):
        effective_size_by_variance(30, 0, mean=1)


def test_inbreeding_is_one_percent_with_fifty() -> None:
    assert inbreeding_per_generation(50) == 0.01


@pytest.mark.parametrize("wrong", [-1, math.nan, math.inf])
def test_numbers_that_cannot_be_are_refused(wrong: float) -> None:
    for refuse in (
        lambda: breeders([wrong]),
        lambda: breeders([5], wrong),
        lambda: effective_size(wrong, 5),
        lambda: effective_size(5, wrong),
        lambda: effective_size_by_variance(wrong, 1),
        lambda: effective_size_by_variance(30, wrong),
        lambda: effective_size_by_variance(30, 2, wrong),
        lambda: effective_size_after_release(wrong, 5, 5),
        lambda: effective_size_after_release(0.5, wrong, 5),
        lambda: effective_size_after_release(0.5, 5, wrong),
        lambda: largest_hatchery_share(wrong, 5, 5),
        lambda: largest_hatchery_share(5, wrong, 5),
        lambda: largest_hatchery_share(5, 5, wrong),
        lambda: inbreeding_per_generation(wrong),
        lambda: allele_kept(wrong, 0.5),
        lambda: allele_kept(5, wrong),
    ):
        with pytest.raises(BadInput):
            refuse()


@pytest.mark.parametrize("nothing", [[], [0, 0]])
def test_a_release_of_nothing_is_refused(nothing: list[float]) -> None:
    with pytest.raises(BadInput, match="No egg mass"):
        breeders(nothing)
