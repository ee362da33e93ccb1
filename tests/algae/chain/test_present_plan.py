"""Planned anew from the cultures that are there."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from protoconch.algae.chain.judge import faults
from protoconch.algae.chain.logged_room import PresentCulture
from protoconch.algae.chain.present_plan import present_plan
from protoconch.algae.chain.running import room_kind
from protoconch.algae.chain.what_if import morning_of
from protoconch.algae.demand import food_demand
from protoconch.errors import BadInput
from tests.pictures.algae_answer import small_answer

DAY = 28


def logged(answer, day):
    """The room as the schedule has it that morning, written down as a log would."""
    room, present = answer.plan.problem.room, morning_of(answer.plan, day)
    cultures = []
    for c in present.cultures:
        kind = room_kind(room, c)
        litres = room.kind(kind).litres * c.left
        cultures.append(PresentCulture(c.species, kind, c.vessel, answer.day(c.started), litres))
    return cultures, [vessel for vessel, free in present.cleaning.items() if free > day]


@pytest.mark.parametrize("day", [0, 6, 13, 20, DAY, 37, 44])
def test_a_room_that_is_as_planned_goes_on_as_planned(day):
    answer = small_answer()
    cultures, dirty = logged(answer, day)
    found = present_plan(answer, answer.day(day), cultures, dirty=dirty)
    assert found.remade == ()
    assert found.moved == 0
    assert faults(found.plan) == ()
    assert found.plan.days_short == 0
    assert "the room is as planned: the schedule goes on." in found.sentences[0]


def test_only_the_line_that_lost_a_culture_is_made_anew():
    answer = small_answer()
    cultures, dirty = logged(answer, DAY)
    place = next(i for i, c in enumerate(cultures)
                 if c.kind == "carboy" and c.species == "t-iso")  # fmt: skip
    cultures[place] = replace(cultures[place], lost=True)
    found = present_plan(answer, answer.day(DAY), cultures, dirty=dirty)
    assert found.remade == ("t-iso",)
    assert faults(found.plan) == ()
    vessel = cultures[place].vessel
    assert all(x.started >= 2 for x in found.plan.lives if x.vessel == vessel)
    assert len(found.notes) == 1
    assert found.sentences[0].startswith("Planned anew from 29 April for t-iso")


def test_more_food_is_planned_for():
    answer = small_answer()
    cultures, dirty = logged(answer, 10)
    more = [replace(f, grams={k: 1.5 * g for k, g in f.grams.items()}) for f in answer.demand.tanks]
    wanted = food_demand(more, answer.demand.species, answer.first, answer.demand.days)
    found = present_plan(answer, answer.day(10), cultures, dirty=dirty, demand=wanted)
    assert set(found.remade) == set(answer.demand.species)
    days = found.plan.problem.days
    assert np.allclose(found.plan.problem.demand, 1.5 * answer.demand.cells[:, 10 : 10 + days])
    assert faults(found.plan) == ()


def test_an_empty_room_starts_again_from_the_tubes():
    answer = small_answer()
    found = present_plan(answer, answer.day(DAY), [])
    assert set(found.remade) == set(answer.demand.species)
    assert faults(found.plan) == ()
    assert found.spells
    assert any("Tank 1 lacks" in sentence for sentence in found.sentences)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_whatever_was_logged_the_new_schedule_can_be_carried_out(data):
    answer = small_answer()
    day = data.draw(st.integers(1, 40))
    cultures, dirty = logged(answer, day)
    changed = []
    for c in cultures:
        way = data.draw(st.sampled_from(["same", "lost", "bad", "gone", "older", "thin", "half"]))
        today = answer.day(day)
        match way:
            case "lost":
                changed.append(replace(c, lost=True))
            case "bad":
                changed.append(replace(c, contaminated=True))
            case "older":
                changed.append(replace(c, inoculated=c.inoculated - timedelta(days=2)))
            case "thin":
                changed.append(replace(c, per_ml=2e5, counted=max(c.inoculated, today)))
            case "half":
                changed.append(replace(c, litres=c.litres / 2))
            case "same":
                changed.append(c)
    found = present_plan(answer, answer.day(day), changed, dirty=dirty)
    assert faults(found.plan) == ()
    unfit = {c.vessel for c in changed if c.lost or c.contaminated}
    assert all(x.vessel not in unfit or x.started >= 0 for x in found.plan.lives)
    assert ("No tank goes short." in found.sentences) == (not found.spells)
    assert set(found.notes) <= set(found.sentences)


def test_a_day_outside_the_schedule_and_other_species_are_refused():
    answer = small_answer()
    with pytest.raises(BadInput, match="outside the schedule"):
        present_plan(answer, answer.day(45), [])
    other = food_demand([], ("pavlova",), answer.first, 45)
    with pytest.raises(BadInput, match="the room grows t-iso"):
        present_plan(answer, answer.day(3), [], demand=other)
