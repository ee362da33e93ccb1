"""What one season teaches the next, and what a published series says of itself."""

from dataclasses import replace
from datetime import timedelta
from functools import cache

import numpy as np
import pytest

from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.own_values import before_of, learned_from, without_learned
from protoconch.hatchery.reading import read_hatchery
from protoconch.hatchery.writing import hatchery_text
from protoconch.season.outlook.basis import basis
from protoconch.season.outlook.between_batches import left_out, next_batch
from protoconch.season.outlook.invented import invented_log
from protoconch.season.outlook.own_numbers import next_season, own_numbers
from protoconch.season.outlook.season_said import SeasonSaid, book, season_said
from protoconch.season.outlook.unknowns import table
from protoconch.season.outlook.update import updated
from tests.season.outlook.seasons import ASSUMED, CONCH, COUNTING, FIRST, fixed, on, plan, small

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
    for _ in range(120):
        middle, spread = np.log(-np.log(0.3)) + rng.normal(), abs(0.5 * rng.normal())
        series = np.exp(-np.exp(middle + spread * rng.normal(size=7)))
        told = next_batch(np.clip(series[:6], 1e-4, 1 - 1e-4).tolist())
        held += told.low <= series[6] <= told.high
    assert 0.82 <= held / 120 <= 0.97  # 120 intervals of 0.9: all but 1 in 200


def test_no_season_leaves_a_belief_and_many_alike_seasons_sharpen_it() -> None:
    assert next_season([], []) == pytest.approx((0.0, 1.0), abs=1e-6)
    one = next_season([1.0], [0.2])
    four = next_season([1.0] * 4, [0.2] * 4)
    assert 0.0 < one[0] < 1.0 / 1.2, "less than the season moved its own belief"
    assert one[0] < four[0] < 1.0
    assert four[1] < one[1] < 1.0
    vague = next_season([1.0], [8.0])
    assert 0.0 < vague[0] < 0.2
    assert vague[1] > 0.9, "with little data little moves"
    apart = next_season([-1.2, 0.4, 1.2, 2.8], [0.2] * 4)
    assert apart[1] > four[1]


BOOK = book(CONCH, plan().hatchery, ASSUMED, COUNTING)


@cache
def logged() -> SeasonSaid:
    log, _ = invented_log(small(), np.random.default_rng(4), 300)
    return season_said(BOOK, small(), updated(small(), log, on(300), 1, particles=500))


def taught(*seasons: SeasonSaid) -> Hatchery:
    """The small plan's hatchery with what these seasons have taught it."""
    own = {number.value.name: number.value for number in own_numbers(BOOK, seasons)}
    return replace(plan().hatchery, own_values=own)


def test_a_season_without_entries_moves_nothing() -> None:
    nothing = season_said(BOOK, small(), updated(small(), (), on(300), 1, particles=500))
    assert (nothing.seen, nothing.numbers) == (0, ())
    assert own_numbers(BOOK, [nothing]) == ()
    assert own_numbers(BOOK, [nothing, logged()]) == own_numbers(BOOK, [logged()])


def test_a_logged_season_becomes_the_hatcherys_own_numbers_and_keeps_their_source() -> None:
    own = {number.value.name: number for number in own_numbers(BOOK, [logged()])}
    survival = own["veliger.survival"]
    assert (survival.value.source, survival.value.confidence) == ("own-log", "own")
    assert survival.value.low is not None
    assert survival.value.high is not None
    assert 0 < survival.value.low < survival.value.number < survival.value.high < 1
    assert [s.first_day for s in learned_from(survival.value)] == [FIRST]
    assert learned_from(survival.value)[0].seen == logged().seen > 100
    assert before_of(survival.value) == "0.315 (0.16 to 0.49)"
    hatchery = taught(logged())
    assert read_hatchery(hatchery_text(hatchery), "mine.toml").own_values == hatchery.own_values
    assert without_learned(hatchery) == plan().hatchery
    said = next(n for n in logged().numbers if n.name == "variation.growth_site")
    growth = own["variation.growth_site"]
    assert 0 < growth.shift / said.middle < 1 / (1 + said.variance)
    for number in own.values():
        now, was = table(number.value), table(number.before)
        assert np.sign(now.at(np.array(0.0)) - was.at(np.array(0.0))) == np.sign(number.shift) or (
            abs(number.shift) < 0.05
        )


