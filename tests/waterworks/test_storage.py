"""Stored seawater: how long it lasts, and by when to fill."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.errors import BadInput
from protoconch.waterworks.hydraulics.pipes import pipe_size
from protoconch.waterworks.storage.filling import (
    checklist,
    first_flush_l,
    reasons_not_to_fill,
)
from protoconch.waterworks.storage.reservoir import (
    Store,
    level_forecast,
    next_fill,
    until_fill,
    usable_l,
)

FIRST = date(2027, 6, 1)
DAYS = [FIRST + timedelta(days=i) for i in range(28)]
STORE = Store(18_000, 12_000, 20, 0.2, 0.1)
USE = dict.fromkeys(DAYS, 700.0)


def test_a_store_of_twenty_cubic_metres_lasts_a_month_at_600_litres() -> None:
    """20 m³ with a tenth dead, 600 L a day: 30 days; filled at 20 US gal/min in 4.4 hours."""
    found = until_fill(usable_l(20_000, 0.1), 600, 7, 2)
    assert found.days_left == pytest.approx(30)
    assert found.low_point_l == pytest.approx(18_000 - 600 * 21)
    assert found.shortfall_l == 0
    assert pytest.approx(4.40, abs=0.01) == 20_000 / (20 * 3.785411784) / 60


@given(st.floats(0, 5e4), st.floats(1, 5e3), st.floats(1, 30), st.integers(0, 5))
def test_what_is_left_and_what_lacks_make_up_the_balance(
    level: float, use: float, interval: float, missed: int
) -> None:
    found = until_fill(level, use, interval, missed)
    drawn = use * interval * (1 + missed)
    assert found.low_point_l - found.shortfall_l == pytest.approx(level - drawn, abs=1e-6)
    assert min(found.low_point_l, found.shortfall_l) == 0


def test_water_is_conserved_day_by_day() -> None:
    levels = level_forecast(STORE, USE, {DAYS[5]: 3_000.0}, FIRST, 10)
    assert levels[4].middle_l == pytest.approx(12_000 - 5 * 720)
    assert levels[9].middle_l == pytest.approx(12_000 - 10 * 720 + 3_000)
    assert all(day.low_l <= day.middle_l <= day.high_l for day in levels)


def test_doubt_grows_with_time_and_a_fill_that_runs_over_ends_it() -> None:
    plain = level_forecast(STORE, USE, {}, FIRST, 10)
    widths = [day.high_l - day.low_l for day in plain]
    assert widths == sorted(widths)
    filled = level_forecast(STORE, USE, {DAYS[5]: 18_000.0}, FIRST, 10)
    assert filled[5].middle_l == pytest.approx(18_000 - 720)
    assert filled[5].high_l - filled[5].low_l < plain[5].high_l - plain[5].low_l


def test_a_tenth_of_futures_lies_below_the_low_line() -> None:
    """Against 20,000 drawn futures of use with habit and chance."""
    rng = np.random.default_rng(5)
    habit = 1 + STORE.bias * rng.standard_normal(20_000)
    chance = STORE.spread * rng.standard_normal((8, 20_000))
    level = STORE.level_l - 8 * 20 - (700 * (habit + chance)).sum(axis=0)
    day = level_forecast(STORE, USE, {}, FIRST, 8)[-1]
    assert np.mean(level < day.low_l) == pytest.approx(0.1, abs=0.01)
    assert np.mean(level > day.high_l) == pytest.approx(0.1, abs=0.01)


def test_the_fill_comes_earlier_for_a_larger_reserve_more_missed_chances_or_more_use() -> None:
    def by(reserve: float = 3000, missed: int = 1, use: float = 700) -> date:
        found = next_fill(
            STORE, dict.fromkeys(DAYS, use), FIRST, reserve_l=reserve, interval_days=3,
            missed_fills=missed, pump_l_min=75,
        )  # fmt: skip
        assert found.by is not None
        return found.by

    assert by(reserve=6000) < by()
    assert by(missed=2) < by()
    assert by(use=900) < by()


def test_missed_chances_do_not_eat_the_reserve_in_nine_cases_of_ten() -> None:
    found = next_fill(STORE, USE, FIRST, reserve_l=3000, interval_days=3, missed_fills=2,
                      pump_l_min=75)  # fmt: skip
    assert found.by is not None
    late = found.by + timedelta(days=6)
    levels = {day.day: day for day in level_forecast(STORE, USE, {}, FIRST, 28)}
    assert levels[late - timedelta(days=1)].low_l >= 3000 > levels[late].low_l
    assert found.litres == pytest.approx(18_000 - levels[found.by - timedelta(days=1)].middle_l)
    assert found.pump_hours == pytest.approx(found.litres / 75 / 60)


def test_a_fill_that_is_late_says_so_and_an_idle_pump_has_no_hours() -> None:
    low = Store(18_000, 3_100, 20, 0.2, 0.1)
    found = next_fill(low, USE, FIRST, reserve_l=3000, interval_days=3, missed_fills=2,
                      pump_l_min=0)  # fmt: skip
    assert (found.by, found.overdue, found.pump_hours) == (FIRST, True, None)
    idle = next_fill(Store(18_000, 12_000, 0, 0.2, 0.1), {}, FIRST, reserve_l=0, interval_days=3,
                     missed_fills=0, pump_l_min=75)  # fmt: skip
    assert idle.by is None


def test_before_a_fill_the_water_and_the_sky_are_looked_at() -> None:
    assert reasons_not_to_fill(35, 28) == ()
    assert "salinity is 28" in reasons_not_to_fill(28, 28)[0]
    assert "temperature is 33 °C" in reasons_not_to_fill(35, 33)[0]
    assert "Heavy rain fell 10 h ago" in reasons_not_to_fill(35, 28, 10)[0]
    assert reasons_not_to_fill(35, 28, 100) == ()
    assert any("tide" in line for line in checklist())
    line = pipe_size("pvc-sch40", 2)
    assert first_flush_l(line, 35) == pytest.approx(3 * line.area_m2 * 35_000)


def test_a_store_that_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput, match="cannot be above full"):
        Store(100, 200, 0, 0.2, 0.1)
    with pytest.raises(BadInput, match="outside 0 to 18000"):
        next_fill(STORE, USE, FIRST, reserve_l=20_000, interval_days=3, missed_fills=0,
                  pump_l_min=75)  # fmt: skip
