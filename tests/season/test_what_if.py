"""A planned season looked at with something changed."""

from dataclasses import fields, replace
from datetime import date, timedelta
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.animals.profiles import species
from protoconch.errors import BadInput, OutOfRange
from protoconch.hatchery.description import LarvalTank, Target
from protoconch.season.plan.planning import plan_season
from protoconch.season.what_if import Change, change_of, prepared, what_if
from protoconch.season.what_if.room import Places, refitted
from protoconch.season.what_if.running import ran
from protoconch.sources.reading import load_table
from protoconch.work import hours
from tests.season.seasons import LITTLE, small_hatchery

SNAIL = species("queen-conch")
ASKED = Target(300, 60.0, date(2028, 8, 31), 0.8)
QUICKLY = settings(max_examples=12)


@cache
def plan(**room):
    return plan_season(
        small_hatchery(**room), SNAIL, ASKED, hours, load_table("season"), 5,
        effort=LITTLE, compare=False,
    )  # fmt: skip


@cache
def ready(draws=200):
    return prepared(plan(), SNAIL, load_table("season"), draws)


def seen(**parts):
    return what_if(ready(), Change(**parts))


def test_the_plan_is_rebuilt_to_the_last_future():
    whole = prepared(plan(), SNAIL, load_table("season"), 10**6)
    assert whole.draws == plan().odds.draws
    assert np.allclose(np.sort(whole.base.total), plan().forecast.ready, rtol=1e-9)


def test_a_plan_with_two_kinds_of_tank_is_rebuilt_as_well():
    tanks = (LarvalTank("large", 1, 400.0), LarvalTank("small", 1, 200.0))
    mixed = plan(larval_tanks=tanks)
    whole = prepared(mixed, SNAIL, load_table("season"), 10**6)
    assert {tank.kind for batch in mixed.batches for tank in batch.tanks} == {"large", "small"}
    assert np.allclose(np.sort(whole.base.total), mixed.forecast.ready, rtol=1e-9)


def test_no_change_gives_the_odds_and_the_ribbons_of_the_plan_exactly():
    found = seen()
    assert found.odds.value == plan().odds.value
    assert found.by == 0.0
    assert (found.expected, found.p10, found.p90) == (plan().expected, plan().p10, plan().p90)
    for changed, planned in zip(found.batches, plan().forecast.batches, strict=True):
        for part in ("alive_p10", "alive_p50", "alive_p90", "stage"):
            assert np.array_equal(getattr(changed, part), getattr(planned, part))


def test_what_is_as_planned_already_is_no_change():
    room = plan().hatchery
    found = seen(
        animals=300, size_mm=60.0, by=ASKED.by, tanks={"tank": 2}, trays={"tray": 8},
        algae_g=room.algae_dry_g_per_day, nursery_m2=room.nursery_area_m2,
        egg_masses=room.permit.egg_masses, dying={"veliger": 1.0},
    )  # fmt: skip
    assert found.change.is_none
    assert found.odds.value == plan().odds.value


@QUICKLY
@given(st.integers(1, 900), st.integers(1, 900))
def test_fewer_animals_asked_never_lower_the_odds(one, other):
    few, many = sorted((one, other))
    assert seen(animals=few).odds.value >= seen(animals=many).odds.value


@QUICKLY
@given(st.floats(0.0, 3.0), st.floats(0.0, 3.0))
def test_more_food_never_lowers_the_odds(one, other):
    little, more = sorted((one, other))
    assert seen(algae_g=more).odds.value >= seen(algae_g=little).odds.value


@QUICKLY
@given(st.integers(-200, 0), st.integers(0, 60))
def test_a_later_date_never_lowers_the_odds_of_animals_that_still_grow(first, later):
    by = ASKED.by + timedelta(days=first)
    # beyond these days most have the size asked, and waiting longer only costs lives
    assert seen(by=by + timedelta(days=later)).odds.value >= seen(by=by).odds.value - 0.005


