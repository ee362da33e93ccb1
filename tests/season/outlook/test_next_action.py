"""Next actions: the one known best is found, on common futures, and nothing beyond a limit."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.reading import demo_hatchery
from protoconch.season.outlook.counting_again import worth_of_knowing
from protoconch.season.outlook.next_action import Choices, next_actions
from protoconch.season.outlook.outlook import Known, outlook
from protoconch.work import hours
from tests.season.outlook.seasons import ASSUMED, CONCH, COUNTING, on, plan

FUTURES = 300


def known(target: tuple[int, float], days: int, hatchery: Hatchery | None = None) -> Known:
    """The outlook of a small plan on the day before anything has begun."""
    made = plan((18, 46), 2, days, target, hatchery)
    return outlook(made, CONCH, (), on(2), 1, ASSUMED, COUNTING, particles=FUTURES)


@cache
def too_few() -> Choices:
    """Two batches for more animals than they give, with time to spare."""
    return next_actions(known((2200, 40.0), 500), hours, FUTURES)


@cache
def too_late() -> Choices:
    """Enough animals, but half of them a month too small."""
    return next_actions(known((500, 45.0), 283), hours, FUTURES)


@cache
def too_hungry() -> Choices:
    """Enough of everything but algae: in their last days the larvae get three quarters."""
    hungry = replace(demo_hatchery(), algae_dry_g_per_day=0.45)
    return next_actions(known((900, 40.0), 450, hungry), hours, FUTURES)


def test_where_animals_lack_more_eggs_or_tanks_come_first() -> None:
    assert too_few().actions[0].kind in {"collect", "stock"}
    assert too_few().actions[0].low > 0


def test_where_time_lacks_only_a_later_date_helps_much() -> None:
    gain = {a.kind: a.rank_gain for a in too_late().actions}
    assert max(gain, key=lambda kind: gain[kind]) == "shift the date"


def test_where_food_lacks_a_further_culture_helps_and_more_larvae_do_not_fit() -> None:
    kinds = [a.kind for a in too_hungry().actions]
    assert "extra culture" in kinds
    assert "stock" not in kinds
    culture = next(a for a in too_hungry().actions if a.kind == "extra culture")
    assert culture.more > 0


def test_common_futures_make_differences_sharper_than_separate_ones() -> None:
    ratios = [(a.independent_error / a.error) ** 2 for a in too_few().actions]
    assert np.median(ratios) > 3


@pytest.mark.parametrize("allowed", [4, 5])
def test_nothing_is_collected_beyond_the_permit(allowed: int) -> None:
    place = demo_hatchery()
    tight = replace(place, permit=replace(place.permit, egg_masses=allowed))
    found = next_actions(known((2200, 40.0), 500, tight), hours, FUTURES).actions
    collected = [a.masses for a in found if a.kind == "collect"]
    assert bool(collected) == (allowed == 5)  # the plan itself keeps four
    assert all(masses <= allowed - 4 for masses in collected)


def test_knowing_is_worth_nothing_where_it_changes_nothing() -> None:
    rng = np.random.default_rng(1)
    signal = rng.standard_normal(4000)
    same = np.stack([np.full(4000, 0.5), np.full(4000, 0.3)])
    assert worth_of_knowing(same, signal, rng)[0] == pytest.approx(0.0)
    # the better of x and -x is worth the mean of |x|, which is the square root of 2/pi
    gain, error = worth_of_knowing(np.stack([signal, -signal]), signal, rng)
    assert gain == pytest.approx(np.sqrt(2 / np.pi), abs=4 * error)
