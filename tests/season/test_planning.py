"""From a target to a plan: the answer, the offers where it is out of reach, and what limits it."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from protoconch.animals.profiles import species
from protoconch.errors import BadInput, OutOfRange
from protoconch.hatchery.description import LarvalTank, Target, Tray
from protoconch.season.plan.offers import round_down
from protoconch.season.plan.planning import plan_season
from protoconch.season.plan.study import Effort
from protoconch.season.plan.telling import code
from protoconch.season.plan.worth import NOTICEABLE
from protoconch.sources.reading import load_table
from protoconch.work import hours
from tests.season.seasons import TARGET, small_hatchery

QUICK = Effort(common=600, fresh=1500, look=400)


def planned(target=TARGET, *, compare=False, seed=1, today=None, **changes):
    """A plan for the small hatchery, with few draws."""
    return plan_season(
        small_hatchery(**changes), species("queen-conch"), target, hours, load_table("season"),
        seed, today=today, effort=QUICK, compare=compare,
    )  # fmt: skip


def test_a_modest_target_is_met_as_surely_as_asked():
    plan = planned(replace(TARGET, animals=40, confidence=0.5))
    assert plan.feasible
    assert plan.odds.value >= 0.5
    assert plan.odds.at_least <= plan.odds.value
    assert plan.offers == ()
    assert plan.p10 <= plan.expected <= plan.p90
    assert plan.expected == pytest.approx(sum(b.released.mean for b in plan.batches))
    assert plan.batches[0].stocked.mean > plan.batches[0].competent.mean
    assert plan.batches[0].settled.mean > plan.batches[0].to_nursery.mean


def test_the_same_seed_gives_the_same_answer_and_another_seed_its_own():
    one, same, other = (planned(replace(TARGET, animals=40, confidence=0.5), seed=seed)
                        for seed in (1, 1, 2))  # fmt: skip
    assert one.odds == same.odds
    assert np.array_equal(one.forecast.ready, same.forecast.ready)
    assert one.odds != other.odds


ROOMIER = {
    "larval_tanks": (LarvalTank("tank", 4, 300.0),),
    "trays": (Tray("tray", 20, 3600.0),),
    "last_day": date(2027, 6, 22),
}
TOO_MUCH = Target(1000, 70.0, date(2028, 7, 31), 0.7)


def test_an_impossible_target_gets_three_offers_that_hold():
    plan = planned(TOO_MUCH, compare=True, **ROOMIER)
    assert not plan.feasible
    kinds = {offer.kind: offer for offer in plan.offers}
    assert set(kinds) == {"fewer", "later", "less sure"}
    fewer, later, less = kinds["fewer"], kinds["later"], kinds["less sure"]
    assert fewer.target.animals < TOO_MUCH.animals
    assert fewer.odds.value >= TOO_MUCH.confidence
    assert later.target.by > TOO_MUCH.by
    assert later.odds.value >= TOO_MUCH.confidence
    assert less.target.animals == TOO_MUCH.animals
    assert less.odds.value < TOO_MUCH.confidence
    assert all(f"{offer.target.animals:,}" in offer.sentence for offer in plan.offers)


def test_an_offer_that_cannot_be_made_is_said():
    plan = planned(replace(TARGET, animals=5000), compare=True)
    assert {offer.kind for offer in plan.offers} <= {"fewer"}
    assert any("No date within 24 months makes 5,000 animals" in note for note in plan.notes)


def test_an_offer_taken_up_makes_a_feasible_plan():
    offer = planned(TOO_MUCH, compare=True, **ROOMIER).offers[0]
    assert planned(offer.target, **ROOMIER).feasible


def test_the_binding_limit_is_the_one_worth_most():
    plan = planned(replace(TARGET, animals=500), compare=True)
    worth = [limit.one_more for limit in plan.limits]
    assert worth == sorted(worth, reverse=True)
    if worth[0] >= NOTICEABLE:
        assert plan.binding_limit == plan.limits[0].name
    names = {limit.name for limit in plan.limits}
    assert {"time", "nursery floor", "egg masses", "algae", "crew hours"} <= names
    assert any(name.startswith("larval tanks") for name in names)
    assert all(limit.sentence.endswith(".") for limit in plan.limits)


def test_a_tank_more_on_short_algae_may_stay_empty_and_the_answer_says_so():
    plan = planned(replace(TARGET, animals=200), algae_dry_g_per_day=0.25, compare=True)
    told = " ".join(plan.notes)
    assert "same algae" in told
    assert "may stay empty" in told


def test_a_permit_too_narrow_for_the_genetics_rule_is_said():
    narrow = replace(small_hatchery().permit, egg_masses=2)
    plan = planned(replace(TARGET, animals=40, confidence=0.5), permit=narrow)
    assert plan.egg_masses <= 2
    assert any("genetics rule" in note for note in plan.notes)


def test_nothing_is_planned_before_today():
    plan = planned(replace(TARGET, animals=40, confidence=0.5), today=date(2027, 5, 9))
    assert all(batch.dates.collect >= date(2027, 5, 9) for batch in plan.batches)


@pytest.mark.parametrize("key", ["milk-conch", "fighting-conch", "west-indian-top-shell"])
def test_other_species_are_planned_and_their_gaps_told(key):
    animal = species(key)
    hatchery = small_hatchery(species=key, regime=animal.regimes[0])
    plan = plan_season(hatchery, animal, Target(50, 15.0, date(2028, 8, 31), 0.5), hours,
                       load_table("season"), 1, effort=QUICK, compare=False)  # fmt: skip
    assert plan.batches
    assert any("No source gives these numbers" in note for note in plan.notes)


def test_larvae_that_do_not_feed_ask_for_no_algae():
    animal = species("west-indian-top-shell")
    hatchery = small_hatchery(species=animal.key, regime=animal.regimes[0])
    plan = plan_season(hatchery, animal, Target(50, 15.0, date(2028, 8, 31), 0.5), hours,
                       load_table("season"), 1, effort=QUICK, compare=False)  # fmt: skip
    assert plan.forecast.algae_g.max() == 0.0
    stay = plan.batches[0].dates.induce - plan.batches[0].dates.hatch
    assert 3 <= stay.days <= 6


def refused(error, **changes):
    """The sentence with which a target is refused."""
    with pytest.raises(error) as caught:
        planned(replace(TARGET, **changes.pop("target", {})), **changes)
    return str(caught.value)


def test_targets_that_make_no_sense_are_refused_in_a_sentence():
    assert "1 to 1e+07" in refused(OutOfRange, target={"animals": 0})
    assert "mm" in refused(OutOfRange, target={"size_mm": 4000.0})
    assert "0.8" in refused(OutOfRange, target={"confidence": 1.5})
    assert "before the first collecting day" in refused(BadInput, target={"by": date(2020, 1, 1)})
    assert "has passed" in refused(BadInput, target={"by": date(2028, 1, 1)},
                                   today=date(2028, 2, 1))  # fmt: skip
    assert "too few for any animal" in refused(BadInput, target={"by": date(2027, 7, 1)})
    assert "permit's months" in refused(
        BadInput, permit=replace(small_hatchery().permit, months=(12,))
    )
    assert "season ended" in refused(BadInput, today=date(2027, 9, 1))


def test_batches_are_lettered():
    assert [code(n) for n in (0, 1, 25, 26, 27, 701, 702)] == [
        "A", "B", "Z", "AA", "AB", "ZZ", "AAA"]  # fmt: skip


def test_offers_are_rounded_down_to_two_digits():
    assert [round_down(x) for x in (0.4, 7.9, 42.6, 137.0, 1374.0, 98_765.0)] == [
        0, 7, 42, 130, 1300, 98_000]  # fmt: skip


def test_a_hatchery_with_no_room_at_all_is_planned_with_no_batch():
    plan = planned(larval_tanks=(LarvalTank("tank", 1, 300.0),), crew_hours=(0.1,) * 7)
    assert not plan.feasible
    assert plan.batches == ()
    assert plan.odds.value == 0.0
