"""Moving from event to event gives the same season as moving day by day."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.season.model.daily import Diary, run_daily
from protoconch.season.model.events import first_morning, run_events
from protoconch.season.model.simulate import ready, run
from tests.season.seasons import believed, drawn, layout

NUMBERS = ("stocked", "competent", "settled", "to_nursery", "present", "standard_days")
DAYS = ("hatch", "induce", "nursery")


def assert_same(one, other, days):
    """Both outcomes tell the same season; a day after the last morning is `never` in both."""
    for name in NUMBERS:
        np.testing.assert_allclose(
            getattr(one, name), getattr(other, name), rtol=1e-9, atol=1e-6, err_msg=name
        )
    for name in DAYS:
        early, late = getattr(one, name), getattr(other, name)
        assert np.array_equal(np.minimum(early, days + 1), np.minimum(late, days + 1)), name


@settings(max_examples=25)
@given(
    st.sets(st.integers(0, 50), min_size=1, max_size=4),
    st.integers(1, 3),
    st.integers(10, 320),
    st.integers(0, 10_000),
)
def test_both_agree_where_no_shared_limit_binds(starts, tanks, days, seed):
    season = layout(tuple(sorted(starts)), tanks, days)
    futures = drawn(season, 60, seed)
    assert_same(run_events(season, futures, believed()), run_daily(season, futures, believed()),
                days)  # fmt: skip


@settings(max_examples=20)
@given(
    st.sampled_from([2.0, 8.0, 25.0, 60.0]),
    st.sampled_from([0.6, 1.0, float("inf")]),
    st.integers(0, 10_000),
)
def test_the_mixed_run_equals_the_daily_run_where_limits_bind(nursery_m2, algae_g, seed):
    season = layout(days=260, nursery_m2=nursery_m2, algae_g=algae_g, size_days=170.0)
    futures = drawn(season, 80, seed)
    mixed, looked_at = run(season, futures, believed())
    exact = run_daily(season, futures, believed())
    assert_same(mixed, exact, season.days)
    np.testing.assert_allclose(ready(season, mixed, 170.0), ready(season, exact, 170.0), rtol=1e-9)
    touched = ((exact.graded > 0) | (exact.ahead > 0)).any(axis=0)
    assert looked_at[touched].all()


def test_no_future_in_which_a_limit_binds_is_overlooked():
    season = layout(days=260, nursery_m2=30.0, algae_g=0.85)
    free = layout(days=260)
    futures = drawn(season, 400)
    _, looked_at = run(season, futures, believed())
    diary = Diary()
    run_daily(free, futures, believed(), diary)
    crowded = np.max(diary.nursery_m2, axis=0) > 30.0
    hungry = np.max(diary.algae_g, axis=0) > 0.85
    assert (crowded | hungry).any()
    assert not (crowded | hungry).all()
    assert looked_at[crowded | hungry].all()


@pytest.mark.parametrize("from_day", [1, 12, 37, 120, 199])
def test_a_season_can_be_taken_up_on_any_morning(from_day):
    season = layout(days=200)
    futures = drawn(season, 50)
    whole = run_daily(season, futures, believed())
    assert_same(run_daily(season, futures, believed(), from_day=from_day), whole, season.days)


@settings(max_examples=50)
@given(st.integers(0, 30), st.floats(0.0, 50.0), st.integers(0, 1000))
def test_the_first_morning_is_the_first_on_which_the_clock_has_moved_on(since, needed, seed):
    rate = np.random.default_rng(seed).uniform(0.5, 1.5, (40, 7))
    clock = np.concatenate([np.zeros((1, 7)), np.cumsum(rate, axis=0)])
    found = first_morning(clock, np.full(7, since), np.full(7, needed))
    for column, day in enumerate(found):
        passed = clock[since:, column] - clock[since, column] >= needed - 1e-9
        expected = since + int(np.argmax(passed)) if passed.any() else 41
        assert day == expected
