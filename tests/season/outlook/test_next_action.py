"""Next actions: the one known best is found, on common futures, and nothing beyond a limit."""

import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from protoconch.hatchery.description import Hatchery, Permit, Prices
from protoconch.hatchery.reading import demo_hatchery
from protoconch.season.model.draws import Streams
from protoconch.season.outlook.ahead import onward, totals
from protoconch.season.outlook.candidate import Room
from protoconch.season.outlook.changes import some
from protoconch.season.outlook.counting_again import worth_of_knowing
from protoconch.season.outlook.in_the_tanks import thinned, waited
from protoconch.season.outlook.next_action import Choices, next_actions
from protoconch.season.outlook.outlook import Known, outlook
from protoconch.work import hours
from tests.season.outlook.constructed import SEASONS, crowded
from tests.season.outlook.seasons import ASSUMED, CONCH, COUNTING, FIRST, on, plan

FUTURES = 500
TRIED = json.loads((Path(__file__).parent / "best_actions.json").read_text("utf-8"))["seasons"]


def known(hatchery: Hatchery, target: tuple[int, float] = (2200, 40.0)) -> Known:
    """The outlook of a short season of one batch before anything has begun."""
    made = plan((18,), 2, 330, target, hatchery)
    return outlook(made, CONCH, (), on(2), 1, ASSUMED, COUNTING, particles=200)


def kept_to(permit: Permit, futures: int = 30, **others: object) -> Choices:
    """What helps a small season under a permit."""
    return next_actions(known(replace(demo_hatchery(), permit=permit, **others)), hours, futures)


@cache
def helps(season: str) -> Choices:
    """What would help in a constructed season."""
    return next_actions(SEASONS[season](1, FUTURES), hours, FUTURES)


@pytest.mark.parametrize("season", SEASONS)
def test_the_action_that_exhaustive_simulation_found_best_comes_first(season: str) -> None:
    best, second = TRIED[season]["candidates"][:2]
    apart = best["per_ten_hours"] - second["per_ten_hours"]
    noise = np.hypot(best["error_per_ten_hours"], second["error_per_ten_hours"])
    assert best["gain"] > 3 * best["error"]
    assert second["gain"] <= 0.01 or apart > 3 * noise
    assert helps(season).actions[0].key == best["key"]


@pytest.mark.parametrize("season", SEASONS)
def test_every_gain_agrees_with_exhaustive_simulation(season: str) -> None:
    tried = {one["key"]: one for one in TRIED[season]["candidates"]}
    for action in helps(season).actions:
        if not action.changes_target:
            one = tried[action.key]
            assert abs(action.gain - one["gain"]) < 4 * np.hypot(action.error, one["error"])


def test_common_futures_make_differences_sharper_than_separate_ones() -> None:
    for season in ("few", "hungry"):
        saved = [a.variance_saved for a in helps(season).actions if a.helps]
        assert np.median(saved) > 3


def test_what_gains_nothing_is_not_said_to_help() -> None:
    for season in SEASONS:
        for action in helps(season).actions:
            assert not action.helps or action.gain >= 0.01
    idle = next(a for a in helps("few").actions if a.kind == "extra culture")
    assert not idle.helps


def test_prices_turn_the_ranking_to_gain_for_money() -> None:
    permit = demo_hatchery().permit
    free, dear = (kept_to(permit, 150, prices=Prices("BSD", hour, egg_mass=mass))
                  for hour, mass in ((10.0, 0.0), (10.0, 1e6)))  # fmt: skip
    assert free.currency == "BSD"
    by_key = {a.key: a for a in free.actions}
    for action in dear.actions:
        more = 1e6 * action.masses
        assert action.cost == pytest.approx((by_key[action.key].cost or 0.0) + more)

    def place(choices: Choices) -> int:
        return min(i for i, a in enumerate(choices.actions) if a.masses)

    helping = sum(a.helps and not a.masses and not a.changes_target for a in dear.actions)
    assert place(free) < helping <= place(dear)
    unpriced = helps("few")
    assert unpriced.currency == ""
    assert all(a.cost is None and a.per_cost is None for a in unpriced.actions)


