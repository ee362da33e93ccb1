"""The hours that a plan keeps free for a lot."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.errors import OutOfRange, UnknownName
from protoconch.sources.values import SourcedValue
from protoconch.work.hours import EVENTS, STAGES, daily_hours, event_hours
from protoconch.work.parameters import table_values

AMOUNTS = st.floats(0, 1e4)


def table(**changed):
    values = dict(table_values("work"))
    for name, number in changed.items():
        key = name.replace("__", ".")
        values[key] = SourcedValue(key, number, "min", "practice", "practice")
    return values


def test_every_time_of_the_work_table_is_in_minutes_and_says_where_it_comes_from():
    for value in table_values("work").values():
        assert value.unit == "min"
        assert value.source
        assert value.low <= value.value <= value.high


def test_a_day_in_the_incubator_goes_with_the_pieces():
    assert daily_hours("egg", 0, 0, 0, masses=6) == pytest.approx(6 * daily_hours("egg", 0, 0, 0))


def test_a_larval_tank_needs_its_feeding_and_the_longest_chore_that_takes_turns():
    made = table(feed__tank=10, water_change__tank=40, count__tank=15, measure__sample=30,
                 induce__test=30)  # fmt: skip
    assert daily_hours("veliger", 400, 4, 0, minutes=made) == pytest.approx(50 / 60)
    made = table(feed__tank=10, water_change__tank=40, count__tank=70)
    assert daily_hours("veliger", 400, 4, 0, minutes=made) == pytest.approx(80 / 60)


def test_trays_need_their_daily_look_and_a_third_of_a_sample():
    made = table(tray__day=5, measure__sample=30)
    assert daily_hours("post-larva", 400, 4, 0, minutes=made) == pytest.approx(30 / 60)


def test_the_nursery_needs_pellets_and_siphon_by_its_floor_and_one_sample_a_day():
    made = table(pellets__m2=1, siphon__m2=2, measure__sample=30)
    assert daily_hours("juvenile", 0, 0, 0.5, minutes=made) == pytest.approx(31.5 / 60)
    assert daily_hours("juvenile", 0, 0, 20, minutes=made) == pytest.approx(90 / 60)


@given(st.sampled_from(STAGES), AMOUNTS, st.integers(0, 100), AMOUNTS, st.integers(1, 50))
def test_more_to_look_after_never_takes_less_time(stage, litres, trays, m2, masses):
    less = daily_hours(stage, litres, trays, m2, masses=masses)
    assert 0 < less + 1e-12 < float("inf")
    assert daily_hours(stage, litres, trays + 1, m2 + 1, masses=masses + 1) >= less


@given(st.sampled_from(EVENTS), st.integers(0, 100), AMOUNTS)
def test_more_animals_or_trays_never_make_an_event_shorter(kind, trays, animals):
    less = event_hours(kind, 400, trays, animals)
    assert event_hours(kind, 400, trays + 1, animals + 100) >= less >= 0


@pytest.mark.parametrize("number", [-1, float("nan"), float("inf")])
def test_impossible_amounts_are_refused(number):
    with pytest.raises(OutOfRange):
        daily_hours("juvenile", 400, 4, number)
    with pytest.raises(OutOfRange):
        event_hours("release", 400, 4, number)


def test_unknown_stages_and_events_are_refused_with_what_is_known():
    with pytest.raises(UnknownName, match="veliger"):
        daily_hours("larva", 400, 4, 0)
    with pytest.raises(UnknownName, match="release"):
        event_hours("harvest", 400, 4, 0)
