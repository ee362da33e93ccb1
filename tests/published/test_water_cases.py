"""Seawater and waterworks: every row of the data file, beside its source; the rest worked here.

Twenty-five oracles, numbered: those that are one call with plain inputs stand in
water.csv by number; those that need a pump, a lamp or a network stand below.
"""

import csv
import importlib
import json
from functools import reduce
from importlib.resources import files
from math import log, log10

import gsw
import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from protoconch import calculations
from protoconch.seawater.ammonia import unionised_share
from protoconch.seawater.carbonate_constants import carbonate_constants
from protoconch.seawater.ph_scales import bisulphate_constant, fluoride_constant
from protoconch.seawater.state import density_kg_m3, heat_capacity_j_kg_k
from protoconch.waterworks.hydraulics.line import operating_point, pipe_loss, surge_kpa
from protoconch.waterworks.hydraulics.pipes import pipe_size
from protoconch.waterworks.hydraulics.pumps import PumpCurve, suction_head_available_m
from protoconch.waterworks.loops.sizing import steady_nitrogen_mg_l
from protoconch.waterworks.outage.oxygen import hours_to_limit
from protoconch.waterworks.outage.power import starting_kva
from protoconch.waterworks.treatment.cartridges import Stage
from protoconch.waterworks.treatment.uv import Lamp, uv_dose_mj_cm2
from protoconch.waterworks.water import GRAVITY_M_S2, PA_PER_PSI, water_at
from tests.published import eos80

GALLON = 3.785411784
PSI_KPA = PA_PER_PSI / 1000
IN_CODE = {3, 7, 8, 9, 11, 13, 15, 18, 19, 23, 24, 25}
"""Oracles that have a test below, wholly or in part."""


def rows() -> list[dict[str, str]]:
    text = files("protoconch.sources").joinpath("checks", "water.csv").read_text("utf-8")
    return [row | {"line": str(i)} for i, row in enumerate(csv.DictReader(text.splitlines()), 2)]


ROWS = rows()


def line(row: dict[str, str]) -> str:
    return f"line {row['line']}"


@pytest.mark.parametrize("row", ROWS, ids=line)
def test_a_function_gives_the_value_of_its_source(row: dict[str, str]) -> None:
    module, _, name = row["function"].rpartition(".")
    function = getattr(importlib.import_module(f"protoconch.{module}"), name)
    path = row["key"].split(".") if row["key"] else []
    found = reduce(getattr, path, function(**json.loads(row["inputs"])))
    assert found == pytest.approx(float(row["expected"]), rel=0, abs=float(row["tolerance"]))


@pytest.mark.parametrize("row", ROWS, ids=line)
def test_every_row_names_its_kind_and_source(row: dict[str, str]) -> None:
    assert row["source"].strip()
    assert row["kind"] in {"published", "analytic", "regression"}
    assert float(row["tolerance"]) > 0


def test_all_twenty_five_oracles_are_here() -> None:
    in_file = {int(row["oracle"]) for row in ROWS if row["oracle"]}
    assert in_file | IN_CODE == set(range(1, 26))


def test_friction_of_seawater_in_one_inch_pipe() -> None:
    """Oracle 3, regression; within 5 % of Hazen-Williams with C = 150."""
    water = water_at(25, 35)
    found = pipe_loss(15 * GALLON, pipe_size("pvc-sch40", 1), 30.48, water)
    assert found.head_loss_m * water.kpa_per_m / PSI_KPA == pytest.approx(5.20, abs=0.03)
    assert found.velocity_m_s / 0.3048 == pytest.approx(5.57, abs=0.02)
    assert found.head_loss_m / 0.3048 == pytest.approx(11.74, rel=0.05)


