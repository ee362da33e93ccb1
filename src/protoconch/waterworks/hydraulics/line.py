"""One pump and one line: what is lost, and the flow at which pump and line agree."""

from collections.abc import Callable
from dataclasses import dataclass

from protoconch.errors import BadInput
from protoconch.seawater.ranges import more_than_zero, within
from protoconch.waterworks.hydraulics.friction import friction_factor
from protoconch.waterworks.hydraulics.pipes import PipeSize
from protoconch.waterworks.hydraulics.pumps import PumpCurve
from protoconch.waterworks.parameters import number
from protoconch.waterworks.water import GRAVITY_M_S2, L_MIN_PER_M3_S, Water
from protoconch.words import phrase, say


@dataclass(frozen=True, slots=True)
class PipeLoss:
    """What one straight pipe does to a flow.

    velocity_m_s: mean speed [m/s]. reynolds, friction_factor: [-]. head_loss_m: [m of the water].
    """

    velocity_m_s: float
    reynolds: float
    friction_factor: float
    head_loss_m: float


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """Where pump and line agree.

    flow_l_min: [L/min]. head_m: head of the pump there [m].
    on_curve: whether the flow lies within the points of the pump's curve.
    """

    flow_l_min: float
    head_m: float
    on_curve: bool


def pipe_loss(
    flow_l_min: float, size: PipeSize, length_m: float, water: Water, extra_k: float = 0.0
) -> PipeLoss:
    """Speed and loss of a flow in a pipe.

    flow_l_min: [L/min], 0 or more. length_m: [m]. extra_k: fittings, in speed heads [-].
    Raises: BadInput or OutOfRange.
    Source: Darcy-Weisbach with Colebrook 1939.
    """
    within(phrase("flow"), flow_l_min, 0.0, 1e6, phrase("L/min"))
    within(phrase("length"), length_m, 0.0, 1e5, "m")
    within(phrase("the loss of fittings"), extra_k, 0.0, 1e6)
    if flow_l_min == 0:
        return PipeLoss(0.0, 0.0, 0.0, 0.0)
    velocity = flow_l_min / L_MIN_PER_M3_S / size.area_m2
    reynolds = velocity * size.bore_m / water.kinematic_m2_s
    factor = friction_factor(reynolds, number("pipes", "roughness_m") / size.bore_m)
    losses = factor * length_m / size.bore_m + extra_k
    return PipeLoss(velocity, reynolds, factor, losses * velocity**2 / (2 * GRAVITY_M_S2))


def operating_point(
    curve: PumpCurve, line_head_m: Callable[[float], float], static_m: float
) -> OperatingPoint:
    """The flow at which the pump's head is what the line asks.

    line_head_m: head lost in the line at a flow [m at L/min], rising from 0 at no flow.
    static_m: height to lift, and back pressure [m]; below zero where the water runs downhill.
    Raises: BadInput, where the pump cannot lift so high, or no flow is large enough.
    """
    from scipy.optimize import brentq

    def spare(flow: float) -> float:
        return curve.head_m(flow) - static_m - line_head_m(flow)

    if curve.shut_off_m <= static_m:
        raise BadInput(
            say(
                "The pump lifts {lifts:.3g} m at no flow and must lift {static:.3g} "
                "m: no water would run. Take a pump with more head, or lift less.",
                lifts=curve.shut_off_m,
                static=static_m,
            )
        )
    most = curve.most_flow_l_min
    for _ in range(60):
        if spare(most) < 0:
            break
        most *= 2
    else:
        raise BadInput(say("No flow is large enough for pump and line to agree; check the curve."))
    flow = float(brentq(spare, 0.0, most, xtol=1e-10, rtol=1e-13))
    inside = curve.least_flow_l_min <= flow <= curve.most_flow_l_min
    return OperatingPoint(flow, curve.head_m(flow), inside)


def surge_kpa(stopped_m_s: float, size: PipeSize, water: Water) -> float:
    """Pressure blow when a flow is stopped at once [kPa].

    stopped_m_s: speed that is stopped [m/s].
    Source: Joukowsky 1898; speed of the wave from the elasticity of water and PVC.
    """
    more_than_zero(phrase("the wall of the pipe"), size.wall_m, "m")
    soft = 1 / (number("pipes", "seawater_elasticity") * 1e6) + size.bore_m / (
        number("pipes", "pvc_elasticity") * 1e6 * size.wall_m
    )
    wave_m_s = (water.density_kg_m3 * soft) ** -0.5
    return float(water.density_kg_m3 * wave_m_s * stopped_m_s / 1000)
