"""The moment that a phone means, whatever its clock says."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from protoconch.operations.phone_clock import CLOSE, Moment, Noted, Unclear, when

ZONE = ZoneInfo("America/Nassau")
NOW = datetime(2027, 5, 20, 15, 0, tzinfo=UTC)
DAY = timedelta(days=1)
offsets = st.integers(-400 * 86400, 400 * 86400).map(lambda s: timedelta(seconds=s))
ages = st.integers(0, 3 * 86400).map(lambda s: timedelta(seconds=s))


def test_a_right_clock_is_believed_and_nothing_is_said():
    typed = NOW - timedelta(hours=30)
    found = when(Noted(typed, timedelta(seconds=3), typed - DAY, False), NOW, NOW, ZONE)
    assert found == Moment(typed)


def test_a_clock_that_is_a_day_ahead_is_put_right_and_that_is_said():
    typed = NOW - timedelta(hours=5) + DAY
    found = when(Noted(typed, DAY, NOW - DAY, False), NOW + DAY, NOW, ZONE)
    assert isinstance(found, Moment)
    assert found.happened == NOW - timedelta(hours=5)
    assert str(found.sentence) == (
        "The clock of this phone was 1 day ahead; the time was put right to Thursday 20 May, 06:00."
    )


def test_a_clock_that_is_a_day_behind_is_put_right():
    found = when(Noted(NOW - DAY, -DAY, NOW - DAY, False), NOW - DAY, NOW, ZONE)
    assert isinstance(found, Moment)
    assert found.happened == NOW
    assert "1 day behind" in found.sentence


def test_a_clock_that_was_set_right_on_the_way_home_is_asked_about():
    """Typed a day ago by a clock half a day behind; was it behind when it was typed?"""
    noted = Noted(NOW - timedelta(hours=20), -timedelta(hours=12), NOW - 2 * DAY, False)
    found = when(noted, NOW, NOW, ZONE)
    assert isinstance(found, Unclear)
    assert found.choices == (NOW - timedelta(hours=20), NOW - timedelta(hours=8))
    assert "Say when it happened" in found.sentence


def test_a_page_that_stayed_open_knows_that_its_clock_was_not_touched_before():
    noted = Noted(NOW - timedelta(hours=20), -timedelta(hours=12), NOW - 2 * DAY, True)
    found = when(noted, NOW, NOW, ZONE)
    assert isinstance(found, Moment)
    assert found.happened == NOW - timedelta(hours=8)


def test_an_empty_battery_that_set_the_clock_to_a_year_long_gone_is_asked_about():
    noted = Noted(datetime(2020, 1, 1, tzinfo=UTC), timedelta(0), NOW - DAY, False)
    found = when(noted, NOW, NOW, ZONE)
    assert isinstance(found, Unclear)
    assert found.choices == ()


def test_the_same_with_the_clock_still_wrong_is_put_right():
    long_gone = datetime(2020, 1, 1, tzinfo=UTC)
    noted = Noted(long_gone, timedelta(0), NOW - DAY, False)
    found = when(noted, long_gone + timedelta(hours=2), NOW, ZONE)
    assert isinstance(found, Moment)
    assert found.happened == NOW - timedelta(hours=2)


@given(offsets, ages, ages)
def test_a_steady_clock_gives_the_true_moment_however_wrong_it_is(ahead, age, before):
    true = NOW - age
    noted = Noted(true + ahead, ahead, true - before, False)
    found = when(noted, NOW + ahead, NOW, ZONE)
    assert isinstance(found, Moment)
    assert abs(found.happened - true) <= CLOSE
    assert bool(found.sentence) == (abs(ahead) > CLOSE)


@given(offsets, offsets, ages, ages, st.booleans())
def test_nothing_happens_before_the_last_meeting_or_after_now(then, now, age, before, steady):
    """Whatever the clock did: the moment found can be, or a person is asked."""
    true = NOW - age
    noted = Noted(true + then, then, true - before, steady)
    found = when(noted, NOW + now, NOW, ZONE)
    if isinstance(found, Moment):
        assert true - before - CLOSE <= found.happened <= NOW
    else:
        assert all(choice <= NOW for choice in found.choices)
        assert len(found.choices) != 1
