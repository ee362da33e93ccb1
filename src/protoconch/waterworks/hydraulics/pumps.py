"""A pump by its curve."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Any

from protoconch.errors import BadInput
from protoconch.seawater.evaporation import vapour_pressure_kpa
from protoconch.seawater.ranges import more_than_zero, within
from protoconch.units import ends, text
from protoconch.waterworks.water import GRAVITY_M_S2, L_MIN_PER_M3_S, Water
from protoconch.words import phrase, say

STANDARD_AIR_KPA = 101.325


@dataclass(frozen=True, slots=True)
class PumpCurve:
    """Head against flow, as the maker prints it.

    points: pairs of flow [L/min] and head [m of the water pumped], flow rising and head falling.
    Two points of which the first has no flow make the parabola H0 - a Q²; two others a straight
    line; three and more a smooth falling curve through all (Fritsch & Carlson 1980).
    Raises: BadInput, where the points are too few, repeated or rising.
    """

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        """Refuse a curve that a pump cannot have."""
        if len(self.points) < 2:
            raise BadInput(say("A pump curve needs at least two points of flow and head."))
        for flow, head in self.points:
            within(phrase("a flow of the pump curve"), flow, 0.0, 1e6, phrase("L/min"))
            within(phrase("a head of the pump curve"), head, 0.0, 1e4, "m")
        for (flow, head), (more, less) in pairwise(self.points):
            if more <= flow:
                more_shown, flow_shown = ends(more, flow, "L/min")
                raise BadInput(
                    say(
                        "The flows of the pump curve must rise; {more} follows {flow}.",
                        more=more_shown,
                        flow=flow_shown,
                    )
                )
            if less >= head:
                raise BadInput(
                    say(
                        "The heads of the pump curve must fall; {less:g} m at {more} follows "
                        "{head:g} m at {flow}.",
                        less=less,
                        more=text(more, "L/min"),
                        head=head,
                        flow=text(flow, "L/min"),
                    )
                )

    @property
    def least_flow_l_min(self) -> float:
        """Flow of the first point [L/min]."""
        return self.points[0][0]

    @property
    def most_flow_l_min(self) -> float:
        """Flow of the last point [L/min]."""
        return self.points[-1][0]

    @property
    def shut_off_m(self) -> float:
        """Head against a closed valve [m]."""
        return self.head_m(0.0)

    def head_m(self, flow_l_min: float) -> float:
        """Head at a flow [m]; straight on beyond the ends of the curve.

        flow_l_min: [L/min]; below zero as at zero.
        """
        return _shape(self.points)[0](max(0.0, flow_l_min))

    def slope_m_per_l_min(self, flow_l_min: float) -> float:
        """Change of head with flow [m per L/min], zero or below; flow as in head_m."""
        return min(0.0, _shape(self.points)[1](max(0.0, flow_l_min)))


Curve = Callable[[float], float]


@cache
def _shape(points: tuple[tuple[float, float], ...]) -> tuple[Curve, Curve]:
    """Head and slope of a curve as functions of flow."""
    (q0, h0), (q1, h1) = points[:2]
    if len(points) == 2 and q0 == 0:
        bend = (h0 - h1) / q1**2
        return (lambda q: h0 - bend * q * q), (lambda q: -2 * bend * q)
    if len(points) == 2:
        fall = (h1 - h0) / (q1 - q0)
        return (lambda q: h0 + fall * (q - q0)), (lambda q: fall + 0 * q)
    from scipy.interpolate import PchipInterpolator

    flows, heads = zip(*points, strict=True)
    inner: Any = PchipInterpolator(flows, heads)
    turn: Any = inner.derivative()
    first = min(float(turn(q0)), 0.0)
    last_chord = (heads[-1] - heads[-2]) / (flows[-1] - flows[-2])
    last = min(float(turn(flows[-1])), last_chord)

    def head(q: float) -> float:
        if q < q0:
            return float(h0 + first * (q - q0))
        if q > flows[-1]:
            return float(heads[-1] + last * (q - flows[-1]))
        return float(inner(q))

    def slope(q: float) -> float:
        return first if q < q0 else last if q > flows[-1] else float(turn(q))

    return head, slope


def at_speed(curve: PumpCurve, ratio: float) -> PumpCurve:
    """The curve of the same pump at another speed: flow by ratio, head by its square.

    ratio: new speed over old [-], above 0; 60 Hz instead of 50 Hz is 1.2.
    Raises: BadInput.
    Source: affinity laws.
    """
    more_than_zero(phrase("the ratio of speeds"), ratio)
    return PumpCurve(tuple((flow * ratio, head * ratio**2) for flow, head in curve.points))


def shaft_power_w(flow_l_min: float, head_m: float, efficiency: float, water: Water) -> float:
    """Power at the pump's shaft [W].

    flow_l_min: [L/min]. head_m: [m]. efficiency: share [-], small centrifugal pumps 0.25 to 0.45.
    Raises: BadInput or OutOfRange.
    Source: P = ρ g Q H / η.
    """
    within(phrase("efficiency"), efficiency, 0.01, 1.0, "", phrase("Give 35 % as 0.35."))
    return water.density_kg_m3 * GRAVITY_M_S2 * flow_l_min / L_MIN_PER_M3_S * head_m / efficiency


def suction_head_available_m(suction_m: float, water: Water) -> float:
    """Net positive suction head available [m].

    suction_m: height of the water above the pump's inlet, less the losses on the way; below zero
        where the pump lifts [m].
    Source: NPSH = (air pressure - vapour pressure) / (ρ g) + suction, at sea level.
    """
    vapour = vapour_pressure_kpa(water.temperature_c, water.salinity)
    return (STANDARD_AIR_KPA - vapour) / water.kpa_per_m + suction_m
