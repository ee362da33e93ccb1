"""How much head each part takes from a flow, or gives to it."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from protoconch.waterworks.hydraulics.fittings import fittings_k
from protoconch.waterworks.hydraulics.friction import Array, pipe_heads_and_slopes
from protoconch.waterworks.hydraulics.pipes import PipeSize
from protoconch.waterworks.hydraulics.pumps import PumpCurve
from protoconch.waterworks.network.parts import Cartridge, Part, Pipe, Pump, Uv, Valve
from protoconch.waterworks.parameters import number
from protoconch.waterworks.water import GRAVITY_M_S2, L_MIN_PER_M3_S, Water

LEAST_SLOPE = 0.1
"""Slope that every part has, so that no flow costs nothing: 0.1 mm at 60 L/min [m per m³/s]."""
BACKFLOW_SLOPE = 1e10
"""Slope of a part that lets nothing back: 10 m press through less than 0.0001 L/min."""


@dataclass(frozen=True, slots=True)
class Laws:
    """Head lost in each part as a function of its flow; arrays have shape (parts,).

    length_m, bore_m, roughness_m: of pipes, length 0 for other parts. linear, square: [m per m³/s],
    [m per (m³/s)²]. one_way: nothing runs back. pumps: their places in the arrays, and curves.
    """

    length_m: Array
    bore_m: Array
    roughness_m: Array
    linear: Array
    square: Array
    one_way: np.ndarray[tuple[int], np.dtype[np.bool_]]
    pumps: tuple[tuple[int, PumpCurve], ...]
    kinematic_m2_s: float

    def heads_and_slopes(self, flow_m3_s: Array) -> tuple[Array, Array]:
        """Head lost from start to end, below zero where a pump gives it, and slope with flow.

        flow_m3_s: [m³/s, shape (parts,)].
        Returns: heads [m] and slopes [m per m³/s], both shape (parts,), slopes above zero.
        """
        q = flow_m3_s
        heads, slopes = pipe_heads_and_slopes(
            q, self.length_m, self.bore_m, self.roughness_m, self.kinematic_m2_s
        )
        heads = heads + self.linear * q + self.square * q * np.abs(q)
        slopes = slopes + self.linear + 2 * self.square * np.abs(q)
        back = self.one_way & (q < 0)
        heads = heads + np.where(back, BACKFLOW_SLOPE * q, 0.0)
        slopes = slopes + np.where(back, BACKFLOW_SLOPE, 0.0)
        for index, curve in self.pumps:
            flow = q[index] * L_MIN_PER_M3_S
            heads[index] -= curve.head_m(flow)
            if flow > 0:
                slopes[index] -= curve.slope_m_per_l_min(flow) * L_MIN_PER_M3_S
        return heads, slopes


def laws_of(parts: Sequence[Part], mouths: frozenset[str], water: Water) -> Laws:
    """The laws of some parts.

    mouths: names of places that water falls from, so that none runs back.
    Source: Darcy-Weisbach and Colebrook for pipes, speed heads for fittings and valves, linear and
    square laws for cartridges, the maker's curve for pumps.
    """
    columns = zip(*(_row(part, water) for part in parts), strict=True)
    length, bore, linear, square = (np.array(column, dtype=float) for column in columns)
    one_way = np.array([part.end in mouths or _lets_nothing_back(part) for part in parts])
    roughness = np.full(len(parts), number("pipes", "roughness_m"))
    pumps = tuple((i, part.curve) for i, part in enumerate(parts) if isinstance(part, Pump))
    return Laws(
        length, bore, roughness, linear + LEAST_SLOPE, square, one_way, pumps, water.kinematic_m2_s
    )


def _lets_nothing_back(part: Part) -> bool:
    return isinstance(part, Pump) or (isinstance(part, Pipe) and part.check_valve)


def _row(part: Part, water: Water) -> tuple[float, float, float, float]:
    """Length, bore, linear and square terms of one part."""
    if isinstance(part, Pipe):
        k = fittings_k(part.fittings, part.size.nominal_in)
        return part.length_m, part.size.bore_m, 0.0, _square(k, part.size)
    if isinstance(part, Valve | Uv):
        return 0.0, part.size.bore_m, 0.0, _square(part.k, part.size)
    if isinstance(part, Cartridge):
        linear = part.stage.linear_kpa_per_l_min(water) * L_MIN_PER_M3_S / water.kpa_per_m
        square = part.stage.housing_kpa_per_l_min2 * L_MIN_PER_M3_S**2 / water.kpa_per_m
        return 0.0, 1.0, linear, square
    return 0.0, 1.0, 0.0, 0.0


def _square(k: float, size: PipeSize) -> float:
    return float(k / (2 * GRAVITY_M_S2 * size.area_m2**2))
