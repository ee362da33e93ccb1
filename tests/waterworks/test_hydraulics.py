"""Pipes, friction, fittings, pumps: against an independent library and against sense."""

from itertools import pairwise

import fluids
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.errors import BadInput, UnknownName
from protoconch.waterworks.hydraulics.fittings import fitting_k, fitting_kinds, fittings_k
from protoconch.waterworks.hydraulics.friction import (
    factors_and_slopes,
    friction_factor,
    pipe_heads_and_slopes,
)
from protoconch.waterworks.hydraulics.line import operating_point, pipe_loss
from protoconch.waterworks.hydraulics.pipes import (
    heat_derated_kpa,
    next_larger,
    pipe_materials,
    pipe_size,
    pipe_sizes,
)
from protoconch.waterworks.hydraulics.pumps import PumpCurve, at_speed, shaft_power_w
from protoconch.waterworks.water import water_at

SEA = water_at(25, 35)


@given(st.floats(4000, 1e8), st.floats(0, 0.05))
def test_friction_agrees_with_an_independent_library(reynolds: float, roughness: float) -> None:
    theirs = fluids.friction.Colebrook(reynolds, roughness)
    assert friction_factor(reynolds, roughness) == pytest.approx(theirs, rel=1e-9)


@given(st.floats(1, 1e7), st.floats(0, 0.05))
def test_the_slope_of_friction_is_its_derivative(reynolds: float, roughness: float) -> None:
    if min(abs(reynolds - 2040), abs(reynolds - 4000)) < 1:
        return  # the curve has a corner there
    step = 1e-5
    _, slope = factors_and_slopes(np.array([reynolds]), np.array([roughness]))
    up, down = (friction_factor(reynolds * np.exp(s), roughness) for s in (step, -step))
    assert slope[0] == pytest.approx((np.log(up) - np.log(down)) / (2 * step), abs=1e-5)


@given(st.floats(0.001, 0.01), st.floats(1.01, 3.0))
def test_head_lost_rises_with_flow_and_with_length_and_falls_with_bore(
    flow: float, more: float
) -> None:
    def lost(q: float, length: float = 10.0, bore: float = 0.03) -> float:
        arrays = (np.array([v]) for v in (q, length, bore, 1.5e-6))
        heads, slopes = pipe_heads_and_slopes(*arrays, 1e-6)
        assert slopes[0] > 0
        return float(heads[0])

    assert lost(flow * more) > lost(flow)
    assert lost(flow, 10 * more) == pytest.approx(more * lost(flow))
    assert lost(flow, bore=0.03 * more) < lost(flow)
    assert lost(-flow) == -lost(flow)


def test_pipe_sizes_agree_with_an_independent_table() -> None:
    for size in pipe_sizes("pvc-sch40"):
        _, bore, _, _ = fluids.nearest_pipe(NPS=size.nominal_in, schedule="40")
        assert size.bore_m == pytest.approx(bore, abs=0.003 * 0.0254)
    assert {"pvc-sch40", "pvc-sch80"} <= set(pipe_materials())
    assert pipe_size("pvc-sch80", 1).bore_m < pipe_size("pvc-sch40", 1).bore_m


def test_sizes_are_called_as_people_call_them() -> None:
    called = [pipe_size("pvc-sch40", size).called for size in (0.5, 1, 1.25, 2.5)]
    assert called == ["½-inch", "1-inch", "1¼-inch", "2½-inch"]
    wider = next_larger(pipe_size("pvc-sch40", 1))
    assert wider is not None
    assert wider.nominal_in == 1.25
    assert next_larger(pipe_size("pvc-sch40", 4)) is None


def test_warm_pvc_bears_less() -> None:
    bears = [heat_derated_kpa(1000, t) for t in (20, 22.8, 25, 26.7, 30, 32.2, 35, 37.8, 40)]
    assert bears[0] == bears[1] == 1000
    assert all(less <= more for more, less in pairwise(bears))
    assert bears[-1] == pytest.approx(620)