@QUICKLY
@given(
    st.sampled_from(["egg", "veliger", "settling", "post-larva", "juvenile"]),
    st.floats(0.2, 5.0), st.floats(0.2, 5.0),
)  # fmt: skip
def test_animals_that_die_faster_never_raise_the_odds(stage, one, other):
    slow, fast = sorted((one, other))
    kinder, harder = seen(dying={stage: slow}), seen(dying={stage: fast})
    assert kinder.odds.value >= harder.odds.value


@pytest.mark.parametrize("slow", [0.7, 1.0])
def test_animals_that_grow_faster_never_lower_the_odds(slow):
    assert seen(growing=1.5).odds.value >= seen(growing=slow).odds.value
    assert seen(growing=0.6).odds.value < plan().odds.value


def test_warmer_water_hurries_every_future_by_its_own_rule():
    warm = ran(ready().layout, ready().beliefs, ready().blocks, Change(warmer_c=1.0))
    drawn, outcome = warm.parts[0]
    before, planned = ready().base.parts[0]
    q10 = before.site.unknown["incubation.q10"]
    assert drawn.site.clock[-1] == pytest.approx(before.site.clock[-1] * q10**0.1)
    assert (outcome.hatch <= planned.hatch).all()
    assert (outcome.hatch < planned.hatch).any()


def test_a_batch_that_is_left_out_gives_nothing_and_takes_nothing():
    code = plan().batches[0].code
    found = seen(without=(code,))
    assert found.released[0] == 0.0
    assert not found.batches[0].alive_p90.any()
    assert found.released[1:] == pytest.approx(seen().released[1:], rel=0.2)
    assert any(code in part for part in found.told)
    assert found.gave == ()


@QUICKLY
@given(
    st.builds(
        Change,
        by=st.none() | st.integers(-120, 200).map(lambda d: ASKED.by + timedelta(days=d)),
        tanks=st.just({}) | st.integers(0, 4).map(lambda n: {"tank": n}),
        trays=st.just({}) | st.integers(0, 12).map(lambda n: {"tray": n}),
        more_tanks=st.integers(-2, 2),
        algae_g=st.none() | st.floats(0, 5),
        nursery_m2=st.none() | st.floats(0, 60),
        egg_masses=st.none() | st.integers(0, 30),
        dying=st.dictionaries(st.sampled_from(["egg", "veliger", "juvenile"]), st.floats(0.3, 3)),
    )
)
def test_animals_are_never_made_from_nothing(change):
    fit = refitted(ready(), change)
    layout = fit.layout
    run = ran(layout, ready().beliefs, ready().blocks, change)
    outcome = run.parts[0][1]
    if not layout.lots:
        assert not run.total.any()
        return
    for b, batch in enumerate(layout.batches):
        own = layout.lots_of(b)
        stocked = outcome.stocked[own].sum(axis=0)
        assert np.all(stocked <= batch.eggs + 1e-6)
        for before, after in (
            ("stocked", "competent"), ("competent", "settled"), ("settled", "to_nursery")
        ):  # fmt: skip
            falls = getattr(outcome, before)[own] - getattr(outcome, after)[own]
            assert np.all(falls >= -1e-6)
        rest = outcome.settled[own] - outcome.handed_over[own]
        settled = outcome.settled[own] > 0
        assert np.all(rest[settled] - outcome.present[own][settled] >= -1e-6)


@QUICKLY
@given(st.integers(0, 4), st.integers(0, 12), st.integers(-2, 2))
def test_no_changed_season_holds_more_tanks_or_trays_than_there_are(tanks, trays, more):
    fit = refitted(ready(), Change(tanks={"tank": tanks}, trays={"tray": trays}, more_tanks=more))
    layout = fit.layout
    per_tray = 3600.0 * ready().beliefs.larvae_per_cm2
    for day in range(layout.days + 1):
        held = [lot for lot in layout.lots
                if layout.batches[lot.batch].tank_from <= day
                <= layout.batches[lot.batch].tank_until]  # fmt: skip
        places = sum(lot.places for lot in layout.lots
                     if layout.batches[lot.batch].tray_from <= day
                     <= layout.batches[lot.batch].tray_until)  # fmt: skip
        assert len(held) <= tanks
        assert places <= trays * per_tray + 1e-6


