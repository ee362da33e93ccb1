"""What is in use in the room."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from protoconch.pictures.lanes import lane_across, lane_down
from protoconch.pictures.lettering import Lettering
from protoconch.pictures.room import fullest_days, lanes, room_meaning
from protoconch.pictures.scales import TimeScale
from tests.pictures.invented import DAYS, FIRST_DAY, season
from tests.pictures.markup import corners, parsed

PLAN = season(6)


def _with(**forecast):
    return replace(PLAN, forecast=replace(PLAN.forecast, **forecast))


def test_lanes_carry_the_forecast_and_what_there_is():
    found = {lane.name: lane for lane in lanes(PLAN)}
    assert found["Larval tanks"].available == 8
    assert found["Tray floor"].available == pytest.approx(10.8)
    assert found["Nursery floor"].available == 35
    assert found["Larval tanks"].peak[1] == PLAN.forecast.tanks_used.max()


def test_a_days_work_is_set_against_the_hours_of_its_own_weekday():
    work = np.zeros(DAYS)
    saturday = (5 - FIRST_DAY.weekday()) % 7 + 14
    work[saturday - 1], work[saturday], work[saturday + 4] = 3.0, 4.0, 4.5
    shown = fullest_days(_with(work_h=work))
    assert shown[saturday] == pytest.approx(100.0)  # 4 of 4 h
    assert shown[saturday + 4] == pytest.approx(50.0)  # 4.5 of 9 h, in the next week
    assert shown[0] == 0


def test_work_on_a_day_without_crew_fills_the_day():
    work = np.zeros(DAYS)
    sunday = (6 - FIRST_DAY.weekday()) % 7
    work[sunday] = 0.5
    idle = replace(PLAN.hatchery, crew_hours=(8, 8, 8, 8, 8, 8, 0))
    shown = fullest_days(replace(_with(work_h=work), hatchery=idle))
    assert shown[sunday] == 100.0


def test_the_sentence_names_what_is_nearly_full_and_when():
    full = np.zeros(DAYS)
    full[40:50] = 8
    day = FIRST_DAY + timedelta(days=40)
    sentence = room_meaning(_with(tanks_used=full))
    assert sentence.startswith("Fullest: larval tanks 8 of 8 in use on")
    assert f"{day.day} May 2027" in sentence


def test_a_floor_that_only_an_uncertain_future_fills_is_named_too():
    sentence = room_meaning(_with(nursery_m2_p90=np.full(DAYS, 34.0)))
    assert "up to 34 in one future of ten" in sentence


def test_a_room_that_is_half_full_is_not_said_to_be_full():
    half, none = np.full(DAYS, 4.0), np.zeros(DAYS)
    idle = {"trays_cm2": none, "algae_g": none, "work_h": none}
    floor = {f"nursery_m2_p{p}": none for p in (10, 50, 90)}
    sentence = room_meaning(_with(tanks_used=half, **idle, **floor))
    assert sentence.startswith("Nothing in the room is nearly full. The fullest: larval tanks 4 of")


def test_an_idle_room_says_so():
    assert room_meaning(season(0)) == "Nothing in the room is in use."


@pytest.mark.parametrize("share", [0.25, 1.0, 1.6])
def test_use_and_limit_are_drawn_to_one_scale(share):
    used = np.zeros(DAYS)
    used[50:60] = 8 * share
    lane = lanes(_with(tanks_used=used))[0]
    time = TimeScale(FIRST_DAY, FIRST_DAY + timedelta(days=DAYS), 0, 900)
    letters = Lettering(-50, 0, 1100, 300)
    parts = parsed(f"<g>{''.join(lane_across(lane, time, FIRST_DAY, 200, letters))}</g>")
    limit = next(200 - float(e.get("y1")) for e in parts if e.get("class") == "limit")
    curve = next(corners(e.get("d")) for e in parts if e.get("class") == "middle")
    assert max(200 - y for _, y in curve) == pytest.approx(share * limit, abs=0.3)
    assert f"most {8 * share:g}, 21 May" in [label.words for label in letters.labels]


def test_a_lane_runs_down_to_the_same_scale():
    used = np.full(DAYS, 4.0)
    lane = lanes(_with(tanks_used=used))[0]
    time = TimeScale(FIRST_DAY, FIRST_DAY + timedelta(days=DAYS), 50, 500)
    letters = Lettering(0, 0, 340, 600)
    parts = parsed(f"<g>{''.join(lane_down(lane, time, FIRST_DAY, (100, 160), letters))}</g>")
    limit = next(float(e.get("x1")) for e in parts if e.get("class") == "limit")
    curve = next(corners(e.get("d")) for e in parts if e.get("class") == "middle")
    assert curve[0][0] - 100 == pytest.approx((limit - 100) / 2, abs=0.2)
    assert curve[-1][1] > curve[0][1]
