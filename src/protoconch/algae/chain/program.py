"""A mixed-integer linear program, written row by row and solved by HiGHS inside scipy."""

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from scipy.sparse import csr_array

Term = tuple[Hashable, float]
"""A variable by its key, and its coefficient."""


@dataclass(frozen=True, slots=True)
class Solved:
    """What the solver found.

    values: of all variables by key, None where it found no solution in its time.
    cost: of it, inf without one. bound: proven, no solution can cost less; -inf without one.
    impossible: it is proven that no solution exists.
    """

    values: Mapping[Hashable, float] | None
    cost: float
    bound: float
    impossible: bool = False

    @property
    def gap(self) -> float:
        """Share of the cost that lies above the bound."""
        return (self.cost - self.bound) / max(abs(self.cost), 1e-9)


@dataclass(slots=True)
class Program:
    """Variables and rows as they are written; the least cost is sought, `constant` included."""

    place: dict[Hashable, int] = field(default_factory=dict)
    costs: list[float] = field(default_factory=list)
    lows: list[float] = field(default_factory=list)
    highs: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[tuple[dict[int, float], float, float]] = field(default_factory=list)
    constant: float = 0.0
    named: dict[Hashable, int] = field(default_factory=dict)

    def variable(
        self, key: Hashable, high: float = np.inf, *, cost: float = 0.0, whole: bool = False,
        low: float = 0.0,
    ) -> None:  # fmt: skip
        """A new variable between low and high."""
        self.place[key] = len(self.costs)
        self.costs.append(cost)
        self.lows.append(low)
        self.highs.append(high)
        self.whole.append(whole)

    def hold(self, key: Hashable, value: float) -> None:
        """Holds a variable at a value."""
        place = self.place[key]
        self.lows[place] = self.highs[place] = value

    def charge(self, key: Hashable, cost: float) -> None:
        """Adds to the cost of a variable."""
        self.costs[self.place[key]] += cost

    def row(
        self, terms: Iterable[Term], low: float = -np.inf, high: float = np.inf,
        name: Hashable = None,
    ) -> None:  # fmt: skip
        """Keeps low <= sum of the terms <= high; the same variable may come twice.

        name: of a row whose price is asked for later; it must have a high and no low.
        """
        if name is not None:
            self.named[name] = len(self.rows)
        found: dict[int, float] = {}
        for key, weight in terms:
            found[self.place[key]] = found.get(self.place[key], 0.0) + weight
        self.rows.append((found, low, high))

    def solve(self, seconds: float, gap: float, *, relaxed: bool = False) -> Solved:
        """The best solution found within the time.

        seconds: of the solver. gap: share at which it may stop. relaxed: fractions allowed.
        """
        from scipy.optimize import Bounds, LinearConstraint, milp

        lows, highs = (np.array([row[side] for row in self.rows]) for side in (1, 2))
        result = milp(
            np.array(self.costs),
            constraints=LinearConstraint(self._matrix(), lows, highs),
            integrality=np.array(self.whole, dtype=np.int64) * (not relaxed),
            bounds=Bounds(np.array(self.lows), np.array(self.highs)),
            options={"time_limit": max(seconds, 0.01), "mip_rel_gap": gap},
        )
        bound = getattr(result, "mip_dual_bound", None)
        if result.x is None:
            known = -np.inf if bound is None else float(bound) + self.constant
            return Solved(None, np.inf, known, impossible=result.status == 2)
        values = {key: float(result.x[place]) for key, place in self.place.items()}
        least = result.fun if bound is None else bound
        return Solved(values, float(result.fun) + self.constant, float(least) + self.constant)

    def cost_of(self, values: Mapping[Hashable, float]) -> float:
        """Cost of a solution; values of other variables do not count, absent ones are 0."""
        return self.constant + sum(
            self.costs[place] * values.get(key, 0.0) for key, place in self.place.items()
        )

    def priced(self) -> tuple[float, dict[Hashable, float]]:
        """The cost of the relaxation, and what one more on the high of each named row saves.

        Returns: -inf and no prices where the relaxation has no solution.
        """
        from scipy.optimize import linprog
        from scipy.sparse import vstack

        matrix = self._matrix()
        lows, highs = (np.array([row[side] for row in self.rows]) for side in (1, 2))
        same = lows == highs
        below, above = np.isfinite(highs) & ~same, np.isfinite(lows) & ~same
        asked: dict[str, Any] = {
            "c": np.array(self.costs),
            "A_ub": vstack([matrix[below], -matrix[above]]),
            "b_ub": np.concatenate([highs[below], -lows[above]]),
            "A_eq": matrix[same],
            "b_eq": lows[same],
            "bounds": np.array([self.lows, self.highs]).T,
        }
        result = linprog(**asked, method="highs")
        if result.x is None:
            return -np.inf, {}
        order = {int(row): place for place, row in enumerate(np.flatnonzero(below))}
        prices = {name: -float(result.ineqlin.marginals[order[row]])
                  for name, row in self.named.items()}  # fmt: skip
        return float(result.fun or 0.0) + self.constant, prices

    def _matrix(self) -> "csr_array":
        from scipy.sparse import csr_array

        sizes = [len(row[0]) for row in self.rows]
        starts = np.concatenate(([0], np.cumsum(sizes)))
        places = np.fromiter((p for row in self.rows for p in row[0]), dtype=np.int32)
        weights: NDArray[np.float64] = np.fromiter(
            (w for row in self.rows for w in row[0].values()), dtype=float
        )
        shape = (len(self.rows), len(self.costs))
        return csr_array((weights, places, starts.astype(np.int32)), shape=shape)
