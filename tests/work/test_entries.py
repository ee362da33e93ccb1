"""What the crew writes for a line of the work list."""

import pytest

from protoconch.errors import BadInput
from protoconch.hatchery.vessels import vessels
from protoconch.log.reading.entries import read_entry
from protoconch.work.entries.asked import Asked, blank, filled
from protoconch.work.entries.of_task import ways
from tests.work.made_up_plan import Shape, made_up_plan
from tests.work.written import Written, on

PLAN = made_up_plan(Shape(tanks=(("large", 1, 400.0),)))
INDUCE = (PLAN.batches[0].dates.induce - on(0)).days
TYPED = {"number": 0.5, "whole": 3, "text": "words", "choice": ""}


def log_until_the_nursery():
    log = Written(PLAN).stocked(4)
    log.add(INDUCE, "counted", "large tank 1", animals=4000)
    log.add(INDUCE, "moved", "large tank 1", 9, to=["tray 1", "tray 2"])
    return log.add(INDUCE + 30, "moved", "tray 1", to=["raceway 1"])


def lines():
    """One line of every kind that this season meets, with the state on its day."""
    found = {}
    eggs = Written(PLAN).add(-1, "note", "", text="the season begins")
    for log, days in ((eggs, range(2)), (Written(PLAN).stocked(4), range(4, INDUCE + 1)),
                      (log_until_the_nursery(), range(INDUCE + 1, INDUCE + 45)),
                      (log_until_the_nursery(), (*range(95, 200, 5), 349, 363))):  # fmt: skip
        for day in days:
            for task in log.tasks(day):
                found.setdefault(task.kind, (task, log.state))
    return found


LINES = lines()


def typed(asked):
    """Something in every box that has to be filled."""
    given = {}
    for box in asked.fields:
        if box.needed and box.value is None:
            value = box.choices[0] if box.choices else TYPED[box.sort]
            given[box.name] = [value] * (box.times or 4) if box.times != 1 else value
    return given


@pytest.mark.parametrize("kind", sorted(LINES))
def test_every_way_of_every_line_gives_entries_that_the_log_takes(kind):
    task, state = LINES[kind]
    known = {vessel.name: vessel for vessel in vessels(PLAN.hatchery)}
    offered = ways(task, state, PLAN.hatchery)
    assert offered[-1].words == "not done"
    for way in offered:
        for asked in way.asked:
            for where in asked.places or (asked.where,):
                raw = {"id": "1" * 32, "kind": asked.kind, "who": "crew A", "task": task.key,
                       "happened": "2027-04-09T08:00-05:00", "arrived": "2027-04-09T08:00-05:00",
                       "where": where, "payload": filled(asked, typed(asked))}  # fmt: skip
                assert read_entry(raw, known).task == task.key


def test_the_season_meets_nearly_every_kind_of_line():
    assert len(LINES) >= 19, sorted(LINES)


def touches(kind):
    task, state = LINES[kind]
    return sum(asked.touches for asked in ways(task, state, PLAN.hatchery)[0].asked)


@pytest.mark.parametrize("kind", ["feed", "change water", "feed pellets", "tray care", "siphon"])
def test_care_as_the_line_says_it_needs_no_typing(kind):
    assert touches(kind) == 0


def test_a_count_is_its_five_aliquots_and_a_length_one_box():
    assert (touches("count"), touches("measure")) == (5, 1)


def test_food_is_prefilled_with_the_litres_of_the_line():
    task, state = LINES["feed"]
    asked = ways(task, state, PLAN.hatchery)[0].asked[0]
    litres = [w.result for w in task.also if w.unit == "L"]
    assert [food["litres"] for food in asked.prefilled["foods"]] == pytest.approx(litres, abs=1e-3)


def test_lengths_typed_in_micrometres_are_logged_in_millimetres():
    task, state = LINES["measure"]
    asked = ways(task, state, PLAN.hatchery)[0].asked[0]
    assert filled(asked, {"lengths_mm": [350, "410"]})["lengths_mm"] == pytest.approx([0.35, 0.41])


def test_litres_put_right_by_hand_go_into_the_entry():
    task, state = LINES["feed"]
    asked = ways(task, state, PLAN.hatchery)[0].asked[0]
    assert filled(asked, {"foods.0.litres": "0.75"})["foods"][0]["litres"] == 0.75
    assert filled(asked, {})["foods"] == asked.prefilled["foods"]


def test_an_empty_box_and_a_wrong_one_are_told_together():
    boxes = (blank("thinned", name, sort="whole") for name in ("kept", "removed"))
    asked = Asked("thinned", "large tank 1", {}, tuple(boxes))
    with pytest.raises(BadInput) as told:
        filled(asked, {"removed": "2.5"})
    assert str(told.value).splitlines() == [
        "The number kept is still empty.",
        "The number taken out is 2.5; it must be a whole number.",
    ]


def test_an_animal_cannot_be_counted_in_a_half():
    asked = Asked("counted", "tray 1", {}, (blank("counted", "animals", sort="whole"),))
    with pytest.raises(BadInput, match="whole number"):
        filled(asked, {"animals": "12.5"})
