"""Losses in bends, tees and valves."""

from collections.abc import Mapping

import numpy as np

from protoconch.errors import UnknownName
from protoconch.waterworks.parameters import table
from protoconch.words import say


def fitting_kinds() -> tuple[str, ...]:
    """Names of the fittings that the data file has."""
    fittings = table("fittings")
    return (*fittings["lengths"], *fittings["fixed"])


def turbulent_friction(nominal_in: float) -> float:
    """Friction factor of a fitting's size in full turbulence [-].

    nominal_in: nominal size [in]; between the printed sizes a straight line, beyond them the last.
    Source: Crane Technical Paper 410, table A-26 of the older editions.
    """
    sizes, factors = zip(*table("fittings")["turbulent_friction"]["by_size"], strict=True)
    return float(np.interp(nominal_in, sizes, factors))


def fitting_k(kind: str, nominal_in: float) -> float:
    """Loss of one fitting in speed heads [-].

    kind: as fitting_kinds lists. nominal_in: nominal size [in].
    Raises: UnknownName.
    Source: Crane Technical Paper 410, K = n fT; other methods give 0.67 to 0.80 for a 1-inch elbow.
    """
    fittings = table("fittings")
    if kind in fittings["fixed"]:
        return float(fittings["fixed"][kind].number)
    if kind in fittings["lengths"]:
        return float(fittings["lengths"][kind].number) * turbulent_friction(nominal_in)
    raise UnknownName(
        say(
            "There is no fitting {kind!r}; there are {names}.",
            kind=kind,
            names=", ".join(fitting_kinds()),
        )
    )


def fittings_k(counts: Mapping[str, int], nominal_in: float) -> float:
    """Loss of all fittings of a line in speed heads [-].

    counts: how many of each kind. nominal_in: nominal size [in].
    Raises: UnknownName.
    """
    return sum(count * fitting_k(kind, nominal_in) for kind, count in counts.items())
