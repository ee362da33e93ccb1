"""A second season is forecast better with what the first one taught, over invented hatcheries."""

import os
from dataclasses import replace

import numpy as np
import pytest

from protoconch.season.outlook.basis import Basis, own_counting
from protoconch.season.outlook.invented import Habits, invented_log
from protoconch.season.outlook.own_numbers import own_numbers
from protoconch.season.outlook.scoring import crps, total_ahead
from protoconch.season.outlook.season_said import book, season_said
from protoconch.season.outlook.update import updated
from protoconch.sources.values import SourcedValue
from tests.season.outlook.seasons import ASSUMED, CONCH, COUNTING, on, plan, small

FULL = os.environ.get("PROTOCONCH_FULL_CALIBRATION") == "1"
HATCHERIES = 200 if FULL else 10
FAR = 1.2
"""Standard deviations by which survival and growth are off the book's in the quick form."""
pytestmark = pytest.mark.timeout(7200 if FULL else 300)
PECULIAR = 0.25
"""Share of the variance of a hatchery's numbers that is peculiar to the season."""
BOOK = book(CONCH, plan().hatchery, ASSUMED, COUNTING)
HABITS = Habits(losses=True)
THRIVING = [i for i, name in enumerate(small().site.names)
            if name.endswith(".survival") or name == "variation.growth_site"]  # fmt: skip


def with_own(of: Basis, own: dict[str, SourcedValue]) -> Basis:
    """A basis in which the hatchery's own numbers stand before the book's."""
    uncertain = {name: own.get(v.name, v) for name, v in of.beliefs.uncertain.items()}
    here = replace(of.plan.hatchery, own_values=own)
    measures = replace(of.measures, counting=own_counting(COUNTING, here))
    return replace(of, measures=measures).with_beliefs(replace(of.beliefs, uncertain=uncertain))


def second_seasons(hatcheries: int, each: int) -> np.ndarray:
    """Scores of outlooks before second seasons, without and with the first, (hatcheries, 2).

    The site's numbers are drawn from the book, three quarters of their variance the hatchery's
    own and one quarter the season's; in the quick form animals live and grow far worse than the
    book's in one hatchery and far better in the next. each: second seasons of each hatchery.
    """
    basis, scores = small((4, 18), 1, 400), []
    size, peculiar = len(basis.site.names), np.sqrt(PECULIAR)
    without = total_ahead(basis, updated(basis, (), on(0), 2, particles=1200))
    for hatchery in range(hatcheries):
        rng = np.random.default_rng([31, hatchery])
        own = np.sqrt(1 - PECULIAR) * rng.standard_normal(size)
        if not FULL:
            own[THRIVING] = FAR * (-1) ** hatchery
        log, _ = invented_log(basis, rng, 300, HABITS, own + peculiar * rng.standard_normal(size))
        said = season_said(BOOK, basis, updated(basis, log, on(300), 1, particles=300))
        taught = with_own(basis, {n.value.name: n.value for n in own_numbers(BOOK, [said])})
        with_first = total_ahead(taught, updated(taught, (), on(0), 2, particles=1200))
        came = []
        for _ in range(each):
            site = own + peculiar * rng.standard_normal(size)
            _, truth = invented_log(basis, rng, 400, replace(HABITS, read_water=False), site)
            came.append(sum(truth.ready.values()))
        scores.append([np.mean([crps(told, n) for n in came]) for told in (without, with_first)])
    return np.array(scores)


def test_on_average_the_second_season_is_forecast_better_with_the_first_than_without() -> None:
    score = second_seasons(HATCHERIES, 6)
    without, with_first = score.mean(axis=0)
    gain = score[:, 0] - score[:, 1]
    error = gain.std() / np.sqrt(gain.size)
    print(
        f"{HATCHERIES} hatcheries: CRPS before the second season {without:.0f} without the "
        f"first, {with_first:.0f} with it, {gain.mean():.0f} less (error {error:.0f})"
    )
    assert gain.mean() > 2 * error
