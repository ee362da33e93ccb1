"""Cultures are lost: what runs on, what is made good, what a new schedule does."""

from dataclasses import replace

import numpy as np
import pytest

from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.judge import faults
from protoconch.algae.chain.plan import planned
from protoconch.algae.chain.policies import blind, replacing, replanning
from protoconch.algae.chain.running import carried_out, drawn_losses
from protoconch.algae.chain.sureness import dice_for, spare_ladder, sure_plan, sureness
from protoconch.algae.chain.what_if import culture_in, morning_of, replanned, what_binds
from protoconch.errors import BadInput
from tests.algae.chain.rooms import small_room

DAYS = 24


@pytest.fixture(scope="module")
def problem():
    room = small_room(counts=(5, 4), grow=(2, 2), use=(3, 6), drawn=True, clean=1, species=2)
    demand = np.zeros((2, DAYS))
    demand[:, 5:] = [[1.5], [1.0]]
    return Problem(room, demand)


@pytest.fixture(scope="module")
def plan(problem):
    return planned(problem)


@pytest.fixture(scope="module")
def dice(problem):
    return dice_for(problem.room, DAYS, 60, np.random.default_rng(3))


def test_a_season_without_losses_is_fed(problem, plan):
    assert plan.days_short == 0
    assert sureness(plan, np.ones((2, 2, 5, DAYS))).met == 1.0


def test_where_every_culture_dies_nothing_is_fed(plan):
    assert sureness(plan, np.zeros((1, 2, 5, DAYS))).unmet == 1.0


def test_the_same_dice_give_the_same_losses(problem, plan, dice):
    losses = drawn_losses(problem.room, dice[0])
    once, again = (carried_out(problem, blind(problem, plan.counts), losses) for _ in range(2))
    assert (once.short == again.short).all()
    assert once.lost == again.lost


def test_making_losses_good_feeds_more_days_than_blindness(plan, dice):
    good, bad = sureness(plan, dice), sureness(plan, dice, makes_good=False)
    assert good.met > bad.met
    assert good.unmet < bad.unmet


def test_spare_cultures_feed_more_days(problem, plan, dice):
    spared = replace(problem, room=replace(problem.room, spare={"small": 1, "large": 1}))
    assert sureness(planned(spared), dice).met > sureness(plan, dice).met


def test_the_fewest_spares_that_suffice_are_kept(problem, dice):
    easy = sure_plan(problem, 0.2, dice)
    assert easy.enough
    assert easy.spare == {}
    hard = sure_plan(problem, 1.0, dice)
    assert not hard.enough
    assert len(hard.tried) == len(spare_ladder(problem.room))
    assert hard.sureness.met == max(met for _, met in hard.tried)


def test_planning_anew_on_each_loss_feeds_more_than_blindness(problem, plan, dice):
    unmet = {"blind": 0.0, "anew": 0.0, "good": 0.0}
    for season in 0.3 * dice[:12]:  # losses three times as likely
        losses = drawn_losses(problem.room, season)
        anew = replanning(problem, plan.counts, 0.5, DAYS)
        unmet["blind"] += carried_out(problem, blind(problem, plan.counts), losses).unmet
        unmet["anew"] += carried_out(problem, anew, losses).unmet
        unmet["good"] += carried_out(problem, replacing(problem, plan.counts), losses).unmet
    assert unmet["anew"] < unmet["good"] < unmet["blind"]


@pytest.mark.parametrize("day", [3, 8, 15, DAYS - 1])
def test_a_loss_on_any_day_is_planned_around(plan, day):
    present = morning_of(plan, day)
    lost = max(present.cultures, key=lambda c: c.step)
    kind = ("small", "large")[lost.step]
    new = replanned(plan, day, lost=((kind, lost.vessel),))
    assert faults(new.plan) == ()
    assert new.after <= new.before + 1e-6


def test_nothing_lost_changes_nothing(plan):
    new = replanned(plan, 6)
    assert new.moved == 0
    assert new.after == new.before == 0


def test_a_vessel_that_breaks_is_not_used_again(plan):
    new = replanned(plan, 6, missing=(("large", 1),))
    assert all(x.vessel != ("large", 1) for x in new.plan.lives if x.started >= 0)
    assert faults(new.plan) == ()


def test_the_morning_is_what_the_schedule_says(plan):
    there = {(("small", "large")[c.step], c.vessel) for c in morning_of(plan, 9).cultures}
    said = {x.vessel for x in plan.lives
            if x.started < 9 and (x.ended is None or x.ended >= 9)}  # fmt: skip
    assert there == said
    assert culture_in(plan, next(iter(said)), 9).started < 9


def test_a_loss_that_cannot_be_is_refused_in_a_sentence(plan):
    with pytest.raises(BadInput, match=r"large 4 holds no culture"):
        replanned(plan, 1, lost=(("large", 4),))
    with pytest.raises(BadInput, match="outside the schedule"):
        replanned(plan, DAYS)
    with pytest.raises(BadInput, match="There is no large 9"):
        replanned(plan, 1, missing=(("large", 9),))
    with pytest.raises(BadInput, match="no vessel kind bucket"):
        replanned(plan, 1, missing=(("bucket", 1),))


def test_a_room_that_is_full_says_so(problem, plan):
    tight = replace(problem.room, kinds=(problem.room.kinds[0],
                    replace(problem.room.kinds[1], count=1)))  # fmt: skip
    bound = what_binds(planned(replace(problem, room=tight)))
    assert bound[0].kind == "large"
    assert bound[0].full_days > 0
    assert bound[0].one_more_min > 0
    assert all(entry.one_more_min == 0 for entry in what_binds(plan) if not entry.full_days)


def test_a_lost_culture_is_gone_and_its_vessel_is_cleaned_first(plan):
    day = 9
    lost = next(c for c in morning_of(plan, day).cultures if c.step == 1)
    new = replanned(plan, day, lost=(("large", lost.vessel),))
    mine = [x for x in new.plan.lives if x.vessel == ("large", lost.vessel)]
    # day 0 of the new schedule is the day of the loss; one whole day of cleaning follows it
    assert all(x.started >= 2 for x in mine)


def test_an_emptied_vessel_is_cleaned_before_it_is_used_again(problem, plan):
    for day in range(4, 12):
        before, after = (morning_of(plan, number) for number in (day, day + 1))
        here = {(c.step, c.vessel) for c in after.cultures}
        gone = {(c.step, c.vessel) for c in before.cultures} - here
        for step, vessel in gone:
            assert after.cleaning[problem.room.kinds[step].name, vessel] == day + 2
