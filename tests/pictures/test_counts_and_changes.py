"""Counts beside what is expected, a batch's story, and a season with something changed."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest

from protoconch.hatchery.vessels import vessels
from protoconch.log.state import Account, BatchState, Emptied, Holding, Sighting, State
from protoconch.pictures.batch_story import batch_numbers
from protoconch.pictures.changed import changed_ribbons
from protoconch.pictures.counted import (
    Expected,
    Seen,
    against,
    expected,
    lengths_seen,
    numbers_seen,
    season_counts,
)
from protoconch.pictures.lengths import batch_lengths
from protoconch.pictures.lettering import collisions
from protoconch.pictures.ribbons import season_ribbons
from protoconch.pictures.ribbons_phone import phone_ribbons
from protoconch.pictures.season_words import as_in_log
from tests.pictures.invented import FIRST_DAY, hatchery, season
from tests.pictures.markup import parsed

TODAY = date(2027, 8, 3)
ROOM = hatchery()
NAMES = {kind: [v.name for v in vessels(ROOM) if v.kind == kind]
         for kind in ("larval tank", "tray", "nursery tank")}  # fmt: skip
TANK, OTHER = NAMES["larval tank"][:2]
TRAYS = NAMES["tray"][:2]


def when(day):
    return datetime(2027, 5, 1, 12, tzinfo=UTC) + timedelta(days=day)


def sighting(day, where, value, kind="counted", spread=0.0):
    return Sighting(uuid4(), kind, when(day), where, "crew A", value, value - spread,
                    value + spread)  # fmt: skip


def known(*sightings, code="27A", held=()):
    return BatchState(code, (), None, None, None, None, Account(), tuple(held), tuple(sightings))


def numbers(batch, state=None):
    return [(one.value, one.vessels) for one in numbers_seen(batch, state or State(), ROOM)]


def test_counts_of_one_day_are_added_over_the_vessels():
    batch = known(sighting(1, TANK, 400.0), sighting(1, OTHER, 300.0))
    assert numbers(batch) == [(700.0, 2)]


def test_a_vessel_that_was_not_counted_again_keeps_its_last_count():
    batch = known(sighting(1, TANK, 400.0), sighting(1, OTHER, 300.0), sighting(4, TANK, 350.0))
    assert numbers(batch) == [(700.0, 2), (650.0, 2)]


def test_an_emptied_vessel_counts_no_more():
    batch = known(sighting(1, TANK, 400.0), sighting(1, OTHER, 300.0), sighting(6, OTHER, 280.0))
    state = State(emptied={TANK: Emptied("27A", uuid4(), when(5))})
    assert numbers(batch, state)[-1] == (280.0, 1)


def test_trays_counted_one_by_one_as_they_are_moved_are_added_up():
    batch = known(sighting(1, TRAYS[0], 400.0), sighting(3, TRAYS[1], 300.0),
                  sighting(8, OTHER, 650.0))  # fmt: skip
    left = {TRAYS[0]: Emptied("27A", uuid4(), when(2), (OTHER,)),
            TRAYS[1]: Emptied("27A", uuid4(), when(4), (OTHER,))}  # fmt: skip
    assert numbers(batch, State(emptied=left)) == [(400.0, 1), (700.0, 2), (650.0, 1)]
    died = {name: Emptied("27A", uuid4(), gone.when) for name, gone in left.items()}
    assert numbers(batch, State(emptied=died))[1] == (300.0, 1)


def test_animals_that_are_moved_twice_or_gone_are_not_added_to_those_counted_later():
    batch = known(
        sighting(1, TANK, 400.0), sighting(1, TRAYS[0], 50.0), sighting(8, TRAYS[0], 40.0)
    )
    first = Emptied("27A", uuid4(), when(2), (OTHER,))
    on = {TANK: first, OTHER: Emptied("27A", uuid4(), when(3), (TRAYS[1],))}
    held = known(*batch.sightings, held=(TANK,))  # so that the way alone leaves nothing out
    assert numbers(held, State(emptied=on))[-1] == (440.0, 2)
    gone = on | {OTHER: Emptied("27A", uuid4(), when(3))}
    assert numbers(held, State(emptied=gone))[-1] == (40.0, 1)
    again = known(*batch.sightings[:2], sighting(7, TRAYS[1], 390.0), held=(TANK,))
    assert numbers(again, State(emptied=on))[-1] == (440.0, 2)


def test_a_vessel_that_holds_another_batch_since_counts_no_more():
    batch = known(sighting(1, TANK, 400.0), sighting(1, OTHER, 300.0), sighting(6, OTHER, 280.0))
    taken = Holding(TANK, "27B", "veliger", when(5), 900, when(5))
    assert numbers(batch, State(holdings={TANK: taken}))[-1] == (280.0, 1)


def test_animals_that_went_on_to_trays_are_not_counted_in_their_old_tank_as_well():
    batch = known(sighting(1, TANK, 400.0), sighting(9, TRAYS[0], 50.0, "settled"),
                  sighting(9, TRAYS[1], 40.0, "settled"), held=TRAYS)  # fmt: skip
    assert numbers(batch)[-1] == (90.0, 2)


def test_limits_of_several_vessels_add_as_independent_errors():
    batch = known(sighting(1, TANK, 400.0, spread=30.0), sighting(1, OTHER, 300.0, spread=40.0))
    (seen,) = numbers_seen(batch, State(), ROOM)
    assert (seen.low, seen.high) == pytest.approx((650.0, 750.0))


def test_lengths_are_no_numbers_and_numbers_no_lengths():
    batch = known(sighting(1, TANK, 400.0), sighting(2, TANK, 0.4, "measured"))
    assert numbers(batch) == [(400.0, 1)]
    assert [one.value for one in lengths_seen(batch)] == [0.4]


@pytest.mark.parametrize(
    ("value", "spread", "said"),
    [
        (50.0, 0.0, "as expected"),
        (5.0, 2.0, "fewer than nine futures in ten"),
        (5.0, 20.0, "at the lower edge of what is expected"),
        (200.0, 10.0, "more than nine futures in ten"),
        (105.0, 20.0, "at the upper edge of what is expected"),
    ],
)
def test_a_count_is_told_beside_what_was_expected(value, spread, said):
    seen = Seen(TODAY, value, value - spread, value + spread)
    assert against(seen, Expected(10.0, 40.0, 100.0)) == said


def test_outside_the_season_nothing_is_expected():
    daily = season(3).forecast.batches[0]
    assert expected(daily, FIRST_DAY, FIRST_DAY - timedelta(days=1)) == Expected(0.0, 0.0, 0.0)


def counts(plan, number=5):
    return {
        batch.code: tuple(
            Seen(batch.dates.hatch + timedelta(days=4 * i), 9000.0 / (i + 1), 5000.0 / (i + 1),
                 14000.0 / (i + 1)) for i in range(number)
        ) for batch in plan.batches
    }  # fmt: skip


@pytest.mark.parametrize("batches", [1, 3, 6, 12])
def test_every_count_is_a_dot_in_the_pictures_for_a_desk_and_for_a_phone(batches):
    plan = as_in_log(season(batches))
    desk = season_ribbons(plan, TODAY, counts=counts(plan))
    phone = phone_ribbons(plan, TODAY, counts(plan))
    assert desk.svg.count('class="missed"') == 5 * batches
    assert sum(picture.svg.count('class="missed"') for picture in phone) == 5 * batches
    assert "counts are drawn" in desk.meaning
    for picture in (desk, *phone):
        parsed(picture.svg)
        assert collisions(picture.labels) == []


def test_without_counts_the_pictures_are_as_they_were():
    plan = season(3)
    assert season_ribbons(plan, TODAY).svg == season_ribbons(plan, TODAY, counts={}).svg


def test_batches_are_called_as_the_log_calls_them():
    plan = as_in_log(season(3))
    assert [batch.code for batch in plan.batches] == ["27A", "27B", "27C"]
    assert [daily.code for daily in plan.forecast.batches] == ["27A", "27B", "27C"]
    assert season_counts(season(3), State(batches={"27B": known(code="27B")})).keys() == {"27B"}


@pytest.mark.parametrize("today", [None, TODAY, FIRST_DAY, date(2030, 1, 1)])
@pytest.mark.parametrize("number", [0, 1, 9])
def test_a_batch_tells_its_numbers_beside_what_is_expected(today, number):
    plan = season(3)
    seen = counts(plan, number)["A"]
    drawn = batch_numbers(plan.batches[0], plan.forecast.batches[0], FIRST_DAY, seen, today)
    parsed(drawn.svg)
    assert collisions(drawn.labels) == []
    assert drawn.svg.count('class="missed"') == number
    assert drawn.meaning.endswith(".")
    assert ("counted yet" in drawn.meaning) == (number == 0)


def test_lengths_measured_are_dots_on_the_curve():
    plan = season(3)
    seen = (Seen(TODAY, 4.0, 3.5, 4.5),)
    drawn = batch_lengths(plan.batches[0], plan.forecast.batches[0], plan.forecast, plan.target,
                          "length", seen)  # fmt: skip
    assert drawn.svg.count('class="missed"') == 1


@pytest.mark.parametrize("batches", [1, 6, 12])
@pytest.mark.parametrize("later", [-90, 0, 200])
def test_a_changed_season_is_drawn_beside_the_plan(batches, later):
    plan = as_in_log(season(batches))
    halved = [replace(b, alive_p50=b.alive_p50 / 2) for b in plan.forecast.batches]
    released = [batch.released.p50 / 2 for batch in plan.batches]
    by = plan.target.by + timedelta(days=later)
    drawn = changed_ribbons(plan, halved, released, by)
    parsed(drawn.svg)
    assert collisions(drawn.labels) == []
    assert "loses most" in drawn.meaning
    assert drawn.svg.count('class="middle"') == batches
    for label in drawn.labels:
        left, _top, right, _bottom = label.box
        assert left >= -1
        assert right <= drawn.width + 1


def test_an_unchanged_season_says_so():
    plan = season(3)
    released = [batch.released.p50 for batch in plan.batches]
    drawn = changed_ribbons(plan, plan.forecast.batches, released, plan.target.by)
    assert drawn.meaning == "Every batch ends as in the plan."
