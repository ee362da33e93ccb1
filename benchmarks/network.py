"""The network solver against a general root finder on the same equations.

Run: python -m benchmarks.network [--seeds 5] [--largest 200]

Unknowns of the root finder are the flows of all open parts and the heads of all joints; equations
are the balance at joints and the fall of head along parts. Both start from the same flows. Printed:
the median time, how many were solved (heads agree to 0.1 mm), and the largest residual of those.
"""

import argparse
import time
import warnings
from collections.abc import Callable
from statistics import median

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import root

from protoconch.waterworks.network.laws import laws_of
from protoconch.waterworks.network.parts import MOUTHS, Network
from protoconch.waterworks.network.paths import standing_alone
from protoconch.waterworks.network.solving import imbalance, settled
from protoconch.waterworks.water import L_MIN_PER_M3_S
from tests.waterworks.made_up_networks import generated

Array = NDArray[np.float64]
SOLVED_M = 1e-4


def equations(network: Network) -> tuple[Callable[[Array], Array], Array]:
    """Residuals of the whole system, scaled to metres and litres a minute, and a start."""
    alone = standing_alone(network)
    parts = [p for p in network.pressed if not p.shut and p.start not in alone]
    mouths = frozenset(p.name for p in network.places if p.kind in MOUTHS)
    laws = laws_of(parts, mouths, network.water)
    used = {end for part in parts for end in (part.start, part.end)}
    joints = [p.name for p in network.places if p.kind == "joint" and p.name in used]
    column = {name: j for j, name in enumerate(joints)}
    heights = {place.name: place.height_m for place in network.places}
    meets, fixed = np.zeros((len(parts), len(joints))), np.zeros(len(parts))
    for i, part in enumerate(parts):
        for name, sign in ((part.start, 1.0), (part.end, -1.0)):
            if name in column:
                meets[i, column[name]] = sign
            else:
                fixed[i] += sign * heights[name]
    count = len(parts)

    def residuals(x: Array) -> Array:
        q, h = x[:count] / L_MIN_PER_M3_S, x[count:]
        falls = laws.heads_and_slopes(q)[0] - fixed - meets @ h
        return np.concatenate([falls, meets.T @ x[:count]])

    start = 0.5 * np.pi * np.minimum(laws.bore_m, 0.05) ** 2 / 4 * L_MIN_PER_M3_S
    return residuals, np.concatenate([start, np.full(len(joints), 10.0)])


def general(network: Network, method: str) -> tuple[float, float]:
    """Time [s] and largest residual of a general root finder."""
    residuals, start = equations(network)
    begun = time.perf_counter()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            found = root(residuals, start, method=method, tol=1e-10).x
        except (ValueError, FloatingPointError, np.linalg.LinAlgError):
            found = start
    took = time.perf_counter() - begun
    return took, float(np.max(np.abs(np.nan_to_num(residuals(found), nan=np.inf))))


def ours(network: Network) -> tuple[float, float]:
    """Time [s] and largest disagreement of heads of the solver [m]."""
    begun = time.perf_counter()
    found = settled(network)
    took = time.perf_counter() - begun
    return took, max(found.residual_m, imbalance(network, found))


def report(name: str, results: list[tuple[float, float]]) -> None:
    """One line of the table."""
    good = [residual for _, residual in results if residual < SOLVED_M]
    worst = f"{max(good):.1e}" if good else "-"
    took = 1000 * median(seconds for seconds, _ in results)
    print(f"  {name:28} {took:10.1f} ms   solved {len(good)} of {len(results)}   {worst}")


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seeds", type=int, default=5)
    asked.add_argument("--largest", type=int, default=200)
    given = asked.parse_args()
    settled(generated(10, 0))
    for parts in (20, 50, 100, 200):
        if parts > given.largest:
            break
        networks = [generated(parts, seed) for seed in range(given.seeds)]
        print(f"{parts} parts")
        report("this solver", [ours(network) for network in networks])
        for method in ("hybr", "lm"):
            report(f"scipy.optimize.root {method}", [general(n, method) for n in networks])


if __name__ == "__main__":
    main()
