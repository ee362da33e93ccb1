"""Schedules of single lines, and the vessels they hold: the parts that a whole one is made of."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.formulation import Problem, formulated, stock_of
from protoconch.algae.chain.program import Program, Solved
from protoconch.errors import BadInput
from protoconch.words import say

Whole = NDArray[np.int64]
Numbers = NDArray[np.float64]
NEAR = 0.002
"""Share of the cost at which the solver may stop a line."""
ROUGH, CAREFUL = 0.01, 0.5
"""The same share for a quick answer, and the effort from which on an answer is not quick."""
LINE_S, LEAST_S = 1.5, 0.9
"""Seconds of the solver for one line or a pair; a line gets the least even for a quick answer."""
WINDOW_D, WINDOW_S = 28, 0.4
"""Days of a schedule made anew at once while the rest is held, and the solver's seconds."""
USUAL_DAYS = 60
"""Days of a schedule for which the seconds are meant; longer ones get more."""


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

    def rest(self, first: int, days: int) -> "Counts":
        """The same schedule from its day `first` on, for so many days."""
        span = slice(first, first + days)
        return replace(
            self, started=self.started[:, :, span], ended=self.ended[:, :, span],
            poured=self.poured[:, :, span], fed=self.fed[:, span], short=self.short[:, span],
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class LineSchedule:
    """A schedule of one line: its counts, what it costs, the vessels it holds, (kinds, days)."""

    counts: Counts
    cost: float
    held: Whole


def line_solved(
    problem: Problem, line: int, used: Whole | None = None, effort: float = 1.0,
    prices: Numbers | None = None,
) -> tuple[LineSchedule, float]:  # fmt: skip
    """The best schedule of a line among the vessels left, and a bound on its priced cost.

    used: vessels that others hold, (kinds, days). prices: of a vessel for a day, (kinds, days);
    the line then pays for the vessels that it holds.
    Raises: BadInput, where the room as it stands cannot be.
    """
    seconds = max(LEAST_S, LINE_S * effort) * max(1.0, problem.days / USUAL_DAYS)
    near = NEAR if effort >= CAREFUL else ROUGH
    whole = _program(problem, line, used, prices).solve(seconds, near)
    if whole.impossible:
        raise BadInput(
            say(
                "The algae room as it stands cannot be scheduled: more cultures are there than"
                " vessels,"
                " or one is past its last day; look at what is written of the cultures."
            )
        )
    best = whole
    if whole.values is None or whole.gap > 2 * near:
        staged = _staged(problem, line, used, prices, seconds)
        best = min((whole, staged), key=lambda found: found.cost)
        if used is None and prices is None:
            best = _smoothed(problem, line, best, whole.bound + near * abs(best.cost))
    return scheduled(problem, line, best), min(whole.bound, best.cost)


def _program(
    problem: Problem, line: int, used: Whole | None, prices: Numbers | None
) -> Program:  # fmt: skip
    program = formulated(problem, frozenset([line]), used)
    if prices is not None:
        rows = {kind.name: row for row, kind in enumerate(problem.room.kinds)}
        for place, step in enumerate(problem.room.lines[line].steps):
            row = rows[step.kind]
            wait = problem.room.kinds[row].clean_days + 1
            for day in range(problem.days):
                program.charge(("N", line, place, day), float(prices[row, day]))
                if day >= wait:
                    program.charge(("X", line, place, day - wait), -float(prices[row, day]))
            program.constant += stock_of(problem, line, place).alive * float(prices[row].sum())
    return program


def _staged(
    problem: Problem, line: int, used: Whole | None, prices: Numbers | None, seconds: float
) -> Solved:  # fmt: skip
    """First without spare cultures, then with them around the steps above them."""
    bare = replace(problem, room=replace(problem.room, spare={}))
    first = _program(bare, line, used, prices).solve(seconds, NEAR)
    steps = problem.room.lines[line].steps
    spared = [place for place, step in enumerate(steps) if problem.room.spare.get(step.kind)]
    for highest in (max(spared, default=-1), -1):
        program = _program(problem, line, used, prices)
        for key, value in (first.values or {}).items():
            if isinstance(key, tuple) and key[0] == "n" and key[2] > highest:
                program.hold(key, round(value))
        second = program.solve(seconds, NEAR)
        if second.values is not None:
            return second
    return _nothing(_program(problem, line, used, prices))


def _smoothed(problem: Problem, line: int, best: Solved, enough: float) -> Solved:
    """A schedule with one span of days after another made anew while the others are held."""
    for first in range(0, problem.days, WINDOW_D // 2):
        if best.cost <= enough:
            break
        program = _program(problem, line, None, None)
        for key, value in (best.values or {}).items():
            started = isinstance(key, tuple) and key[0] == "n"
            if started and not first <= key[3] < first + WINDOW_D:  # type: ignore[index]
                program.hold(key, round(value))
        found = program.solve(WINDOW_S, NEAR)
        if found.cost < best.cost:
            best = found
    return best


def _nothing(program: Program) -> Solved:
    """The schedule that starts nothing, which is always possible."""
    for key in program.place:
        if isinstance(key, tuple) and key[0] == "n":
            program.hold(key, 0.0)
    return program.solve(LINE_S, NEAR)


def scheduled(problem: Problem, line: int, found: Solved) -> LineSchedule:
    """A solution as the schedule of a line, with its cost without prices."""
    values = found.values or {}
    counts = _counts(problem, values, line)
    cost = formulated(problem, frozenset([line])).cost_of(values)
    counts = replace(counts, cost=cost)
    return LineSchedule(counts, cost, vessels_held(problem, counts, [line]))


def _counts(problem: Problem, values: Mapping[object, float], line: int) -> Counts:
    steps = max(len(entry.steps) for entry in problem.room.lines)
    shape = (len(problem.room.lines), steps, problem.days)
    started, poured, up_to = (np.zeros(shape, dtype=np.int64) for _ in range(3))
    fed, short = (np.zeros((shape[0], shape[2])) for _ in range(2))
    mine = problem.room.lines[line].steps
    for place in range(len(mine)):
        for day in range(problem.days):
            key = (line, place, day)
            started[key] = round(values.get(("n", *key), 0.0))
            up_to[key] = round(values.get(("X", *key), 0.0))
    for place, above in enumerate(mine[1:]):
        poured[line, place] = -(-started[line, place + 1] * above.donors // above.starts)
    for day in range(problem.days):
        fed[line, day] = values.get(("f", line, day), 0.0)
        short[line, day] = min(1.0, max(0.0, values.get(("short", line, day), 0.0)))
    ended = np.diff(up_to, axis=2, prepend=0)
    return Counts(started, ended, poured, fed, short, 0.0, -np.inf)


def vessels_held(
    problem: Problem, counts: Counts, lines: Iterable[int] | None = None, first: int = 0
) -> Whole:  # fmt: skip
    """Vessels of each kind that lines hold or that are cleaned after them, (kinds, days).

    first: the first day looked at; what is being cleaned by then is not counted.
    """
    chosen = range(len(problem.room.lines)) if lines is None else lines
    found = np.zeros((len(problem.room.kinds), problem.days - first), dtype=np.int64)
    rows = {kind.name: row for row, kind in enumerate(problem.room.kinds)}
    for line in chosen:
        for place, step in enumerate(problem.room.lines[line].steps):
            row = rows[step.kind]
            wait = problem.room.kinds[row].clean_days + 1
            started, ended = counts.started[line, place], counts.ended[line, place]
            found[row] += stock_of(problem, line, place).alive
            found[row] += started[:first].sum() - ended[:first].sum()
            found[row] += np.cumsum(started[first:])
            found[row, wait:] -= np.cumsum(ended[first:])[:-wait]
    return found


def together(parts: Mapping[int, LineSchedule], bound: float) -> Counts:
    """The schedules of all lines as one."""
    names = ("started", "ended", "poured", "fed", "short")
    arrays = {name: sum(getattr(part.counts, name) for part in parts.values()) for name in names}
    cost = sum(part.cost for part in parts.values())
    return Counts(**arrays, cost=cost, bound=min(bound, cost))


def sliced(before: Problem, counts: Counts, line: int, first: int, days: int) -> LineSchedule:
    """The rest of a line's schedule from a day on, with the vessels that it was to hold.

    before: the problem that the schedule was made for. first: its day that is day 0 now.
    days: from then on, within the old ones. Its cost is not known anew and stands as 0.
    """
    mine = np.arange(len(counts.fed)) == line
    rest = counts.rest(first, days)
    own = replace(
        rest,
        started=rest.started * mine[:, None, None],
        ended=rest.ended * mine[:, None, None],
        poured=rest.poured * mine[:, None, None],
        fed=rest.fed * mine[:, None],
        short=rest.short * mine[:, None],
        cost=0.0,
        bound=0.0,
    )
    return LineSchedule(own, 0.0, vessels_held(before, counts, [line], first)[:, :days])
