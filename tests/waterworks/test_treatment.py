"""Cartridges and ultraviolet light."""

from datetime import UTC, datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import stdtrit

from protoconch.errors import BadInput, UnknownName
from protoconch.waterworks.treatment.cartridge_log import (
    Reading,
    at_reference_flow,
    change_days,
    change_forecast,
)
from protoconch.waterworks.treatment.cartridges import (
    litres_until_full,
    loading_at_drop,
    stage,
    usual_clean_kpa_per_l_min,
    with_loading,
)
from protoconch.waterworks.treatment.uv import (
    Lamp,
    flow_for_dose_l_min,
    power_for_dose_w,
    uv_dose_mj_cm2,
)
from protoconch.waterworks.treatment.uv_targets import (
    NOT_KILLED,
    lt2_log,
    lt2_organisms,
    targets_reached,
)
from protoconch.waterworks.water import water_at

SEA = water_at(28, 35)
FIVE = stage(5, 4)
FULL_L, CLEAN_KPA, CHANGE_KPA, FLOW = 100_000.0, 10.0, 103.4, 60.0


@given(st.floats(1, 100), st.floats(0, 0.98), st.floats(0.001, 0.01))
def test_pressure_rises_with_flow_and_with_loading(flow: float, load: float, more: float) -> None:
    here = with_loading(FIVE, load).drop_kpa(flow, SEA)
    assert with_loading(FIVE, load + more).drop_kpa(flow, SEA) > here
    assert with_loading(FIVE, load).drop_kpa(flow * (1 + more), SEA) > here
    found = loading_at_drop(FIVE, here, flow, SEA)
    assert found == pytest.approx(load, abs=1e-9)


def test_finer_cartridges_take_more_and_more_of_them_take_less() -> None:
    drops = [usual_clean_kpa_per_l_min(rating) for rating in (100, 25, 10, 5, 1)]
    assert drops == sorted(drops)
    assert stage(5, 8).drop_kpa(60, SEA) < stage(5, 4).drop_kpa(60, SEA)
    assert loading_at_drop(FIVE, 0.001, 60, SEA) == 0.0


def test_dirt_fills_a_stage_as_its_weight_says() -> None:
    """15 US gal/min with 5 mg/L, three elements of 150 g at 90 %: 81 m³ to 405 g."""
    assert litres_until_full(150 * 0.9, 5, 1.0, 3) == pytest.approx(81_000)


def readings(rng: np.random.Generator, noise: float, count: int = 8) -> list[Reading]:
    litres = np.sort(rng.uniform(0, 50_000, count))
    inverse = (1 - litres / FULL_L) / CLEAN_KPA + rng.normal(0, noise, count)
    housing = FIVE.housing_kpa_per_l_min2 * FLOW**2
    return [Reading(float(x), float(1 / y + housing), FLOW)
            for x, y in zip(litres, inverse, strict=True)]  # fmt: skip


def forecast_of(logged: list[Reading], confidence: float = 0.8):
    housing = FIVE.housing_kpa_per_l_min2 * FLOW**2
    return change_forecast(
        logged, FIVE, change_kpa=CHANGE_KPA + housing, reference_l_min=FLOW, confidence=confidence
    )


TRUTH = FULL_L * (1 - CLEAN_KPA / CHANGE_KPA)


def test_a_forecast_without_noise_is_exact() -> None:
    found = forecast_of(readings(np.random.default_rng(1), 0.0))
    assert found.at_litres == pytest.approx(TRUTH, rel=1e-9)
    assert found.low_litres == pytest.approx(TRUTH, rel=1e-6)
    assert found.high_litres == pytest.approx(TRUTH, rel=1e-6)


def test_intervals_for_the_change_hold_as_often_as_they_say() -> None:
    rng, held, tried = np.random.default_rng(20270601), 0, 1200
    for _ in range(tried):
        found = forecast_of(readings(rng, 0.004))
        top = np.inf if found.high_litres is None else found.high_litres
        held += found.low_litres <= TRUTH <= top
    assert held / tried == pytest.approx(0.8, abs=0.035)  # three standard errors


def test_the_ends_of_an_interval_are_where_the_line_just_still_fits() -> None:
    """Fieller: at each end the line misses the change by Student's t of its own error."""
    logged = readings(np.random.default_rng(4), 0.004)
    found = forecast_of(logged)
    x = np.array([reading.litres for reading in logged])
    y = np.array([1 / at_reference_flow(reading, FIVE, FLOW) for reading in logged])
    slope, level = np.polyfit(x, y, 1)
    rest, n = y - level - slope * x, len(x)
    noise = float(np.sqrt(np.sum(rest**2) / (n - 2)))
    assert found.high_litres is not None
    for end in (found.low_litres, found.high_litres):
        error = noise * np.sqrt(1 / n + (end - x.mean()) ** 2 / np.sum((x - x.mean()) ** 2))
        missed = abs(level + slope * end - 1 / CHANGE_KPA)
        assert missed / error == pytest.approx(stdtrit(n - 2, 0.9), rel=1e-6)


