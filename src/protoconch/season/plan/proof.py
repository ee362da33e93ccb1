"""Proof that no smaller choice reaches what is asked on the common futures.

The chance-constrained program is solved by a constraint solver (an extra, `pip install
'protoconch[proof]'`): whole lots of each option, every daily limit of the room, and at most so many
futures in which the target is missed (sample average approximation, Luedtke & Ahmed 2008, SIAM J
Optim 19:674, from memory). The egg masses' rule and errands are those of room.py, as linear bounds.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import floor

import numpy as np

from protoconch.season.plan.room import Choice
from protoconch.season.plan.search import Search

HOURS_SCALE = 100
YIELD_SCALE = 20


@dataclass(frozen=True, slots=True)
class Proof:
    """The solver's best choice and the least hours any choice can have [h].

    proved: the two are equal. choice is None where nothing reaches what is asked.
    """

    choice: Choice | None
    hours: float
    at_least: float
    proved: bool

    @property
    def gap(self) -> float:
        """Share of the hours by which a better choice might still be smaller."""
        return (self.hours - self.at_least) / self.hours if self.hours else 0.0


def prove(search: Search, ask: float, draws: int, seconds: float) -> Proof:
    """Solve for fewest hours on the first `draws` common futures.

    Hours are those of the lots and of the collecting trips; egg masses are counted afterwards.
    """
    from ortools.sat.python import cp_model

    room, model = search.room, cp_model.CpModel()
    lots = [
        [model.new_bool_var(f"{o.index}_{number}") for number in range(o.most)]
        for o in room.options
    ]
    for row in lots:
        for first, second in pairwise(row):
            model.add_implication(second, first)
    starts = sorted({o.calendar.start for o in room.options})
    begun = {start: model.new_bool_var(f"begun_{start}") for start in starts}
    for option, row in zip(room.options, lots, strict=True):
        if row:
            model.add_implication(row[0], begun[option.calendar.start])
    for use, available in zip(room.use, room.available, strict=True):
        model.add(
            sum(round(1000 * u) * lot
                for u, row in zip(use, lots, strict=True) if u for lot in row)
            <= floor(1000 * available + 1e-6)
        )  # fmt: skip
    model.add(sum(begun.values()) <= room.setting.hatchery.permit.egg_masses)
    missed = [model.new_bool_var(f"missed_{s}") for s in range(draws)]
    goal = int(np.ceil(YIELD_SCALE * search.animals))
    tables = [
        np.minimum(YIELD_SCALE * np.diff(o.totals[:, :draws], axis=0), goal).astype(np.int64)
        for o in room.options
    ]
    for s in range(draws):
        model.add(
            sum(int(table[n, s]) * lot
                for table, row in zip(tables, lots, strict=True) for n, lot in enumerate(row))
            >= goal
        ).only_enforce_if(missed[s].Not())  # fmt: skip
    model.add(sum(missed) <= floor((1.0 - ask) * draws + 1e-9))
    model.minimize(
        sum(round(HOURS_SCALE * cost) * lot
            for cost, row in zip(room.cost, lots, strict=True) for lot in row)
        + sum(round(HOURS_SCALE * (room.trip_hours + room.mass_hours[start])) * var
              for start, var in begun.items())
    )  # fmt: skip
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 8
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Proof(None, float("inf"), float("inf"), status == cp_model.INFEASIBLE)
    choice = np.array([sum(solver.value(lot) for lot in row) for row in lots], dtype=np.int64)
    return Proof(
        choice, solver.objective_value / HOURS_SCALE, solver.best_objective_bound / HOURS_SCALE,
        status == cp_model.OPTIMAL,
    )  # fmt: skip
