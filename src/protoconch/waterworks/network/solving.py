"""Flows and heads in a network of any shape.

The flows that settle are those that lose the least work among all that keep the water's balance
(a convex problem, because more flow never costs less head). Newton's method on flows and heads
together (Todini & Pilati 1988) keeps the balance at every step; a search along the step makes it
safe from any start.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from protoconch.errors import ProtoconchError
from protoconch.waterworks.hydraulics.friction import Array
from protoconch.waterworks.network.laws import Laws, laws_of
from protoconch.waterworks.network.parts import MOUTHS, Network, Part
from protoconch.waterworks.network.paths import standing_alone
from protoconch.waterworks.water import L_MIN_PER_M3_S
from protoconch.words import say

MOST_STEPS = 200
CLOSE_M = 1e-8
"""Heads agree this closely when the search ends [m] ..."""
CLOSE_M3_S = 1e-14
"""... or else flows do, where a closed check valve makes a head of next to no flow [m³/s]."""
NO_FLOW_L_MIN = 1e-9
REFINEMENTS = 3
"""Rounds in which what rounding left over at joints is taken out of the flows."""
HALVINGS = 14
"""Halvings of a step in search of the place where a check valve begins to close."""


class NoSolution(ProtoconchError):
    """A network whose flows were not found."""


@dataclass(frozen=True, slots=True)
class Solution:
    """The flows that settle.

    flow_l_min: by part; below zero against its direction [L/min]; 0 where it is shut.
    head_m: by place; None where no open water is joined to it [m].
    steps: Newton steps taken. residual_m: largest disagreement of heads left [m].
    """

    flow_l_min: Mapping[str, float]
    head_m: Mapping[str, float | None]
    steps: int
    residual_m: float

    def inflow_l_min(self, network: Network, place: str) -> float:
        """Flow into a place, less what leaves it through parts that run full [L/min]."""
        return sum(
            self.flow_l_min[part.name] * ((part.end == place) - (part.start == place))
            for part in network.pressed
        )

    def pressure_kpa(self, network: Network, place: str) -> float | None:
        """Pressure at a place over the air's [kPa], or None where it stands alone."""
        head = self.head_m[place]
        if head is None:
            return None
        return (head - network.place(place).height_m) * network.water.kpa_per_m


def settled(network: Network) -> Solution:
    """The flows and heads that settle in a network, as it stands open and shut.

    Raises: NoSolution, where the search does not end (none is known that does this).
    Source: Todini & Pilati 1988, global gradient method; Wolfe's curvature condition for the step.
    """
    alone = standing_alone(network)
    parts = [p for p in network.pressed if not p.shut and p.start not in alone]
    flows = {part.name: 0.0 for part in network.pressed}
    heads: dict[str, float | None] = {
        place.name: None if place.kind == "joint" else place.height_m for place in network.places
    }
    if not parts:
        return Solution(flows, heads, 0, 0.0)
    q, joint_heads, steps, residual = _solve(network, parts)
    flows.update(zip((p.name for p in parts), (q * L_MIN_PER_M3_S).tolist(), strict=True))
    heads.update(joint_heads)
    return Solution(flows, heads, steps, residual)


def _solve(network: Network, parts: list[Part]) -> tuple[Array, dict[str, float], int, float]:
    mouths = frozenset(place.name for place in network.places if place.kind in MOUTHS)
    laws = laws_of(parts, mouths, network.water)
    joints, meets, fixed = _incidence(network, parts)
    q = 0.5 * np.pi * np.minimum(laws.bore_m, 0.05) ** 2 / 4
    h = np.zeros(len(joints))
    residual = np.inf
    heads, slopes = laws.heads_and_slopes(q)
    for step in range(1, MOST_STEPS + 1):
        moved, h = _newton_step(q, heads, slopes, meets, fixed)
        share = 1.0 if step == 1 else _share_of_step(laws, q, moved - q, fixed)
        q = moved if share == 1.0 else q + share * (moved - q)
        heads, slopes = laws.heads_and_slopes(q)
        apart = np.abs(heads - fixed - meets @ h)
        residual = float(np.max(np.where(apart < CLOSE_M3_S * slopes, 0.0, apart)))
        if residual < CLOSE_M:
            return q, dict(zip(joints, h.tolist(), strict=True)), step, residual
    raise NoSolution(
        say(
            "The flows did not settle after {steps} steps; heads still disagree "
            "by {residual:.2g} m. Please report this network.",
            steps=MOST_STEPS,
            residual=residual,
        )
    )


def _incidence(network: Network, parts: list[Part]) -> tuple[list[str], Any, Array]:
    """Joints; the matrix from their heads to falls along parts; falls made by open water."""
    from scipy.sparse import csr_matrix

    used = {end for part in parts for end in (part.start, part.end)}
    kinds = {place.name: place for place in network.places}
    joints = [name for name in kinds if kinds[name].kind == "joint" and name in used]
    column = {name: j for j, name in enumerate(joints)}
    fixed = np.zeros(len(parts))
    entries: list[tuple[int, int, float]] = []
    for i, part in enumerate(parts):
        for name, sign in ((part.start, 1.0), (part.end, -1.0)):
            if name in column:
                entries.append((i, column[name], sign))
            else:
                fixed[i] += sign * kinds[name].height_m
    rows, columns, signs = zip(*entries, strict=True) if entries else ((), (), ())
    return joints, csr_matrix((signs, (rows, columns)), shape=(len(parts), len(joints))), fixed


def _newton_step(
    q: Array, heads: Array, slopes: Array, meets: Any, fixed: Array
) -> tuple[Array, Array]:
    """Flows after a whole step, in balance to the last digits, and the heads of joints."""
    from scipy.sparse import diags
    from scipy.sparse.linalg import splu

    give = 1 / slopes
    moved = q - give * (heads - fixed)
    if meets.shape[1] == 0:
        return moved, np.zeros(0)
    factors = splu((meets.T @ diags(give) @ meets).tocsc())
    h: Array = factors.solve(-(meets.T @ moved))
    moved = moved + give * (meets @ h)
    for _ in range(REFINEMENTS):
        left_over: Array = factors.solve(-(meets.T @ moved))
        moved = moved + give * (meets @ left_over)
    return moved, h


def _share_of_step(laws: Laws, q: Array, step: Array, fixed: Array) -> float:
    """How much of a step to take: until the work no longer falls steeply along it."""

    def fall(share: float) -> float:
        return float(step @ (laws.heads_and_slopes(q + share * step)[0] - fixed))

    start = fall(0.0)
    enough = 0.5 * abs(start)
    if start >= 0 or fall(1.0) <= enough:
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        share = (low + high) / 2
        now = fall(share)
        if abs(now) <= enough:
            return share
        low, high = (share, high) if now < 0 else (low, share)
    return low or high


def imbalance(network: Network, solution: Solution) -> float:
    """Largest difference of what comes and goes at a joint, as a share of what passes it [-].

    A joint that nothing passes is measured against the largest flow of the network.
    """
    flows = solution.flow_l_min
    most = max((abs(flow) for flow in flows.values()), default=0.0)
    worst = 0.0
    for place in network.places:
        if place.kind != "joint" or most < NO_FLOW_L_MIN:
            continue
        passing = sum(
            abs(flows[part.name])
            for part in network.pressed
            if place.name in (part.start, part.end)
        )
        scale = passing / 2 if passing > 1e-6 * most else most
        worst = max(worst, abs(solution.inflow_l_min(network, place.name)) / scale)
    return worst