def test_readings_that_hardly_show_loading_have_no_latest_day() -> None:
    rng = np.random.default_rng(3)
    found = [f for f in (_tried(readings(rng, 0.03, 4)) for _ in range(60)) if f is not None]
    assert any(f.high_litres is None for f in found)
    assert all(f.low_litres <= f.at_litres for f in found if f.high_litres is None)


def _tried(logged: list[Reading]):
    try:
        return forecast_of(logged, 0.95)
    except BadInput:
        return None


def test_a_log_from_which_nothing_follows_is_refused() -> None:
    flat = [Reading(litres, 20.0, FLOW) for litres in (0.0, 1e4, 2e4)]
    with pytest.raises(BadInput, match="does not rise"):
        forecast_of(flat)
    with pytest.raises(BadInput, match="needs 3 readings; there are 2"):
        forecast_of(flat[:2])
    with pytest.raises(BadInput, match="same litres"):
        forecast_of([Reading(5.0, 20.0 + i, FLOW) for i in range(3)])
    with pytest.raises(BadInput, match="check the gauge"):
        at_reference_flow(Reading(0, 0.001, 100), FIVE, 60)


def test_a_lower_flow_at_a_reading_is_brought_to_the_reference() -> None:
    loaded = with_loading(FIVE, 0.5)
    low, full = (Reading(0, loaded.drop_kpa(q, SEA), q) for q in (30.0, 60.0))
    assert at_reference_flow(low, FIVE, 60) == pytest.approx(at_reference_flow(full, FIVE, 60))


def test_rot_sets_the_last_day_whatever_the_pressure_says() -> None:
    found = forecast_of(readings(np.random.default_rng(1), 0.0))
    now, fitted = (datetime(2027, 6, day, 8, tzinfo=UTC) for day in (10, 1))
    best, low, high = change_days(found, 40_000, 20_000, now, fitted, 10)
    assert best == low == high == datetime(2027, 6, 11, 8, tzinfo=UTC)
    soon, _, _ = change_days(found, TRUTH - 10_000, 20_000, now, fitted, 10)
    assert soon == datetime(2027, 6, 10, 20, tzinfo=UTC)


lamps = st.builds(Lamp, st.floats(1, 200), st.floats(5, 80), st.floats(50, 99.9))


@given(lamps, st.floats(5, 300), st.floats(1.01, 3))
def test_dose_falls_as_flow_rises_and_as_water_darkens(
    lamp: Lamp, flow: float, more: float
) -> None:
    here = uv_dose_mj_cm2(flow, lamp)
    assert uv_dose_mj_cm2(flow * more, lamp) == pytest.approx(here / more)
    darker = Lamp(lamp.uvc_power_w, lamp.gap_mm, lamp.transmittance_pct / more)
    assert uv_dose_mj_cm2(flow, darker) < here
    aged = Lamp(lamp.uvc_power_w, lamp.gap_mm, lamp.transmittance_pct, 0.8, 0.9, 0.7)
    assert uv_dose_mj_cm2(flow, aged) == pytest.approx(here * 0.504)
    assert power_for_dose_w(here, flow, lamp) == pytest.approx(lamp.uvc_power_w)
    assert flow_for_dose_l_min(here, lamp) == pytest.approx(flow)


def test_each_organism_has_its_own_answer_and_ciliates_are_not_killed() -> None:
    reached = {row.kind: row.reached for row in targets_reached(40)}
    assert reached["bacteria"]
    assert not reached["ciliates"]
    doses = [row.dose_mj_cm2 for row in targets_reached(40)]
    assert doses == sorted(doses)
    assert "ciliates" in NOT_KILLED


@given(st.sampled_from(sorted(lt2_organisms())), st.floats(0, 300))
def test_the_rule_gives_no_more_than_four_logs_and_never_less_for_more(
    organism: str, dose: float
) -> None:
    assert 0 <= lt2_log(organism, dose) <= lt2_log(organism, dose + 1) <= 4


def test_what_lamps_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput, match=r"Give 0\.85 as 85"):
        uv_dose_mj_cm2(60, Lamp(13, 30, 0.85))
    with pytest.raises(BadInput, match=r"Give 80 % as 0\.8"):
        uv_dose_mj_cm2(60, Lamp(13, 30, 85, age_factor=80))
    with pytest.raises(BadInput, match="Flow is 0"):
        uv_dose_mj_cm2(0, Lamp(13, 30, 85))
    with pytest.raises(UnknownName, match="Cryptosporidium"):
        lt2_log("unicorns", 40)
