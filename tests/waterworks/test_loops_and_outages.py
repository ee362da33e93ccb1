"""Recirculating loops over time, and what happens when the power is out."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from protoconch.errors import BadInput, UnknownName
from protoconch.seawater.oxygen import oxygen_saturation_mg_l
from protoconch.waterworks.description import LoopPlan
from protoconch.waterworks.loop_outlook import air_exchange_per_h, loop_outlook, new_seawater
from protoconch.waterworks.loops.course import (
    LoopWater,
    LoopWorking,
    filter_activity,
    loop_course,
    with_filter_stopped,
)
from protoconch.waterworks.loops.ripeness import RipeTest, challenge_dose_g, ripe, ripe_between
from protoconch.waterworks.loops.sizing import aerator_w, loop_size, steady_nitrogen_mg_l
from protoconch.waterworks.outage.order import StockedTank, in_order_of_need, keep_running_first
from protoconch.waterworks.outage.oxygen import (
    hours_to_limit,
    oxygen_use_mg_g_h,
    surface_reaeration_per_h,
)
from protoconch.waterworks.outage.power import Load, generator, starting_kva

SEA = LoopWater(0, 0, 0, 6.4, 2300, 2000, 27, 35)
RIPE = LoopWorking(2000, 6.44, 20, 322, 16.1, 16.1, None, 2.0, bicarbonate_g_day=77)


def nitrogen(course: object) -> np.ndarray:
    return sum(getattr(course, name) for name in ("ammonia_mg_l", "nitrite_mg_l", "nitrate_mg_l"))  # type: ignore[return-value]


@settings(max_examples=8)
@given(st.floats(0.2, 8), st.floats(1, 30), st.floats(1, 30), st.none() | st.floats(0, 40))
def test_nitrogen_is_conserved_in_a_loop_without_exchange(
    made: float, first: float, second: float, age: float | None
) -> None:
    working = replace(RIPE, ammonia_g_day=made, exchange_l_day=0, ammonia_per_day=first,
                      nitrite_per_day=second, filter_age_days=age,
                      bicarbonate_g_day=12 * made)  # fmt: skip
    course = loop_course(SEA, SEA, working, 12, points=7)
    assert nitrogen(course) == pytest.approx(made / 2 * course.days, abs=1e-5)


def test_a_ripe_loop_settles_where_its_balance_says() -> None:
    course = loop_course(SEA, SEA, RIPE, 80)
    expected = steady_nitrogen_mg_l(3.22, 16.1, 16.1, 0.161)
    found = (course.ammonia_mg_l[-1], course.nitrite_mg_l[-1], course.nitrate_mg_l[-1])
    assert found == pytest.approx(expected, rel=1e-3)
    assert course.oxygen_mg_l[-1] < oxygen_saturation_mg_l(27, 35)
    assert course.alkalinity_umol_kg[-1] == pytest.approx(2300, rel=0.02)


@pytest.mark.parametrize(("second", "oxygen_per_n"), [(0.0, 3.43), (500.0, 4.57)])
def test_the_filter_uses_the_oxygen_of_the_steps_it_takes(
    second: float, oxygen_per_n: float
) -> None:
    """Ebeling, Timmons & Bisogni 2006: 4.57 g for each g to nitrate, three quarters to nitrite."""
    course = loop_course(SEA, SEA, replace(RIPE, exchange_l_day=0, nitrite_per_day=second), 2)
    aired = 24 * 2.0 * (oxygen_saturation_mg_l(27, 35) - course.oxygen_mg_l[-1])
    assert aired == pytest.approx(10.0 + oxygen_per_n * 3.22, rel=0.005)


def test_a_young_filter_lets_ammonia_and_then_nitrite_rise() -> None:
    young = replace(RIPE, ammonia_g_day=1.0, exchange_l_day=0, filter_age_days=0,
                    bicarbonate_g_day=12)  # fmt: skip
    course = loop_course(SEA, SEA, young, 60)
    peak_a, peak_b = (int(np.argmax(y)) for y in (course.ammonia_mg_l, course.nitrite_mg_l))
    assert 0 < course.days[peak_a] < course.days[peak_b] < 45
    assert course.ammonia_mg_l[-1] < 0.1
    assert course.nitrite_mg_l[peak_b] > 10 * course.nitrite_mg_l[-1]


def test_without_bicarbonate_alkalinity_falls_and_ph_with_it() -> None:
    dosed = loop_course(SEA, SEA, replace(RIPE, exchange_l_day=0), 3)
    bare = loop_course(SEA, SEA, replace(RIPE, exchange_l_day=0, bicarbonate_g_day=0), 3)
    assert bare.alkalinity_umol_kg[-1] < dosed.alkalinity_umol_kg[-1]
    assert bare.ph[-1] < dosed.ph[-1]
    assert bare.aragonite[-1] < dosed.aragonite[-1]
    assert bare.unionised_mg_l[-1] < dosed.unionised_mg_l[-1]
    with pytest.raises(BadInput, match=r"used up after 4\.\d days; add bicarbonate"):
        loop_course(SEA, SEA, replace(RIPE, exchange_l_day=0, bicarbonate_g_day=0), 6)


def test_salt_builds_up_with_seawater_make_up_and_not_with_fresh() -> None:
    drying = replace(RIPE, evaporation_l_day=20.0)
    assert loop_course(SEA, SEA, drying, 30).salinity[-1] == pytest.approx(35, abs=1e-9)
    salty = loop_course(SEA, SEA, replace(drying, fresh_top_up=False), 60).salinity[-1]
    assert salty == pytest.approx(35 * (322 + 20) / 322, rel=1e-3)


def test_a_loop_drifts_to_the_temperature_of_its_room() -> None:
    leaky = replace(RIPE, exchange_l_day=0.0, loss_w_k=20.0, air_c=24.0)
    course = loop_course(SEA, SEA, leaky, 30)
    days = 1022.7 * 2 * 3998 / 20 / 86_400  # time in which the difference falls to 37 %
    assert course.temperature_c[-1] - 24 == pytest.approx(3 * np.exp(-30 / days), rel=0.01)
    warmed = loop_course(SEA, SEA, replace(leaky, heater_w=60.0), 30)
    assert warmed.temperature_c[-1] == pytest.approx(27, abs=0.01)


PLAN = LoopPlan("trays", 900, 60, 0.30, 28, 35, 0.2, 20, 18, 3600, 120, 30, 25)


def test_more_air_leaves_a_planned_loop_less_acid_and_richer_in_oxygen() -> None:
    weak, strong = (loop_outlook(replace(PLAN, aeration_w=watts)) for watts in (30, 120))
    assert strong.ripe.ph[-1] > weak.ripe.ph[-1] + 0.1
    assert strong.ripe.aragonite[-1] > weak.ripe.aragonite[-1]
    assert strong.ripe.oxygen_mg_l.min() > weak.ripe.oxygen_mg_l.min()
    assert air_exchange_per_h(replace(PLAN, aeration_w=60)) == 2 * air_exchange_per_h(PLAN)


def test_a_loop_started_today_peaks_where_a_ripe_one_stays_low() -> None:
    outlook = loop_outlook(PLAN)
    assert outlook.young.ammonia_mg_l.max() > 10 * outlook.ripe.ammonia_mg_l.max()
    assert outlook.ripe.alkalinity_umol_kg[-1] == pytest.approx(2300, rel=0.03)
    sea = new_seawater(PLAN)
    assert sea.oxygen_mg_l == pytest.approx(oxygen_saturation_mg_l(28, 35))
    made = 60 * 0.30 * 0.092
    settled = outlook.ripe
    total = settled.ammonia_mg_l[-1] + settled.nitrite_mg_l[-1] + settled.nitrate_mg_l[-1]
    assert total == pytest.approx(made * 1000 / 120, rel=0.01)


def test_a_dead_filter_lets_ammonia_run_up() -> None:
    dead = loop_course(SEA, SEA, with_filter_stopped(RIPE), 1)
    assert dead.ammonia_mg_l[-1] == pytest.approx(3.22, rel=0.1)
    assert filter_activity(None, 21, 3) == 1.0
    assert filter_activity(21, 21, 3) == 0.5
    assert filter_activity(0, 21, 3) < 0.01 < filter_activity(400, 21, 3)


def test_a_loop_that_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput, match="volume of the loop"):
        loop_course(SEA, SEA, replace(RIPE, volume_l=0), 5)
    with pytest.raises(BadInput, match="outside 0"):
        loop_course(SEA, SEA, replace(RIPE, oxygen_g_day=-1), 5)
    with pytest.raises(BadInput, match="cannot hold a limit"):
        loop_size(200, 0.35, 2000, ammonia_limit_mg_l=0.2, nitrate_limit_mg_l=2, nitrate_in_mg_l=3)
    with pytest.raises(BadInput, match="Air cannot hold"):
        aerator_w(100, 8.0, 28, 35)


def test_warm_full_water_needs_far_more_air_than_its_label_says() -> None:
    """27 °C at 5 mg/L gives 18 %, at 4 mg/L 30 % of what an aerator does under standard test."""
    standard = 1 / 0.45 / 24  # W for one gram a day at the rated efficiency
    assert standard / aerator_w(1, 5, 27, 35) == pytest.approx(0.18, abs=0.01)
    assert standard / aerator_w(1, 4, 27, 35) == pytest.approx(0.30, abs=0.01)


def test_ripeness_is_shown_by_a_test_and_not_by_the_calendar() -> None:
    assert ripe(RipeTest(0.05, 0.05))
    assert not ripe(RipeTest(0.05, 0.2))
    assert not ripe(RipeTest(0.1, 0.0))
    low, high = ripe_between(date(2027, 3, 1))
    assert (low, high) == (date(2027, 4, 12), date(2027, 4, 26))
    assert challenge_dose_g(14.007) == pytest.approx(53.491)


uses = st.floats(0.01, 5)


@given(uses, st.floats(0.01, 2), st.floats(4, 8), st.floats(0.5, 3.5))
def test_hours_of_oxygen_agree_with_the_equation_they_solve(
    use: float, k: float, start: float, limit: float
) -> None:
    found = hours_to_limit(use_mg_l_h=use, start_mg_l=start, saturation_mg_l=6.4,
                           reaeration_per_h=k, limit_mg_l=limit)  # fmt: skip
    floor = 6.4 - use / k
    if found is None:
        assert floor >= limit
        return
    level = floor + (start - floor) * np.exp(-k * found)
    assert level == pytest.approx(limit, abs=1e-6)


def test_hours_of_oxygen_agree_with_an_integration() -> None:
    event = lambda _, c: c[0] - 3.0  # noqa: E731 - what solve_ivp wants
    solved = solve_ivp(lambda _, c: 0.1 * (6.4 - c) - 1.0, (0, 50), [6.0], events=event, rtol=1e-10)
    ours = hours_to_limit(use_mg_l_h=1, start_mg_l=6, saturation_mg_l=6.4, reaeration_per_h=0.1,
                          limit_mg_l=3)  # fmt: skip
    assert ours == pytest.approx(solved.t_events[0][0], abs=1e-6)


@given(uses, st.floats(1.01, 3))
def test_more_animals_have_fewer_hours(use: float, more: float) -> None:
    def hours(r: float) -> float:
        found = hours_to_limit(use_mg_l_h=r, start_mg_l=6, saturation_mg_l=6.4,
                               reaeration_per_h=0.001, limit_mg_l=3)  # fmt: skip
        return np.inf if found is None else found

    assert hours(use * more) < hours(use)
    assert hours_to_limit(use_mg_l_h=0, start_mg_l=6, saturation_mg_l=6, reaeration_per_h=0,
                          limit_mg_l=3) is None  # fmt: skip
    assert hours_to_limit(use_mg_l_h=use, start_mg_l=2, saturation_mg_l=6, reaeration_per_h=0,
                          limit_mg_l=3) == 0  # fmt: skip


def test_warm_fed_and_small_animals_use_more_for_their_weight() -> None:
    here = oxygen_use_mg_g_h(1.0, 24.0, fed=False)
    assert here == pytest.approx(0.131)
    assert oxygen_use_mg_g_h(1.0, 34.0, fed=False) == pytest.approx(2 * here)
    assert oxygen_use_mg_g_h(1.0, 24.0, fed=True) == pytest.approx(1.5 * here)
    assert oxygen_use_mg_g_h(0.1, 24.0, fed=False) > here
    assert surface_reaeration_per_h(0.2) == 2 * surface_reaeration_per_h(0.4)


def test_the_fullest_tank_is_first_and_a_battery_stone_comes_last() -> None:
    tanks = tuple(StockedTank(f"{n}", 400, 0.5, 28, 35, n, 5.0) for n in (40, 400, 4))
    named = [tank.name for tank in in_order_of_need(tanks)]
    assert named[0] == "400"
    with_air = replace(tanks[1], air_stone=True)
    assert in_order_of_need((with_air, tanks[0]))[-1].name == "400"
    assert keep_running_first()[0].startswith("air")


def test_a_generator_grows_with_load_height_and_heat() -> None:
    loads = (Load("pump", 600, 0.75), Load("blower", 180))
    plain = generator(loads, 48, diesel=True)
    assert generator(loads, 48, diesel=True, altitude_m=1500, air_c=36).kva > plain.kva
    assert generator(loads, 24, diesel=True).fuel_l == pytest.approx(plain.fuel_l / 2)
    assert generator(loads, 48, diesel=False).fuel_l > plain.fuel_l
    assert plain.start_kva == pytest.approx(0.75 * 9.99)
    assert plain.fuel_l == pytest.approx(0.78 * 48 * 0.31 * 1.5)
    assert plain.kva == pytest.approx((0.78 / 0.8 + 0.75 * 9.99) * 1.25, abs=0.1)
    with pytest.raises(UnknownName, match="there are F, G"):
        starting_kva(1, "Z")