def test_a_smaller_permit_takes_egg_masses_from_the_last_batches():
    found = seen(egg_masses=plan().egg_masses - 1)
    last = plan().batches[-1]
    assert [line for line in found.gave if f"Batch {last.code}" in line]
    assert found.released[-1] <= plan().batches[-1].released.p50 + 1e-9


def test_without_tanks_nothing_can_be_hoped_for():
    found = seen(tanks={"tank": 0})
    assert found.odds.value == 0.0
    assert (found.expected, found.p90) == (0.0, 0.0)
    assert not any(batch.alive_p90.any() for batch in found.batches)


def test_a_harder_life_is_told_in_plain_words():
    found = seen(dying={"veliger": 2.0})
    assert found.told == ("larvae die twice as fast",)
    assert "fall" in found.sentence
    assert found.error > 0


def test_the_difference_is_surer_than_two_seasons_drawn_apart():
    found = seen(dying={"veliger": 1.3})
    apart = np.hypot(plan().odds.error, np.sqrt(0.25 / found.draws))
    assert found.error < apart


def test_the_ribbons_of_a_later_date_go_on_to_it():
    later = ASKED.by + timedelta(days=90)
    found = seen(by=later)
    days = (later - plan().forecast.first_day).days
    assert {batch.alive_p50.size for batch in found.batches} == {days + 1}
    assert all(np.all(batch.alive_p10 <= batch.alive_p90 + 1e-9) for batch in found.batches)


def test_ribbons_read_off_the_events_are_near_those_of_the_daily_model():
    """Half the deaths among larvae: the daily kernel and the reading agree within a fifth."""
    from protoconch.season.model.daily import Diary, run_daily

    block = ready().blocks[0]
    layout = ready().layout
    changed = {"veliger": 0.5}
    diary = Diary()
    run_daily(layout, block.futures(layout, Change(dying=changed)), ready().beliefs, diary)
    daily = np.median(np.stack(diary.alive), axis=2)
    found = seen(dying=changed)
    for b, batch in enumerate(found.batches):
        both = (daily[:, b] > 50) & (batch.alive_p50 > 50)
        assert both.sum() > 100
        apart = np.abs(np.log(batch.alive_p50[both] / daily[both, b]))
        assert np.quantile(apart, 0.9) < np.log(1.25)


@pytest.mark.parametrize(
    ("parts", "kind"),
    [
        ({"animals": 0}, OutOfRange),
        ({"size_mm": 1000.0}, OutOfRange),
        ({"by": date(2020, 1, 1)}, BadInput),
        ({"by": date(2040, 1, 1)}, BadInput),
        ({"tanks": {"bucket": 3}}, BadInput),
        ({"dying": {"veliger": 50.0}}, OutOfRange),
        ({"dying": {"ghost": 2.0}}, BadInput),
        ({"algae_g": float("nan")}, OutOfRange),
        ({"growing": 30.0}, OutOfRange),
        ({"warmer_c": 12.0}, OutOfRange),
        ({"without": ("Z",)}, BadInput),
    ],
)
def test_a_change_that_makes_no_sense_is_refused_in_a_sentence(parts, kind):
    with pytest.raises(kind) as refused:
        seen(**parts)
    assert str(refused.value).endswith(".")


def test_a_plan_without_batches_cannot_be_changed():
    with pytest.raises(BadInput):
        prepared(replace(plan(), batches=()), SNAIL, load_table("season"))


def test_a_change_is_written_and_read_back():
    change = Change(animals=900, by=date(2028, 9, 30), tanks={"tank": 3}, dying={"egg": 0.5},
                    growing=1.5, warmer_c=-1.0, without=("A",))  # fmt: skip
    assert change_of(change.written()) == change
    assert Change().written() == {}
    assert {part.name for part in fields(Change)} >= set(change.written())
    with pytest.raises(BadInput):
        change_of({"moon": 1})


def test_a_place_is_free_again_the_morning_after_it_is_left():
    places = Places({"tank": 1})
    places.take("tank", 10, 20, 1)
    assert places.free("tank", 15, 30) == 0
    assert places.free("tank", 21, 30) == 1
    assert places.free("tank", 0, 9) == 1
    assert places.free("tank", 5, 25) == 0
