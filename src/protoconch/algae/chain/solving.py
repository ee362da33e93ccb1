"""Solves the schedule: lines are scheduled alone, at prices for the vessels that they share.

A line alone is nearly whole already in its relaxation, so it is solved in a blink. Where the lines
fit together into the vessels, the sum of their best is the best of all. Where they do not, each
vessel-day gets a price (Dantzig & Wolfe): first from the relaxation of all lines together, then
from the best mix of the line schedules found so far. The lines answer the prices with new
schedules; the sum of what they pay, less the value of the vessels, is a proven bound. A small
choice program picks one schedule for each line; where a few vessel-days are still held twice, one
line after another is scheduled anew in what the others leave.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np

from protoconch.algae.chain.formulation import Problem, formulated, stock_of, vessels_free
from protoconch.algae.chain.line_schedules import (
    CAREFUL,
    LINE_S,
    NEAR,
    Counts,
    LineSchedule,
    Numbers,
    Whole,
    line_solved,
    scheduled,
    sliced,
    together,
    vessels_held,
)
from protoconch.errors import BadInput

__all__ = ["Counts", "solved", "solved_anew", "vessels_held"]

ENOUGH = 0.01
"""Share above the bound at which a schedule is good enough; twice that for a quick answer."""
ROUNDS, PAIRS = 6, 2
"""Rounds of prices, and rounds of making pairs of lines anew, at effort 1."""
WORTH_A_TRY, RELAXED_S = 0.5, 4.0
"""Species-days short above the least possible from which on other lines are moved too, and the
seconds of the solver for a relaxation."""
DOUBLE_MIN = 400.0
"""What a vessel-day held twice weighs in the choice [min]; above any price that was seen."""
NEW_PRICES = 0.3
"""Weight of the newest prices against the best so far; keeps them from swinging."""

Parts = dict[int, LineSchedule]


@dataclass(slots=True)
class Search:
    """What is known so far: schedules by line, the best whole one, the bound and its prices."""

    problem: Problem
    effort: float
    bound: float
    prices: Numbers
    best_prices: Numbers
    pool: dict[int, list[LineSchedule]] = field(default_factory=dict)
    best: Parts = field(default_factory=dict)

    @property
    def free(self) -> Whole:
        """Vessels there are, (kinds, days)."""
        return vessels_free(self.problem)

    @property
    def done(self) -> bool:
        """Whether the best is good enough."""
        enough = ENOUGH if self.effort >= CAREFUL else 2 * ENOUGH
        return bool(self.best) and cost_of(self.best) <= self.bound * (1 + enough)

    def offer(self, parts: Parts) -> None:
        """Keeps a whole schedule that fits, where it is the best so far."""
        if fits(self.problem, parts) and (not self.best or cost_of(parts) < cost_of(self.best)):
            self.best = dict(parts)


def cost_of(parts: Parts) -> float:
    """Cost of all lines together [min]."""
    return sum(part.cost for part in parts.values())


def fits(problem: Problem, parts: Parts) -> bool:
    """Whether no vessel is held twice."""
    return bool((_held(parts, parts) <= vessels_free(problem)).all())


def _held(parts: Parts, lines: Iterable[int]) -> Whole:
    return np.asarray(np.sum([parts[line].held for line in lines], axis=0), dtype=np.int64)


def solved(problem: Problem, effort: float = 1.0) -> Counts:
    """The schedule of a problem, with its bound.

    effort: 1 is about ten seconds for 60 days, 4 species and 40 vessels where vessels are
        scarce, a second or two where they are not; less for a quick answer.
    Returns: always a whole schedule; what cannot be fed is in `short`.
    Raises: BadInput, where the room as it stands cannot be.
    """
    lines = range(len(problem.room.lines))
    alone = {line: line_solved(problem, line, None, effort) for line in lines}
    parts = {line: found for line, (found, _) in alone.items()}
    bound = sum(low for _, low in alone.values())
    if fits(problem, parts):
        return together(parts, bound)
    relaxed, named = formulated(problem).priced()
    prices = np.zeros((len(problem.room.kinds), problem.days))
    for name, price in named.items():
        if isinstance(name, tuple):
            prices[name[1], name[2]] = max(0.0, price)
    search = Search(problem, effort, max(bound, relaxed), prices, prices)
    search.pool = {line: [part] for line, part in parts.items()}
    for number in range(max(1, round(ROUNDS * effort))):
        before = (search.bound, cost_of(search.best))
        _answered(search)
        _chosen(search, first=number == 0)
        stuck = number > 1 and before == (search.bound, cost_of(search.best))
        if search.done or stuck:
            break
    _made_anew(search)
    return together(search.best, search.bound)


def solved_anew(
    problem: Problem, before: Problem, counts: Counts, first: int, lines: frozenset[int],
    effort: float = 1.0,
) -> Counts:  # fmt: skip
    """Some lines scheduled anew in the vessels that the others leave, which go on as before.

    before, counts: the old problem and its schedule; first: its day that is day 0 now.
    lines: those that lost a culture. Where food lacks then that need not, or where the others no
    longer fit, as when a vessel broke, they choose their vessels first and the others follow.
    Returns: a whole schedule; where others go on as before, cost and bound are those of the lines
        made anew among the vessels left.
    Raises: BadInput, where the room as it stands cannot be.
    """
    others = [line for line in range(len(problem.room.lines)) if line not in lines]
    kept = {line: sliced(before, counts, line, first, problem.days) for line in others}
    waiting = {line: _waiting(problem, before, counts, first, line) for line in lines}
    parts, bound = {**kept, **waiting}, 0.0
    try:
        for line in sorted(lines):
            used = _held(parts, [other for other in parts if other != line]) + _none(problem)
            parts[line], low = line_solved(problem, line, used, effort)
            bound += low
    except BadInput:
        parts = {}
    if parts and fits(problem, parts):
        found = together(parts, bound)
        if float(found.short.sum()) <= least_short(problem) + WORTH_A_TRY:
            return found
        return min((found, _in_turn(problem, [*sorted(lines), *others], effort)),
                   key=lambda made: float(made.short.sum()))  # fmt: skip
    return _in_turn(problem, [*sorted(lines), *others], effort)


def _in_turn(problem: Problem, order: list[int], effort: float) -> Counts:
    """Lines scheduled one after another, each in what those before it leave."""
    parts: Parts = {}
    bound = 0.0
    for place, line in enumerate(order):
        used = _all_standing(problem, order[place + 1 :])
        used = used + _held(parts, parts) if parts else used
        parts[line], low = line_solved(problem, line, used, effort)
        bound += low
    return together(parts, bound)


def least_short(problem: Problem) -> float:
    """Species-days short in the relaxation of all lines, which is nearly the least there can be."""
    relaxed = formulated(problem).solve(RELAXED_S, 0.0, relaxed=True)
    return sum(value for key, value in (relaxed.values or {}).items()
               if isinstance(key, tuple) and key[0] == "short")  # fmt: skip


def _waiting(
    problem: Problem, before: Problem, counts: Counts, first: int, line: int
) -> LineSchedule:  # fmt: skip
    """What a line that is to be made anew holds until then: its old vessels, without the lost.

    Where it has cultures that the old schedule does not know, those that stand as well.
    """
    part = sliced(before, counts, line, first, problem.days)
    lost = _lost(problem, before, counts, first, line)
    held = part.held - np.maximum(lost, 0)
    if (lost < 0).any():
        held = np.maximum(held, _standing(problem, line))
    return replace(part, held=held)


def _lost(problem: Problem, before: Problem, counts: Counts, first: int, line: int) -> Whole:
    """Vessels of cultures that the old schedule still has and that are being cleaned now."""
    found = _none(problem)
    for row, kind in enumerate(problem.room.kinds):
        for place, step in enumerate(problem.room.lines[line].steps):
            if step.kind == kind.name:
                then = stock_of(before, line, place).alive
                then += int((counts.started - counts.ended)[line, place, :first].sum())
                now = stock_of(problem, line, place).alive
                found[row, : kind.clean_days + 1] += then - now
    return found


def _none(problem: Problem) -> Whole:
    return np.zeros((len(problem.room.kinds), problem.days), dtype=np.int64)


def _answered(search: Search) -> None:
    """Each line answers the prices with a schedule; what they pay bounds the cost."""
    paid = -float((search.prices * search.free).sum())
    for line in search.pool:
        found, low = line_solved(
            search.problem, line, None, search.effort / 2, search.prices
        )  # fmt: skip
        search.pool[line].append(found)
        paid += low
    if paid > search.bound:
        search.bound, search.best_prices = paid, search.prices


def _chosen(search: Search, *, first: bool) -> None:
    """The best choice of one schedule for each line, made to fit; and the next prices."""
    picked, new_prices = _choice(search)
    search.offer(picked)
    _made_to_fit(search, picked)
    if first:
        _made_to_fit(search, {line: pool[0] for line, pool in search.pool.items()})
    mixed = (1 - NEW_PRICES) * search.best_prices + NEW_PRICES * new_prices
    search.prices = np.maximum(mixed, 0.0)


def _choice(search: Search) -> tuple[Parts, Numbers]:
    """One schedule for each line with the least cost and doubling, and prices of the mix."""
    from scipy.optimize import Bounds, LinearConstraint, linprog, milp

    entries = [(line, part) for line, pool in search.pool.items() for part in pool]
    size = search.free.size
    costs = np.array([part.cost for _, part in entries] + [DOUBLE_MIN] * size)
    held = np.array([part.held.ravel() for _, part in entries]).T
    shared = np.hstack([held, -np.eye(size)])
    once = np.zeros((len(search.pool), len(costs)))
    for place, (line, _) in enumerate(entries):
        once[list(search.pool).index(line), place] = 1
    free, ones = search.free.ravel().astype(float), np.ones(len(search.pool))
    mix = linprog(costs, A_ub=shared, b_ub=free, A_eq=once, b_eq=ones, method="highs")
    found = milp(
        costs,
        constraints=[LinearConstraint(shared, -np.inf, free), LinearConstraint(once, 1, 1)],
        integrality=np.array([1] * len(entries) + [0] * size),
        bounds=Bounds(0, np.inf),
        options={"time_limit": LINE_S, "mip_rel_gap": NEAR},
    )
    chosen = np.asarray(mix.x if found.x is None else found.x)
    parts: Parts = {}
    for place in np.argsort(-chosen[: len(entries)], kind="stable"):
        parts.setdefault(entries[place][0], entries[place][1])
    return parts, np.asarray(-mix.ineqlin.marginals).reshape(search.free.shape)


def _made_to_fit(search: Search, parts: Parts) -> None:
    """Lines scheduled anew in what the others leave, the most doubled first, until all fit."""
    parts = dict(parts)
    waiting: list[int] = []
    while parts:
        over = _held(parts, parts) + _all_standing(search.problem, waiting) - search.free
        if (over <= 0).all():
            break
        doubled = np.maximum(over, 0)
        weight = {line: int((np.minimum(part.held, 1) * doubled).sum())
                  for line, part in parts.items()}  # fmt: skip
        line = min(parts, key=lambda name: (-weight[name], parts[name].cost))
        waiting.append(line)
        del parts[line]
    while waiting:
        line = waiting.pop()
        others = _all_standing(search.problem, waiting)
        if parts:
            others = others + _held(parts, parts)
        parts[line], _ = line_solved(search.problem, line, others, search.effort)
        search.pool[line].append(parts[line])
    search.offer(parts)


def _all_standing(problem: Problem, lines: list[int]) -> Whole:
    found = _none(problem)
    for line in lines:
        found = found + _standing(problem, line)
    return found


def _standing(problem: Problem, line: int) -> Whole:
    """Vessels of the cultures that a line has now, held until the last of their days."""
    found = _none(problem)
    rows = {kind.name: row for row, kind in enumerate(problem.room.kinds)}
    for culture in problem.present.cultures:
        if culture.species == problem.room.lines[line].species:
            row = rows[problem.room.lines[line].steps[culture.step].kind]
            found[row, : max(0, culture.last) + 1 + problem.room.kinds[row].clean_days] += 1
    return found


def _made_anew(search: Search) -> None:
    """One kind of vessel, or one pair of lines, made anew while the rest is held."""
    lines = sorted(search.best)
    for _ in range(round(PAIRS * search.effort)):
        before = cost_of(search.best)
        for kind in search.problem.room.kinds:
            _anew(search, lines, kind.name)
        for pair in combinations(lines, 2):
            _anew(search, list(pair), "")
        if cost_of(search.best) > before * (1 - 1e-4):
            break


def _anew(search: Search, lines: list[int], kind: str) -> None:
    if search.done:
        return
    parts = dict(search.best)
    others = [line for line in parts if line not in lines]
    used = _held(parts, others) if others else np.zeros_like(search.free)
    program = formulated(search.problem, frozenset(lines), used)
    for line in lines if kind else ():
        for place, step in enumerate(search.problem.room.lines[line].steps):
            for day in range(search.problem.days if step.kind != kind else 0):
                key = (line, place, day)
                program.hold(("n", *key), float(parts[line].counts.started[key]))
    found = program.solve(LINE_S * search.effort, NEAR)
    if found.cost < sum(parts[line].cost for line in lines) * (1 - 1e-6):
        parts |= {line: scheduled(search.problem, line, found) for line in lines}
        search.offer(parts)