@pytest.mark.parametrize(
    ("times", "flow", "head"), [(0, 21.29, 13.67), (1, 19.28, 15.70), (3, 17.23, 17.58),
                                (10, 11.92, 21.45)]
)  # fmt: skip
def test_the_flow_where_pump_and_loaded_line_agree(times: float, flow: float, head: float) -> None:
    """Oracle 7, regression with an independent library for friction: fittings K 11.03, UV K 3."""
    water, size = water_at(27, 35), pipe_size("pvc-sch40", 1)
    thickness = water.viscosity_pa_s / water_at(20, 0).viscosity_pa_s
    stages = [
        Stage(1, 1, k * times * PSI_KPA / GALLON / thickness, 0.002 * PSI_KPA / GALLON**2)
        for k in (0.02, 0.04, 0.114)
        if times
    ]
    found = operating_point(
        PumpCurve(((0, 25), (20 * GALLON, 15))),
        lambda q: (
            pipe_loss(q, size, 30, water, 11.03 + 3).head_loss_m
            + sum(stage.drop_kpa(q, water) for stage in stages) / water.kpa_per_m
        ),
        3.0,
    )
    assert found.flow_l_min / GALLON == pytest.approx(flow, abs=0.05)
    assert found.head_m == pytest.approx(head, abs=0.05)
    assert found.on_curve == (times > 0)


def test_the_check_values_of_eos_80() -> None:
    """Oracle 8, published (UNESCO 44): what our density is compared with is right."""
    assert eos80.density_kg_m3(40, 40, 10_000) == pytest.approx(1059.82037, abs=1e-4)
    assert eos80.density_kg_m3(35, 25, 0) == pytest.approx(1023.34306, abs=1e-4)
    assert eos80.heat_capacity_j_kg_k(40, 40, 10_000) == pytest.approx(3849.500, abs=0.002)
    assert eos80.sound_m_s(40, 40, 10_000) == pytest.approx(1731.995, abs=0.002)


@pytest.mark.parametrize("temperature", [0, 10, 20, 30, 40])
@pytest.mark.parametrize("salinity", [2, 20, 35, 42])
def test_density_and_heat_agree_with_the_older_equation_of_state(
    temperature: float, salinity: float
) -> None:
    """Oracle 8: an independent formula, over the whole range of a hatchery."""
    t68 = temperature * 1.00024
    older = eos80.density_kg_m3(salinity, t68, 0)
    assert density_kg_m3(temperature, salinity) == pytest.approx(older, abs=0.015)
    heat = eos80.heat_capacity_j_kg_k(salinity, t68, 0)
    assert heat_capacity_j_kg_k(temperature, salinity) == pytest.approx(heat, rel=0.002)


def test_the_check_values_of_teos_10() -> None:
    """Oracle 9, published (TEOS-10 site): the library behind our density is the right one."""
    assert float(gsw.rho(34.7118, 28.8099, 10)) == pytest.approx(1021.839935738, abs=1e-8)
    assert float(gsw.SP_from_C(34.5487, 28.7856, 10)) == pytest.approx(20.0098695991, abs=1e-9)
    assert float(gsw.cp_t_exact(34.7118, 28.7856, 10)) == pytest.approx(4002.888003959, abs=1e-6)


@pytest.mark.parametrize(
    ("temperature", "printed"), [(10, 1.44), (15, 2.07), (20, 2.98), (25, 4.28)]
)
def test_a_mix_up_of_ph_scales_would_show(temperature: float, printed: float) -> None:
    """Oracle 11, mutation: read as total scale, Bower & Bidwell's table is missed by 14 to 27 %."""
    wrong = 100 * unionised_share(temperature, 34, 8.0, "total")
    assert 1.14 < wrong / printed < 1.27


def test_the_constants_of_the_carbonate_guide() -> None:
    """Oracle 13, published: Dickson, Sabine & Christian 2007, salinity 35, 25 °C."""
    c = carbonate_constants(25, 35)
    assert log(c.k0) == pytest.approx(-3.5617, abs=1e-4)
    assert log10(c.k1) == pytest.approx(-5.8472, abs=1e-4)
    assert log10(c.k2) == pytest.approx(-8.9660, abs=1e-4)
    assert log(c.kb) == pytest.approx(-19.7964, abs=1e-4)
    assert log(c.kw) == pytest.approx(-30.434, abs=0.01)
    assert log(bisulphate_constant(25, 35)) == pytest.approx(-2.30, abs=0.005)
    assert log(fluoride_constant(25, 35)) == pytest.approx(-6.09, abs=0.005)
    assert -log10(c.aragonite) == pytest.approx(6.1883, abs=0.001)
    assert -log10(c.calcite) == pytest.approx(6.3693, abs=0.001)