def test_pipes_and_fittings_that_nobody_has_are_refused_with_what_there_is() -> None:
    with pytest.raises(UnknownName, match=r"sizes are 0.5, 0.75, 1, 1.25"):
        pipe_size("pvc-sch40", 7)
    with pytest.raises(UnknownName, match="there are pvc-sch40"):
        pipe_size("bamboo", 1)
    with pytest.raises(UnknownName, match="there are elbow"):
        fitting_k("spiral", 1)


def test_fittings_agree_with_an_independent_library_within_their_own_doubt() -> None:
    bore = pipe_size("pvc-sch40", 1).bore_m
    theirs = 30 * fluids.fittings.ft_Crane(bore)
    assert fitting_k("elbow", 1) == pytest.approx(theirs, rel=0.06)
    assert fitting_k("entrance", 1) == 0.5
    assert fittings_k({"elbow": 2, "exit": 1}, 1) == pytest.approx(2 * fitting_k("elbow", 1) + 1)
    assert all(fitting_k(kind, 1) > 0 for kind in fitting_kinds())


CURVES = [
    ((0, 25), (60, 15)), ((10, 25), (60, 15)), ((0, 25), (40, 21), (60, 15)),
    ((20, 23), (45, 21.5), (70, 18.5), (95, 13.5), (115, 8)),
]  # fmt: skip


@pytest.mark.parametrize("points", CURVES)
def test_a_pump_curve_goes_through_its_points_and_never_rises(
    points: tuple[tuple[float, float], ...],
) -> None:
    curve = PumpCurve(points)
    for flow, head in points:
        assert curve.head_m(flow) == pytest.approx(head)
    heads = [curve.head_m(q) for q in np.linspace(0, 150, 301)]
    assert all(later <= earlier + 1e-12 for earlier, later in pairwise(heads))
    for flow in (15.0, 33.0, 58.0, 140.0):
        run = (curve.head_m(flow + 1e-5) - curve.head_m(flow - 1e-5)) / 2e-5
        assert curve.slope_m_per_l_min(flow) == pytest.approx(run, abs=1e-5)
    assert curve.head_m(-5) == curve.shut_off_m


@pytest.mark.parametrize(
    ("points", "sentence"),
    [
        (((0, 25),), "at least two points"),
        (((0, 25), (0, 20)), "flows of the pump curve must rise"),
        (((0, 25), (60, 26)), "heads of the pump curve must fall"),
        (((0, 25), (-5, 20)), "outside 0 to"),
        (((0, float("nan")), (60, 15)), "not a number"),
    ],
)
def test_a_curve_that_no_pump_has_is_refused(
    points: tuple[tuple[float, float], ...], sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence):
        PumpCurve(points)


def test_a_faster_pump_moves_more_by_the_affinity_laws() -> None:
    slow = PumpCurve(((0, 25), (60, 15)))
    fast = at_speed(slow, 1.2)
    assert fast.head_m(72) == pytest.approx(15 * 1.44)
    for back, first in zip(at_speed(fast, 1 / 1.2).points, slow.points, strict=True):
        assert back == pytest.approx(first)
    power = shaft_power_w(56.78, 30.48, 1.0, water_at(15, 0))
    assert power / 745.7 == pytest.approx(0.379, rel=0.002)


@given(st.floats(-5, 20), st.floats(0, 200))
def test_more_height_or_more_loss_moves_less(static: float, k: float) -> None:
    curve, size = PumpCurve(((0, 25), (60, 20), (120, 8))), pipe_size("pvc-sch40", 1)

    def point(height: float, extra: float) -> float:
        return operating_point(
            curve, lambda q: pipe_loss(q, size, 20, SEA, extra).head_loss_m, height
        ).flow_l_min

    here = point(static, k)
    assert point(static + 1, k) < here
    assert point(static, k + 5) < here


def test_a_pump_that_cannot_lift_so_high_is_told_in_a_sentence() -> None:
    with pytest.raises(BadInput, match="no water would run"):
        operating_point(PumpCurve(((0, 25), (60, 15))), lambda _: 0.0, 30)
    with pytest.raises(BadInput, match="No flow is large enough"):
        operating_point(PumpCurve(((0, 25), (60, 15))), lambda q: -(q**2), 3)
    assert pipe_loss(0, pipe_size("pvc-sch40", 1), 10, SEA).head_loss_m == 0