@pytest.mark.parametrize("allowed", [2, 3])
def test_nothing_is_collected_beyond_the_permit(allowed: int) -> None:
    found = kept_to(replace(demo_hatchery().permit, egg_masses=allowed)).actions
    collected = [a.masses for a in found if a.kind == "collect"]
    assert bool(collected) == (allowed == 3)  # the plan itself keeps two
    assert all(masses <= allowed - 2 for masses in collected)


def test_nothing_is_collected_or_put_off_to_a_month_without_permit() -> None:
    found = kept_to(replace(demo_hatchery().permit, months=(5,))).actions
    days = [int(a.key.split(" ")[1 if a.kind == "collect" else 2]) for a in found
            if a.kind in {"collect", "shift the date"}]  # fmt: skip
    assert days
    assert {on(day).month for day in days} == {5}


def test_the_genetics_rule_is_not_broken_to_save_work() -> None:
    place = demo_hatchery()
    rule = replace(place.genetics, min_masses=2)
    found = kept_to(place.permit, genetics=rule).actions
    assert "leave out" not in {a.kind for a in found}


def in_tanks(season: Known) -> Room:
    """The room of a season in a few of its futures."""
    chosen = np.arange(100, dtype=np.intp)
    return Room(season, some(season.standing, chosen), hours, Streams(1))


def test_a_tank_is_thinned_only_into_a_tank_that_is_free() -> None:
    season = crowded(1, 100)
    assert {c.key for c in thinned(in_tanks(season))} == {"thin 27A 0 into 0", "thin 27A 0 into 1"}
    place = season.basis.plan.hatchery
    one = replace(place, larval_tanks=tuple(replace(t, count=1) for t in place.larval_tanks))
    season = replace(season, basis=replace(season.basis, plan=replace(season.basis.plan,
                                                                     hatchery=one)))  # fmt: skip
    assert {c.key for c in thinned(in_tanks(season))} == {"thin 27A 0 into 1"}
    fed = replace(one, algae_dry_g_per_day=0.0)
    season = replace(season, basis=replace(season.basis, plan=replace(season.basis.plan,
                                                                     hatchery=fed)))  # fmt: skip
    assert list(thinned(in_tanks(season))) == []


def test_thinning_loses_no_larva_and_its_sentence_says_what_happens_otherwise() -> None:
    room = in_tanks(crowded(1, 100))
    for candidate in thinned(room):
        assert candidate.season.alive.sum(axis=0) == pytest.approx(room.now.alive.sum(axis=0))
        assert "on 14 Apr 2027 all above 50 per litre would be let go" in candidate.sentence


def test_waiting_loses_nobody_to_the_end_of_the_tank_days() -> None:
    room = in_tanks(crowded(1, 100))
    (longer,) = waited(room)
    more = totals(longer.season, room.rests_on, onward(longer.season, room.rests_on))
    assert more.sum() >= 0.99 * room.ready.sum()


def test_sentences_name_days_and_not_numbers_of_days() -> None:
    told = [action.sentence for season in SEASONS for action in helps(season).actions]
    assert not [said for said in told if "_" in said or " day " in said]
    collect = next(a for a in helps("few").actions if a.kind == "collect")
    assert f"{on(11).day} Apr {FIRST.year}" in collect.sentence


def test_knowing_is_worth_nothing_where_it_changes_nothing() -> None:
    rng = np.random.default_rng(1)
    signal = rng.standard_normal(4000)
    same = np.stack([np.full(4000, 0.5), np.full(4000, 0.3)])
    assert worth_of_knowing(same, signal, rng)[0] == pytest.approx(0.0)
    # the better of x and -x is worth the mean of |x|, which is the square root of 2/pi
    gain, error = worth_of_knowing(np.stack([signal, -signal]), signal, rng)
    assert gain == pytest.approx(np.sqrt(2 / np.pi), abs=4 * error)