def test_the_dose_is_the_mean_light_times_the_time_in_it() -> None:
    """Oracle 15, analytic: the closed form equals the integral over the ring."""
    power, inner, outer, length, flow = 13.0, 0.0125, 0.0425, 0.8, 15 * GALLON / 60_000
    per_m = -log(0.85) * 100
    area = np.pi * (outer**2 - inner**2)
    light = quad(
        lambda r: power / (2 * np.pi * r * length) * np.exp(-per_m * (r - inner)) * 2 * np.pi * r,
        inner, outer,
    )[0] / area  # fmt: skip
    ours = uv_dose_mj_cm2(15 * GALLON, Lamp(13, 30, 85))
    assert ours == pytest.approx(light * area * length / flow / 10, rel=1e-6)
    assert ours == pytest.approx(32.62, abs=0.02)
    clear = uv_dose_mj_cm2(15 * GALLON, Lamp(13, 30, 100))
    assert clear == pytest.approx(13 * 0.030 / flow / 10, rel=1e-9)


def test_nitrogen_in_a_ripe_loop_settles_where_the_balance_says() -> None:
    """Oracle 18, analytic: against the differential equation, and the sum is made over exchange."""
    first, second, exchange, made = 20.0, 15.0, 0.05, 3.22
    ammonia, nitrite, nitrate = steady_nitrogen_mg_l(made, first, second, exchange)
    assert ammonia == pytest.approx(0.160599, abs=1e-6)
    assert nitrite == pytest.approx(0.213420, abs=1e-6)
    assert ammonia + nitrite + nitrate == pytest.approx(made / exchange, rel=1e-12)
    end = solve_ivp(
        lambda _, y: [
            made - first * y[0] - exchange * y[0],
            first * y[0] - second * y[1] - exchange * y[1],
            second * y[1] - exchange * y[2],
        ],
        (0, 500), [0, 0, 0], method="LSODA", rtol=1e-10, atol=1e-12,
    ).y[:, -1]  # fmt: skip
    assert (ammonia, nitrite, nitrate) == pytest.approx(tuple(end), rel=1e-5)


def test_a_tank_that_breathes_through_its_surface_may_never_reach_the_limit() -> None:
    """Oracle 19, analytic."""
    still = {"start_mg_l": 6.0, "saturation_mg_l": 6.4, "limit_mg_l": 3.0}
    assert hours_to_limit(use_mg_l_h=0.26, reaeration_per_h=0.1, **still) is None
    answer = calculations.run("outage", {
        "volume": 100, "biomass": 100, "oxygen_use": 0.26, "start_oxygen": 6,
        "saturation_oxygen": 6.4, "reaeration": 0.1, "limit": 3,
    })  # fmt: skip
    assert answer.result["hours"] is None


def test_a_pound_on_a_square_inch_is_so_many_feet_of_water() -> None:
    """Oracle 23, published: 2.3067 ft of fresh water, 2.254 ft of seawater (35, 25 °C)."""
    assert pytest.approx(2.3067, abs=1e-4) == PA_PER_PSI / (1000 * GRAVITY_M_S2) / 0.3048
    assert PSI_KPA / water_at(25, 35).kpa_per_m / 0.3048 == pytest.approx(2.254, abs=1e-3)


def test_a_one_horsepower_motor_of_code_l_starts_with_nine_to_ten_kva() -> None:
    """Oracle 24, published: NEMA MG-1, locked-rotor code letters."""
    assert starting_kva(1, "L") == pytest.approx((9.0, 9.99))


def test_seven_milligrams_of_thiosulphate_neutralise_one_of_chlorine() -> None:
    """Oracle 24, analytic: two moles of the pentahydrate for one of chlorine, to tetrathionate."""
    assert pytest.approx(7.00, abs=0.01) == 2 * 248.18 / 70.906
    answer = calculations.run(
        "neutralise-chlorine",
        {"volume": 1000, "chlorine": 1, "product": "thiosulfate-pentahydrate", "ratio": 7},
    )
    assert answer.result["grams"] == pytest.approx(7.0, abs=0.01)


def test_worked_figures_beside_the_oracles() -> None:
    """Joukowsky's blow and suction head, worked by hand."""
    water = water_at(27, 35)
    blow = surge_kpa(1.697, pipe_size("pvc-sch40", 1), water)
    assert blow / PSI_KPA == pytest.approx(138, abs=1)
    assert suction_head_available_m(1.0 - 0.8, water) == pytest.approx(9.95, abs=0.02)
