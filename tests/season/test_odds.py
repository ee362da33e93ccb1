"""Odds: counted from fresh futures, with their error, and moving the right way."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from protoconch.season.model.draws import streams
from protoconch.season.model.simulate import simulate
from protoconch.season.plan.judge import clopper_pearson_low, odds, spread
from tests.season.closed import with_survival
from tests.season.seasons import believed, layout


@given(st.integers(1, 500), st.integers(0, 500))
def test_the_lower_bound_is_that_of_clopper_and_pearson(successes, misses):
    bound = clopper_pearson_low(successes, successes + misses)
    test = binomtest(successes, successes + misses, alternative="greater")
    assert bound == pytest.approx(test.proportion_ci(0.95, "exact").low, abs=1e-9)


def test_odds_are_the_share_of_futures_that_meet_the_target():
    total = np.array([0.0, 100.0, 200.0, 300.0])
    seen = odds(total, 200)
    assert seen.value == 0.5
    assert seen.error == pytest.approx(0.25)
    assert seen.at_least < 0.5


@given(st.lists(st.floats(0, 1e5), min_size=5, max_size=50), st.floats(1, 1e5), st.floats(0, 1e5))
def test_a_larger_target_never_has_better_odds(numbers, animals, more):
    total = np.array(numbers)
    assert odds(total, animals + more).value <= odds(total, animals).value


@given(st.lists(st.floats(0, 1e6), min_size=3, max_size=80))
def test_bands_are_ordered(numbers):
    band = spread(np.array(numbers))
    assert band.p10 <= band.p50 <= band.p90


@pytest.mark.parametrize(
    "stage",
    ["veliger.survival", "post_larva.survival", "small_juvenile.survival", "juvenile.survival",
     "settlement.metamorphosis_share", "incubation.hatch_share"],
)  # fmt: skip
def test_more_survival_never_has_worse_odds(stage):
    season = layout(days=250)
    source = streams(np.random.default_rng(3))
    totals = [
        simulate(season, with_survival(believed(), stage, value), source, 400, 80.0, 100).total
        for value in (0.3, 0.5, 0.7, 0.9)
    ]
    for fewer, more in pairwise(totals):
        assert np.all(more >= fewer - 1e-6)
    assert totals[-1].sum() > totals[0].sum() or stage == "incubation.hatch_share"


def test_more_tanks_never_give_fewer_animals_where_nothing_shared_binds():
    source = streams(np.random.default_rng(3))
    few, more = (
        simulate(layout(tanks=t), replace(believed()), source, 400, 60.0, 100).total for t in (2, 3)
    )
    assert np.all(more >= few - 1e-6)
