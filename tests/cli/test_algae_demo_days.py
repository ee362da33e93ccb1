"""A crash on any day of the invented hatchery's season is planned around while one waits.

The benchmark does every day, with the spare cultures of the answer; here every sixth, so that each
weekday is met, and without spares, which is quicker to solve and harder on a crash.
"""

import time
from functools import partial

import numpy as np
import pytest

from protoconch.algae.chain.judge import faults
from protoconch.algae.chain.loss import after_loss
from protoconch.algae.chain.what_if import largest_culture
from protoconch.algae.species import alga
from protoconch.cli.plan import plan_for
from protoconch.cli.season_work import season_algae
from protoconch.season.plan.planning import plan_season
from protoconch.season.plan.study import Effort

SECONDS, EVERY = 5.0, 6


@pytest.fixture(scope="module")
def answer():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("protoconch.cli.season_work.SEASONS", 2)
        patch.setattr("protoconch.algae.chain.sureness.spare_ladder", lambda room: [{}])
        quick = partial(plan_season, effort=Effort(common=400, fresh=600, look=200))
        patch.setattr("protoconch.season.plan.planning.plan_season", quick)
        season = plan_for("demo", None, None, None, None)
        return season_algae(season, season.hatchery.algae_room)


def fed_too_little(answer, loss):
    """Days (from the loss on) and species of which less is fed than the tanks ask for."""
    plan = loss.replan.plan
    lines = plan.problem.room.lines
    asked = np.zeros_like(plan.fed)
    for food in answer.demand.tanks:
        day = food.day - loss.replan.day
        if 0 <= day < plan.problem.days:
            for key, grams in food.grams.items():
                row = [line.species for line in lines].index(key)
                asked[row, day] += grams * 1e12 / alga(key).number("ration_pg")
    rows, days = np.nonzero(plan.fed < asked * (1 - 1e-5))
    return {(int(day), lines[row].species) for row, day in zip(rows, days, strict=True)}


def test_a_crash_of_the_largest_culture_on_any_day_is_answered_in_seconds(answer):
    short_at_all = 0
    first = min(life.started for life in answer.plan.lives) + 1
    for day in range(first, answer.demand.days, EVERY):
        lost = largest_culture(answer.plan, day)
        start = time.process_time()
        loss = after_loss(answer, day, lost=(lost,))
        assert time.process_time() - start < SECONDS
        assert faults(loss.replan.plan) == ()
        assert loss.replan.after <= loss.replan.before + 1e-6
        told = {(n, spell.species) for spell in loss.spells
                for n in range(spell.first, spell.last + 1)}  # fmt: skip
        lacking = fed_too_little(answer, loss)
        assert lacking <= told
        assert bool(lacking) == bool(loss.spells)
        for spell, sentence in zip(loss.spells, loss.sentences[-len(loss.spells) :], strict=False):
            short_at_all += 1
            assert spell.tank.lower() in sentence.lower()
            assert f"{answer.day(day + spell.first):%B}" in sentence
            assert ("instead" in sentence) or ("buy" in sentence and "thin" in sentence)
    assert short_at_all > 0