def test_what_earlier_seasons_taught_is_read_from_the_description_alone() -> None:
    later, last = (replace(logged(), first_day=FIRST + timedelta(days=n)) for n in (366, 731))
    own = taught(logged()).own_values
    at_once = {n.name: n for n in own_numbers(BOOK, [logged(), later])}
    in_turn = {n.name: n for n in own_numbers(BOOK, [later], own)}
    assert at_once.keys() == in_turn.keys()
    for name, number in at_once.items():
        assert in_turn[name].shift == pytest.approx(number.shift, abs=0.02), name
        assert in_turn[name].narrower == pytest.approx(number.narrower, abs=0.01), name
    assert len(in_turn["veliger.survival"].seasons) == 2
    assert own_numbers(BOOK, [logged()], own) == (), "no season teaches twice"
    two = {n.value.name: n.value for n in in_turn.values()}
    third = {n.name: n for n in own_numbers(BOOK, [last], two)}
    for name, number in {n.name: n for n in own_numbers(BOOK, [logged(), later, last])}.items():
        assert third[name].shift == pytest.approx(number.shift, abs=0.05), name
        assert third[name].narrower == pytest.approx(number.narrower, abs=0.02), name


def test_what_a_season_taught_is_not_used_upon_itself_but_upon_the_next() -> None:
    hatchery = taught(logged())
    same = basis(plan(hatchery=hatchery), CONCH, ASSUMED, COUNTING)
    assert same.beliefs.uncertain == small().beliefs.uncertain
    assert same.measures.counting == dict(COUNTING)
    year, later = timedelta(days=366), plan(hatchery=hatchery)
    forecast = replace(later.forecast, first_day=FIRST + year)
    target = replace(later.target, by=later.target.by + year)
    later = replace(later, forecast=forecast, target=target, batches=())
    then = basis(later, CONCH, ASSUMED, COUNTING)
    own = hatchery.own_values
    assert then.beliefs.uncertain["veliger.survival"] == own["veliger.survival"]
    assert then.measures.counting["count.clumping_k"] == own["count.clumping_k"]


def test_a_season_begun_from_what_was_learned_says_the_same_as_from_the_book() -> None:
    log, _ = invented_log(small(), np.random.default_rng(5), 200)
    uncertain, own = dict(small().beliefs.uncertain), taught(logged()).own_values
    for name, value in uncertain.items():
        uncertain[name] = own.get(value.name, value)
    moved = small().with_beliefs(replace(small().beliefs, uncertain=uncertain))
    by_book, by_own = (
        {
            n.name: n
            for n in own_numbers(
                BOOK, [season_said(BOOK, of, updated(of, log, on(200), 2, particles=500))]
            )
        }
        for of in (small(), moved)
    )
    for name in ("variation.growth_site", "growth.size_cv", "post_larva.survival"):
        assert by_own[name].shift == pytest.approx(by_book[name].shift, abs=0.2), name
        assert by_own[name].narrower == pytest.approx(by_book[name].narrower, abs=0.1), name


def test_after_a_season_the_prior_has_moved_toward_the_truth() -> None:
    for survival, way in ((0.15, -1), (0.5, 1)):
        true = fixed(small(), veliger__survival=survival)
        log, _ = invented_log(true, np.random.default_rng(6), 120)
        said = season_said(BOOK, small(), updated(small(), log, on(120), 1, particles=500))
        own = next(n for n in own_numbers(BOOK, [said]) if n.name == "veliger.survival")
        assert way * own.shift > 0.2
        assert abs(own.value.number - survival) < abs(own.before.number - survival)
