"""Seasons run to their end: the outlook of each day is as sure as it should be of what comes."""

import os
from dataclasses import replace

import numpy as np
import pytest
from scipy.special import bdtr

from protoconch.hatchery.reading import demo_hatchery
from protoconch.season.outlook.basis import Basis, basis
from protoconch.season.outlook.calibration import RunOn, band_p, held, run_on
from tests.season.outlook.seasons import ASSUMED, CONCH, COUNTING, plan

FULL = os.environ.get("PROTOCONCH_FULL_CALIBRATION") == "1"
SEASONS = 1600 if FULL else 24
RANKED = 400
"""Seasons whose places are looked at; docs/calibration.md says what more of them show."""
DAYS = (20, 50, 120, 250) if FULL else (20, 120)
"""Larvae, trays, small juveniles in the nursery, large ones."""
pytestmark = pytest.mark.timeout(7200 if FULL else 300)


def roomy() -> Basis:
    """Two batches in a nursery that is never full: limits are proven elsewhere."""
    place = demo_hatchery()
    nursery = tuple(replace(tank, count=4 * tank.count) for tank in place.nursery)
    made = plan((4, 18), 1, hatchery=replace(place, nursery=nursery))
    return basis(made, CONCH, ASSUMED, COUNTING)


@pytest.fixture(scope="module")
def seasons() -> RunOn:
    found = run_on(roomy(), roomy(), DAYS, SEASONS, 21)
    for i, day in enumerate(DAYS):
        came, now = found.came[:, i], found.now[:, i]
        print(
            f"day {day}: at the date held {held(came).mean():.3f}, mean place "
            f"{came.mean() / 99:.3f}, band p {band_p(came, np.random.default_rng(0)):.4f}; alive "
            f"now held {held(now).mean():.3f}, mean place {now.mean() / 99:.3f}, band p "
            f"{band_p(now, np.random.default_rng(0)):.4f}; CRPS {found.crps[:, i].mean():.0f}"
        )
    return found


def bounds(seasons: int) -> tuple[float, float]:
    """Share of 90 % intervals that hold, between which all but one in 500 lie by chance."""
    if FULL:
        return 0.87, 0.93
    tails = bdtr(np.arange(seasons + 1), seasons, 0.9)
    return float((tails > 0.001).argmax() / seasons), 1.0


@pytest.mark.parametrize("what", ["came", "now"])
def test_intervals_hold_what_came_and_what_is_alive_at_their_stated_rate(
    seasons: RunOn, what: str
) -> None:
    least, most = bounds(SEASONS)
    for i, day in enumerate(DAYS):
        share = held(getattr(seasons, what)[:, i]).mean()
        assert least <= share <= most, (day, share)


@pytest.mark.parametrize("what", ["came", "now"])
def test_what_came_lies_anywhere_among_the_futures(seasons: RunOn, what: str) -> None:
    ps = [
        band_p(getattr(seasons, what)[:RANKED, i], np.random.default_rng(0))
        for i in range(len(DAYS))
    ]
    assert min(ps) * len(DAYS) > 0.005


def test_the_forecast_of_the_date_gets_sharper_as_entries_come(seasons: RunOn) -> None:
    score = seasons.crps.mean(axis=0)
    assert score[-1] < 0.6 * score[0]
    if FULL:
        assert (np.diff(score) < 0).all()
