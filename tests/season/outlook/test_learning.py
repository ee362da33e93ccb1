"""What one season teaches the next, and what a published series says of itself."""

from dataclasses import replace

import numpy as np
import pytest

from protoconch.season.outlook.between_batches import left_out, next_batch
from protoconch.season.outlook.invented import invented_log
from protoconch.season.outlook.own_numbers import SOURCE, next_season, own_numbers
from protoconch.season.outlook.unknowns import table
from protoconch.season.outlook.update import updated
from protoconch.sources.reading import load_table
from tests.season.outlook.seasons import ASSUMED, CONCH, on, plan, small

# survival from hatch to settlement by month of the egg mass, March to July and September:
# Brito-Manzano & Aldana Aranda 2017, Proc GCFI 70:241-245 (abstract)
BY_MONTH = (0.22, 0.34, 0.37, 0.38, 0.38, 0.20)


def test_each_month_of_the_published_series_lies_where_the_others_expect_it() -> None:
    inside = [each.low <= seen <= each.high
              for seen, each in zip(BY_MONTH, left_out(BY_MONTH), strict=True)]  # fmt: skip
    assert sum(inside) >= 5  # six intervals of 0.9 hold five or six in 89 of 100


def test_intervals_for_the_next_batch_hold_at_their_stated_rate() -> None:
    rng = np.random.default_rng(1)
    held = 0
    for _ in range(200):
        middle, spread = np.log(-np.log(0.3)) + rng.normal(), abs(0.5 * rng.normal())
        series = np.exp(-np.exp(middle + spread * rng.normal(size=7)))
        told = next_batch(np.clip(series[:6], 1e-4, 1 - 1e-4).tolist())
        held += told.low <= series[6] <= told.high
    assert 0.84 <= held / 200 <= 0.95


def test_no_season_leaves_a_belief_and_many_alike_seasons_sharpen_it() -> None:
    assert next_season([]) == pytest.approx((0.0, 1.0), abs=1e-6)
    rng = np.random.default_rng(2)
    one = next_season([0.8 + 0.4 * rng.standard_normal(4000)])
    four = next_season([0.8 + 0.4 * rng.standard_normal(4000) for _ in range(4)])
    assert 0.0 < one[0] < 0.8
    assert one[0] < four[0] < 1.2
    assert four[1] < one[1] < 1.0
    apart = next_season([m + 0.4 * rng.standard_normal(4000) for m in (-1.2, 0.4, 1.2, 2.8)])
    assert apart[1] > four[1]


def test_a_logged_season_becomes_the_hatcherys_own_numbers() -> None:
    basis = small()
    log, _ = invented_log(basis, np.random.default_rng(4), 120)
    told = updated(basis, log, on(120), 1, particles=500)
    own = {number.before.name: number for number in own_numbers(basis, [told])}
    survival = own["veliger.survival"]
    assert survival.value.source == SOURCE
    assert survival.value.confidence == "own"
    assert survival.value.low is not None
    assert survival.value.high is not None
    assert 0 < survival.value.low < survival.value.high < 1
    hatchery = replace(plan().hatchery, own_values={n: o.value for n, o in own.items()
                                                    if not n.startswith("count.")})  # fmt: skip
    from protoconch.season.model.beliefs import beliefs

    then = beliefs(CONCH, hatchery, ASSUMED)
    growth = own["variation.growth_site"]
    now = table(then.uncertain["variation.growth_site"]).at(np.array(0.0))
    was = table(basis.beliefs.uncertain["variation.growth_site"]).at(np.array(0.0))
    assert np.sign(now - was) == np.sign(growth.shift)
    assert abs(growth.shift) < abs(told.z[basis.site.names.index("variation.growth_site")].mean())
    assert load_table("outlook")["count.clumping_k"].confidence == "assumption"
