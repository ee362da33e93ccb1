"""The mesh on which larvae are held, and the mesh that parts the fast from the slow."""

import math
from dataclasses import dataclass

from protoconch.units import positive
from protoconch.words import say

DIAGONAL = math.sqrt(2.0)
"""A square mesh lets pass what is narrower than its diagonal: geometry."""


@dataclass(frozen=True, slots=True)
class Sieves:
    """Mesh openings for larvae of one size.

    hold_all_um: the widest mesh that holds all [µm]. fast_half_um: the mesh on which the faster
    half stays [µm].
    """

    hold_all_um: float
    fast_half_um: float


def sieves(shell_length_um: float, hold_factor: float, fast_factor: float) -> Sieves:
    """Mesh openings for larvae of that mean shell length.

    shell_length_um: mean shell length [µm]. hold_factor, fast_factor: mesh over shell length [-],
    of the species profile (sieve.hold_factor, sieve.fast_factor).
    Raises: BadInput.
    Source: common practice, no source; the factors carry theirs.
    """
    positive(shell_length_um, "µm", say("shell length"))
    positive(hold_factor, "1", say("hold factor"))
    positive(fast_factor, "1", say("fast factor"))
    return Sieves(hold_factor * shell_length_um, fast_factor * shell_length_um)


def widest_that_passes_um(mesh_um: float) -> float:
    """The width of a stiff body that just passes a square mesh on its diagonal [µm].

    mesh_um: side of the opening [µm].
    Raises: BadInput.
    Source: geometry.
    """
    return positive(mesh_um, "µm", "mesh") * DIAGONAL
