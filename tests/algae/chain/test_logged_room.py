"""What a logged culture is worth: ready when, usable until when, or to be emptied and why."""

from dataclasses import replace
from datetime import date, timedelta
from math import log

import pytest

from protoconch.algae.chain.description import VesselKind
from protoconch.algae.chain.lines import growth_in_room_per_d, usual_and_peak_per_ml
from protoconch.algae.chain.logged_room import PresentCulture, logged_room
from protoconch.algae.species import alga
from protoconch.errors import BadInput
from protoconch.hatchery.algae_vessels import demo_algae_room

ROOM = demo_algae_room().room
TODAY = date(2027, 5, 20)
STEPS = {line.species: line.steps for line in ROOM.lines}


def culture(days_old=3, **changes):
    given = {"species": "t-iso", "kind": "carboy", "number": 2, "litres": 20.0}
    return PresentCulture(**(given | {"inoculated": TODAY - timedelta(days=days_old)} | changes))


def usable(logged, **changes):
    found = logged_room(ROOM, TODAY, [logged], **changes)
    assert found.notes == ()
    return found.present.cultures[0]


def note(logged):
    found = logged_room(ROOM, TODAY, [logged])
    assert found.present.cultures == ()
    vessel = logged.vessel
    assert found.present.cleaning[vessel] == 1 + ROOM.kind(vessel[0]).clean_days
    return found.notes[0]


def test_an_uncounted_culture_is_ready_after_the_usual_days():
    step = STEPS["t-iso"][2]
    found = usable(culture(3))
    assert (found.started, found.ready) == (-3, step.grow_days - 3)
    assert found.last == found.ready + step.use_days - 1
    assert (found.step, found.vessel, found.left) == (2, 2, 1.0)


def test_a_counted_culture_is_ready_when_its_count_has_grown_to_the_usual_density():
    usual, peak = usual_and_peak_per_ml("t-iso", VesselKind("carboy", 20, 1))
    growth = growth_in_room_per_d(alga("t-iso"), 26.5)
    half = usual / 2
    days = log(usual * (peak - half) / (half * (peak - usual))) / growth
    late = usable(culture(5, per_ml=half, counted=TODAY - timedelta(days=1)))
    assert late.ready == -1 + -(-days // 1)
    early = usable(culture(3, per_ml=usual, counted=TODAY))
    assert early.ready == 0
    warm = usable(culture(5, per_ml=half, counted=TODAY), temperature_c=20.0)
    assert warm.ready > late.ready + 1


def test_a_culture_that_is_drawn_from_may_stand_below_the_usual_density():
    drawn = STEPS["t-iso"][2]
    assert drawn.drawn
    old = drawn.grow_days + 3
    found = usable(culture(old, per_ml=4e6, counted=TODAY))
    assert found.ready == -3
    assert usable(replace(culture(old), litres=14.0)).left == 1.0
    washed = usable(culture(old, per_ml=2.9e6, counted=TODAY - timedelta(days=1)))
    # half of the usual density: common practice, no source; here half of 6.9e6
    assert drawn.cells / drawn.taken_l / 1000 == pytest.approx(6.93e6, rel=1e-3)
    assert usable(culture(old, per_ml=3.5e6, counted=TODAY)).ready == -3
    assert washed.ready > 0


def test_a_diatom_culture_holds_what_volume_and_count_say():
    steps = STEPS["c-muelleri"]
    usual, _ = usual_and_peak_per_ml("c-muelleri", ROOM.kind("carboy"))
    mine = culture(steps[2].grow_days, species="c-muelleri", litres=10.0)
    assert usable(mine).left == pytest.approx(0.5)
    assert usable(replace(mine, per_ml=1.5 * usual, counted=TODAY)).left == pytest.approx(0.75)
    assert usable(replace(mine, per_ml=9 * usual, counted=TODAY)).left == 1.0


@pytest.mark.parametrize(
    ("logged", "said"),
    [
        (culture(lost=True), "carboy 2, Tisochrysis lutea (T-Iso): it is dead"),
        (culture(contaminated=True), "do not feed larvae from it"),
        (culture(60), "past its age limit"),
        (culture(3, per_ml=0.0, counted=TODAY), "too old before it is dense enough"),
        (culture(14, per_ml=1e4, counted=TODAY - timedelta(days=1)), "too old before"),
        (culture(7, kind="bottle", litres=1.0), "too little is left of it to be poured on"),
        (culture(9, species="c-muelleri", litres=0.0), "past its age limit"),
        (culture(5, species="c-muelleri", litres=0.0), "it is empty; clean it"),
    ],
)
def test_what_cannot_be_used_is_emptied_with_a_reason(logged, said):
    assert said in note(logged)


def test_dirty_and_missing_vessels_are_not_used_yet():
    found = logged_room(ROOM, TODAY, [], dirty=[("flask", 1)], missing=[("flask", 2)]).present
    assert found.cleaning == {("flask", 1): ROOM.kind("flask").clean_days}
    assert found.missing == {("flask", 2)}


@pytest.mark.parametrize(
    ("logged", "said"),
    [
        (culture(number=99), "There is no carboy 99"),
        (culture(kind="bucket"), "There is no bucket 2"),
        (culture(species="pavlova"), "no line through such vessels"),
        (culture(-1), "started or counted after"),
        (culture(3, per_ml=1e6), "a count without a day"),
        (culture(3, per_ml=1e6, counted=TODAY - timedelta(days=4)), "before it was started"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(logged, said):
    with pytest.raises(BadInput, match=said):
        logged_room(ROOM, TODAY, [logged])


def test_two_cultures_in_one_vessel_and_no_numbers_are_refused():
    with pytest.raises(BadInput, match="carboy 2 holds two cultures"):
        logged_room(ROOM, TODAY, [culture(), culture(5)])
    with pytest.raises(BadInput, match="Carboy 2 is nan L"):
        logged_room(ROOM, TODAY, [culture(litres=float("nan"))])
    with pytest.raises(BadInput, match="must be 0 or more"):
        logged_room(ROOM, TODAY, [culture(per_ml=-1.0, counted=TODAY)])
