"""Solves the schedule: each line alone first, then with the vessels that the others leave.

A line alone is nearly whole already in its relaxation, so it is solved in a blink. Where the lines
together fit into the vessels, the sum of their best is the best of all. Where they do not, they
take turns, in several orders, and then pairs of lines are made anew among the others as long as
that helps. The bound holds whatever was found: the larger of the sum of the lines' own bounds and
the relaxation of all lines together.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations, permutations

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.formulation import Problem, formulated, stock_of, vessels_free
from protoconch.algae.chain.program import Program, Solved
from protoconch.errors import BadInput

Whole = NDArray[np.int64]
Numbers = NDArray[np.float64]
NEAR, ENOUGH = 0.002, 0.01
"""Shares above the bound at which the solver may stop a line, and at which all of it is enough."""
LINE_S, ALL_S = 1.5, 4.0
"""Seconds of the solver for one line or a pair, and for the relaxation of all."""
LEAST_EFFORT = 0.6
"""A line alone gets this much even where a quick answer is wanted: without it there is no plan."""
ORDERS, ROUNDS = 3, 3
"""Orders in which the lines take turns, and rounds of making pairs anew."""


@dataclass(frozen=True, slots=True)
class Counts:
    """A schedule in counts; shape (lines, steps, days), steps padded to the longest line.

    started, ended: cultures, ended in the evening (poured out, used up or thrown away).
    poured: those of `ended` that went into the next step. fed: loads, short: share of the demand
    unmet, both shape (lines, days). cost: of the program [min]. bound: no schedule costs less.
    """

    started: Whole
    ended: Whole
    poured: Whole
    fed: Numbers
    short: Numbers
    cost: float
    bound: float

    @property
    def gap(self) -> float:
        """Share of the cost above the bound; at least 0."""
        return max(0.0, (self.cost - self.bound) / max(abs(self.cost), 1e-9))


def solved(problem: Problem, effort: float = 1.0) -> Counts:
    """The schedule of a problem, with its bound.

    effort: 1 is about five to ten seconds for 60 days, 4 species and 40 vessels where vessels are
        scarce, under a second where they are not; less for a quick answer.
    Returns: always a whole schedule; what cannot be fed is in `short`.
    """
    lines = range(len(problem.room.lines))
    alone = {line: _line(problem, frozenset([line]), None, effort) for line in lines}
    bound = sum(found.bound for found in alone.values())
    parts = {line: _counts(problem, found, [line]) for line, found in alone.items()}
    if _fits(problem, parts.values()):
        return _together(parts, bound)
    relaxed = formulated(problem).solve(ALL_S * max(effort, 0.25), 0.0, relaxed=True)
    bound = max(bound, relaxed.cost if relaxed.values else -np.inf)
    best: dict[int, Counts] = {}
    for order in _orders(alone, round(ORDERS * effort)):
        for tried in _ways(problem, order, parts, effort):
            if not best or _cost(tried) < _cost(best):
                best = tried
        if _cost(best) <= bound * (1 + ENOUGH):
            break
    return _together(_improved(problem, best, bound, effort), bound)


def _ways(
    problem: Problem, order: tuple[int, ...], alone: dict[int, Counts], effort: float
) -> Iterator[dict[int, Counts]]:
    """Lines in turn with their spare cultures; and all of them fed before any has a spare one."""
    yield _in_turn(problem, order, alone, effort)
    if not any(problem.room.spare.values()):
        return
    bare = replace(problem, room=replace(problem.room, spare={}))
    parts = _in_turn(bare, order, {}, effort)
    for line in order:
        others = _held_by(problem, parts, [other for other in parts if other != line])
        found = _line(problem, frozenset([line]), others, effort)
        parts[line] = _counts(problem, found, [line])
    yield parts


def _line(
    problem: Problem, only: frozenset[int], used: Whole | None, effort: float
) -> Solved:  # fmt: skip
    """The best of two ways: all at once; and without spare cultures first, then with them."""
    seconds = LINE_S * max(effort, LEAST_EFFORT)
    whole = formulated(problem, only, used).solve(seconds, NEAR)
    if whole.impossible:
        raise BadInput(
            "The algae room as it stands cannot be scheduled: more cultures are there than vessels,"
            " or one is past its last day; look at what is written of the cultures."
        )
    if whole.values is not None and whole.gap <= 2 * NEAR:
        return whole
    staged = _staged(problem, only, used, seconds)
    bound = max(whole.bound, -np.inf)
    best = min((whole, staged), key=lambda found: found.cost)
    return replace(best, bound=min(bound, best.cost))


def _staged(problem: Problem, only: frozenset[int], used: Whole | None, seconds: float) -> Solved:
    """First without spare cultures, then with them around the cultures that feed."""
    bare = replace(problem, room=replace(problem.room, spare={}))
    first = formulated(bare, only, used).solve(seconds, NEAR)
    program = formulated(problem, only, used)
    if first.values is None:
        return _nothing(program)
    highest = max((place for line in only for place, step in
                   enumerate(problem.room.lines[line].steps) if problem.room.spare.get(step.kind)),
                  default=-1)  # fmt: skip
    for key, value in first.values.items():
        if isinstance(key, tuple) and key[0] == "n" and key[2] > highest:
            program.hold(key, round(value))
    second = program.solve(seconds, NEAR)
    if second.values is None:
        return _nothing(formulated(problem, only, used))
    return second


def _nothing(program: Program) -> Solved:
    """The schedule that starts nothing, which is always possible."""
    for key in program.place:
        if isinstance(key, tuple) and key[0] == "n":
            program.hold(key, 0.0)
    return program.solve(LINE_S, NEAR)


def _counts(problem: Problem, found: Solved, lines: Iterable[int]) -> Counts:
    values = found.values or {}
    steps = max(len(line.steps) for line in problem.room.lines)
    shape = (len(problem.room.lines), steps, problem.days)
    started, poured = np.zeros(shape, dtype=np.int64), np.zeros(shape, dtype=np.int64)
    up_to = np.zeros(shape, dtype=np.int64)
    fed, short = np.zeros((shape[0], shape[2])), np.zeros((shape[0], shape[2]))
    for line in lines:
        for place in range(len(problem.room.lines[line].steps)):
            for day in range(problem.days):
                key = (line, place, day)
                started[key] = round(values.get(("n", *key), 0.0))
                up_to[key] = round(values.get(("X", *key), 0.0))
        for place, above in enumerate(problem.room.lines[line].steps[1:]):
            poured[line, place] = -(-started[line, place + 1] * above.donors // above.starts)
        for day in range(problem.days):
            fed[line, day] = values.get(("f", line, day), 0.0)
            short[line, day] = min(1.0, max(0.0, values.get(("short", line, day), 0.0)))
    ended = np.diff(up_to, axis=2, prepend=0)
    return Counts(started, ended, poured, fed, short, found.cost, found.bound)


def vessels_held(problem: Problem, counts: Counts) -> Whole:
    """Vessels of each kind that hold a culture or are being cleaned after one, (kinds, days)."""
    found = np.zeros((len(problem.room.kinds), problem.days), dtype=np.int64)
    for row, kind in enumerate(problem.room.kinds):
        wait = kind.clean_days + 1
        for line, species in enumerate(problem.room.lines):
            for place, step in enumerate(species.steps):
                if step.kind != kind.name:
                    continue
                gone = np.cumsum(counts.ended[line, place])
                found[row] += stock_of(problem, line, place).alive
                found[row] += np.cumsum(counts.started[line, place])
                found[row, wait:] -= gone[:-wait]
    return found


def _held_by(problem: Problem, parts: dict[int, Counts], lines: Iterable[int]) -> Whole:
    """Vessels that these lines hold; the cultures that others have now are not among them."""
    found = np.zeros((len(problem.room.kinds), problem.days), dtype=np.int64)
    for line in lines:
        alone = _only_line(problem, line)
        found += vessels_held(alone, _slice(parts[line], line))
    return found


def _only_line(problem: Problem, line: int) -> Problem:
    room = replace(problem.room, lines=(problem.room.lines[line],))
    return replace(problem, room=room, demand=problem.demand[line : line + 1])


def _slice(counts: Counts, line: int) -> Counts:
    one = slice(line, line + 1)
    return replace(counts, started=counts.started[one], ended=counts.ended[one],
                   poured=counts.poured[one], fed=counts.fed[one],
                   short=counts.short[one])  # fmt: skip


def _fits(problem: Problem, parts: Iterable[Counts]) -> bool:
    parts = list(parts)
    held = _held_by(problem, dict(enumerate(parts)), range(len(parts)))
    return bool((held <= vessels_free(problem)).all())


def _cost(parts: dict[int, Counts]) -> float:
    return sum(part.cost for part in parts.values())


def _orders(alone: dict[int, Solved], most: int) -> Iterator[tuple[int, ...]]:
    """Orders to try, the costliest line first in the first of them."""
    by_cost = sorted(alone, key=lambda line: -alone[line].bound)
    for number, order in enumerate(permutations(by_cost)):
        if number >= max(1, most):
            return
        yield order


def _in_turn(
    problem: Problem, order: tuple[int, ...], alone: dict[int, Counts], effort: float
) -> dict[int, Counts]:
    """Each line with the vessels that those before it leave, and those after it hold already."""
    parts: dict[int, Counts] = {}
    for line in order:
        used = _held_by(problem, parts, parts) + _waiting(problem, order, parts, line)
        free = vessels_free(problem) - used
        if line in alone and (_held_by(problem, alone, [line]) <= free).all():
            parts[line] = alone[line]
        else:
            found = _line(problem, frozenset([line]), used, effort)
            parts[line] = _counts(problem, found, [line])
    return parts


def _waiting(
    problem: Problem, order: tuple[int, ...], parts: dict[int, Counts], line: int
) -> Whole:
    """Vessels with cultures of the lines whose turn comes later, until their last day of use."""
    later = {problem.room.lines[i].species for i in order if i not in parts and i != line}
    found = np.zeros((len(problem.room.kinds), problem.days), dtype=np.int64)
    names = [kind.name for kind in problem.room.kinds]
    for culture in problem.present.cultures:
        if culture.species in later:
            lines = {entry.species: entry for entry in problem.room.lines}
            row = names.index(lines[culture.species].steps[culture.step].kind)
            until = max(0, culture.last) + 2 + problem.room.kinds[row].clean_days
            found[row, :until] += 1
    return found


def _improved(
    problem: Problem, parts: dict[int, Counts], bound: float, effort: float
) -> dict[int, Counts]:
    """One kind of vessel or one pair of lines made anew, the rest held, as long as that helps."""
    for _ in range(max(1, round(ROUNDS * effort))):
        before = _cost(parts)
        for held, lines in _neighbours(problem):
            if _cost(parts) <= bound * (1 + ENOUGH):
                return parts
            _anew(problem, parts, held, lines, effort)
        if _cost(parts) > before * (1 - 1e-4):
            break
    return parts


def _neighbours(problem: Problem) -> Iterator[tuple[str, tuple[int, ...]]]:
    """What to make anew: a kind with all lines, or ("") everything of a pair of lines."""
    lines = tuple(range(len(problem.room.lines)))
    for kind in problem.room.kinds:
        yield kind.name, lines
    for pair in combinations(lines, 2):
        yield "", pair


def _anew(
    problem: Problem, parts: dict[int, Counts], kind: str, lines: tuple[int, ...], effort: float
) -> None:  # fmt: skip
    others = [line for line in parts if line not in lines]
    program = formulated(problem, frozenset(lines), _held_by(problem, parts, others))
    for line in lines if kind else ():
        for place, step in enumerate(problem.room.lines[line].steps):
            for day in range(problem.days if step.kind != kind else 0):
                key = (line, place, day)
                program.hold(("n", *key), float(parts[line].started[key]))
    found = program.solve(LINE_S * effort, NEAR)
    if found.cost < sum(parts[line].cost for line in lines) * (1 - 1e-6):
        all_of_them = _counts(problem, found, lines)
        for line in lines:
            parts[line] = _share(problem, found, all_of_them, line)


def _share(problem: Problem, found: Solved, both: Counts, line: int) -> Counts:
    """The part of a pair that is one line's, with its own cost."""
    values = found.values or {}
    program = formulated(problem, frozenset([line]))
    cost = program.constant + sum(
        program.costs[place] * values.get(key, 0.0) for key, place in program.place.items()
    )
    mine = np.arange(len(both.fed)) == line
    pick = mine[:, None, None]
    return Counts(both.started * pick, both.ended * pick, both.poured * pick,
                  both.fed * mine[:, None], both.short * mine[:, None], cost, -np.inf)  # fmt: skip


def _together(parts: dict[int, Counts], bound: float) -> Counts:
    names = ("started", "ended", "poured", "fed", "short")
    arrays = {name: sum(getattr(part, name) for part in parts.values()) for name in names}
    cost = _cost(parts)
    return Counts(**arrays, cost=cost, bound=min(bound, cost))
