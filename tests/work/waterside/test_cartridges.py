"""Cartridges by what was read of them."""

from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from protoconch.log.state import Part
from protoconch.waterworks.network.parts import Cartridge
from protoconch.waterworks.parameters import number
from protoconch.waterworks.treatment.cartridges import KPA_PER_PSI, stage, with_loading
from protoconch.waterworks.water import water_at
from protoconch.work.waterside.cartridges import cartridge_now
from protoconch.work.waterside.readings import Seen

BEGIN = datetime(2027, 7, 1, 8, tzinfo=UTC)
WATER = water_at(28.0, 35.0)
PART = Cartridge(name="5 µm stage", start="a", end="b", stage=stage(5.0, 8.0), rating_kpa=600.0)
FITTED = Part("5 µm stage", BEGIN, 5.0)
FLOW = 70.0
DAYS_TO_FULL = 8.0


def loaded_drop(day):
    """Kilopascals across a stage that loads evenly, as Hermia's law for shrinking area has it."""
    share = day / DAYS_TO_FULL * 0.9
    return with_loading(PART.stage, share).drop_kpa(FLOW, WATER)


def readings(days, drop=loaded_drop, flow=FLOW):
    def seen(what, value):
        return what, tuple(Seen(uuid4(), BEGIN + timedelta(days=d), value(d), "crew A")
                           for d in days)  # fmt: skip

    pairs = (seen("pressure before", lambda d: 50 + drop(d)), seen("pressure after", lambda _: 50),
             seen("flow", lambda _: flow))  # fmt: skip
    return {(PART.name, what): each for what, each in pairs}


def now(days):
    return BEGIN + timedelta(days=days)


def test_without_readings_the_drop_is_that_of_the_description():
    found = cartridge_now(PART, FLOW, WATER, {}, None, now(3))
    assert found.read is None
    assert found.drop_kpa == pytest.approx(PART.stage.drop_kpa(FLOW, WATER))
    assert found.due is None
    assert "log the next change" in found.why


def test_the_change_is_forecast_when_the_pressures_meet_the_limit():
    change = number("cartridges", "change_drop") * KPA_PER_PSI
    found = cartridge_now(PART, 1.0, WATER, readings((1, 2, 3, 4)), FITTED, now(4))
    due, early, late = found.due
    assert early <= due <= late
    day = (due - BEGIN).total_seconds() / 86400
    assert loaded_drop(day) == pytest.approx(change, rel=0.03)
    assert found.flow_l_min == FLOW


def test_no_forecast_goes_beyond_the_days_that_a_wet_cartridge_keeps():
    slow = readings((1, 2, 3), lambda day: loaded_drop(day / 6))
    found = cartridge_now(PART, FLOW, WATER, slow, FITTED, now(3))
    assert (
        found.due[0] == found.rots == BEGIN + timedelta(days=number("cartridges", "most_days_wet"))
    )


def test_readings_before_the_change_say_nothing_of_the_new_cartridge():
    old = Part(PART.name, BEGIN + timedelta(days=3.5))
    found = cartridge_now(PART, FLOW, WATER, readings((1, 2, 3, 4)), old, now(4))
    assert len(found.drops) == 1
    assert "2 more pairs" in found.why


@pytest.mark.parametrize(
    ("day", "drop", "word"),
    [(1, 30.0, "good"), (8, 30.0, "soon"), (1, 110.0, "change"), (11, 30.0, "change"),
     (1, 300.0, "danger")],
)  # fmt: skip
def test_a_stage_is_judged_by_its_pressure_and_by_its_days(day, drop, word):
    found = cartridge_now(PART, FLOW, WATER, readings((day,), lambda _: drop), FITTED, now(day))
    assert found.word == word


def test_a_stage_whose_pressure_falls_gets_the_reason_instead_of_a_day():
    falling = readings((1, 2, 3), lambda day: 40 - day)
    found = cartridge_now(PART, FLOW, WATER, falling, FITTED, now(3))
    assert found.due is None
    assert "does not rise" in found.why
