"""Proof that no smaller choice reaches what is asked on the common futures.

The chance-constrained program is solved by a constraint solver (an extra, `pip install
'protoconch[proof]'`): whole lots of each option, every daily limit of the room, and at most so many
futures in which the target is missed (sample average approximation, Luedtke & Ahmed 2008, SIAM J
Optim 19:674, from memory). Its bound is made tight before it begins: whatever the choice, at most
k futures are missed, so any weighted sum of lots is at least the (k+1)th largest of its least
values in single futures (Luedtke 2014, Math Program 146:219, from memory).
"""

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from typing import Any

import numpy as np
from numpy.typing import NDArray

from protoconch.season.plan.room import Choice, Numbers
from protoconch.season.plan.search import Search

HOURS_SCALE = 100
YIELD_SCALE = 20
USE_SCALE = 1000


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
        return (self.hours - self.at_least) / self.hours if self.choice is not None else 0.0


def prove(
    search: Search, ask: float, draws: int, seconds: float, known: Choice | None = None
) -> Proof:
    """Solve for fewest hours on the first `draws` common futures.

    known: a choice to begin from. Hours are those of lots, collecting trips and one egg mass a
    trip; the further masses that the genetics rule asks for are not counted.
    """
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    lots = _lots(search, model)
    begun = _begun(search, model, lots)
    _keep_to_the_room(search, model, lots, begun)
    _meet_the_target(search, model, lots, ask, draws)
    room = search.room
    hours = sum(
        round(HOURS_SCALE * cost) * lot
        for cost, row in zip(room.cost, lots, strict=True)
        for lot in row
    )
    errands = sum(
        round(HOURS_SCALE * (room.trip_hours + room.mass_hours[start])) * var
        for start, var in begun.items()
    )
    model.minimize(hours + errands)
    if known is not None:
        for row, count in zip(lots, known, strict=True):
            for number, lot in enumerate(row):
                model.add_hint(lot, int(number < count))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 8
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Proof(None, float("inf"), float("inf"), status == cp_model.INFEASIBLE)
    choice = np.array([sum(solver.value(lot) for lot in row) for row in lots], dtype=np.int64)
    return Proof(
        choice,
        solver.objective_value / HOURS_SCALE,
        solver.best_objective_bound / HOURS_SCALE,
        status == cp_model.OPTIMAL,
    )


def _lots(search: Search, model: Any) -> list[list[Any]]:
    """A yes or no for the first, second, ... lot of each option."""
    lots = [
        [model.new_bool_var(f"lot {option.index} {number}") for number in range(option.most)]
        for option in search.room.options
    ]
    for row in lots:
        for first, second in pairwise(row):
            model.add_implication(second, first)
    return lots


def _begun(search: Search, model: Any, lots: list[list[Any]]) -> dict[int, Any]:
    """A yes or no for every day on which a batch may begin."""
    starts = sorted({option.calendar.start for option in search.room.options})
    begun = {start: model.new_bool_var(f"begun {start}") for start in starts}
    for option, row in zip(search.room.options, lots, strict=True):
        model.add_implication(row[0], begun[option.calendar.start])
    return begun


def _keep_to_the_room(
    search: Search, model: Any, lots: list[list[Any]], begun: dict[int, Any]
) -> None:
    """Every daily limit that could be exceeded, and the permit."""
    room = search.room
    most = np.array([option.most for option in room.options])
    tight = room.use @ most > room.available
    for use, available in zip(room.use[tight], room.available[tight], strict=True):
        taken = sum(
            round(USE_SCALE * u) * lot for u, row in zip(use, lots, strict=True) if u for lot in row
        )
        model.add(taken <= floor(USE_SCALE * available + 1e-6))
    model.add(sum(begun.values()) <= room.setting.hatchery.permit.egg_masses)


def _meet_the_target(
    search: Search, model: Any, lots: list[list[Any]], ask: float, draws: int
) -> None:
    """At most the allowed share of futures may miss the target."""
    goal = ceil(YIELD_SCALE * search.animals)
    table = np.concatenate(
        [np.diff(option.totals[:, :draws], axis=0) for option in search.room.options]
    )
    yields = np.minimum(YIELD_SCALE * table.astype(np.float64), goal).astype(np.int64)
    flat = [lot for row in lots for lot in row]
    may_miss = floor((1.0 - ask) * draws + 1e-9)
    missed = [model.new_bool_var(f"missed {s}") for s in range(draws)]
    model.add(sum(missed) <= may_miss)
    least = _least_in_any_choice(yields.astype(np.float64), goal, may_miss)
    for s in range(draws):
        enough = sum(int(y) * lot for y, lot in zip(yields[:, s], flat, strict=True) if y)
        model.add(enough + (goal - floor(least[s])) * missed[s] >= goal)


def _least_in_any_choice(yields: Numbers, goal: int, may_miss: int) -> Numbers:
    """What every allowed choice yields at least in each future, by the (k+1)th largest rule.

    yields: (lots, draws). Returns (draws,); 0 where nothing is sure.
    """
    draws = yields.shape[1]
    at_least = np.zeros((draws, draws))
    for t in range(draws):
        at_least[:, t] = _cheapest_cover(yields, yields[:, t], goal)
    ranked = np.sort(at_least, axis=1)[:, ::-1]
    return np.asarray(np.minimum(ranked[:, min(may_miss, draws - 1)], goal))


def _cheapest_cover(weights: Numbers, yields: NDArray[np.float64], goal: float) -> Numbers:
    """Least weight of parts of lots that together yield the goal; goal where they cannot.

    weights: (lots, columns), one problem for each column; yields: (lots,). Returns (columns,).
    """
    used = yields > 0
    w, y = weights[used], yields[used]
    if y.sum() < goal:
        return np.full(weights.shape[1], goal)
    order = np.argsort(w / y[:, None], axis=0)
    filled = np.cumsum(np.take_along_axis(np.broadcast_to(y[:, None], w.shape), order, axis=0),
                       axis=0)  # fmt: skip
    before = filled - np.take_along_axis(np.broadcast_to(y[:, None], w.shape), order, axis=0)
    part = np.clip((goal - before) / (filled - before), 0.0, 1.0)
    return np.asarray((part * np.take_along_axis(w, order, axis=0)).sum(axis=0))
