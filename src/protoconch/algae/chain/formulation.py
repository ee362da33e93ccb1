"""The schedule as an integer program over counts of like cultures.

Cultures of one step that are alike are counted, not named: cumulative numbers started, ended and
drawn, first in first out, since the oldest is never the worse one to use. A culture that feeds
counts as one load; the demand of a day is in loads. Rows that round loads up (`feeding_rows`)
make the relaxation nearly whole, so that the bound is sharp. See the decision record 0030.

Keys: ("n", line, step, day) started; ("N", ...) started up to the day; ("X", ...) ended up to the
evening; ("p", ...) poured out whole; ("Q", ...) loads drawn or thrown away up to the evening;
("f", line, day) loads fed; ("short", line, day) share of the demand not met; ("bare", line, step,
day) spare cultures lacking; ("less" and "more", line, step, day) starts changed from before.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.description import Present, Room, Step
from protoconch.algae.chain.feeding_rows import feeding_rows
from protoconch.algae.chain.program import Program, Term

SHORT_MIN = 3000.0
"""Work that a day without any food of a species weighs as much as [min]; assumption, far above
the work of the longest line, so that food comes before work."""
BARE_MIN = 300.0
"""Work that a day without a spare culture weighs as much as [min]; assumption, above the work of
keeping one and far below a day without food."""
CHANGE_MIN = 20.0
"""Work that a start moved from the plan before weighs as much as [min]; assumption."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What is to be scheduled.

    demand: cells of each line's species on each day, shape (lines, days). present: the room now.
    closed: days on which nothing is started. earlier: starts planned before, shape (lines, steps,
    days), and held: on so many first days, changes from them weigh.
    """

    room: Room
    demand: NDArray[np.float64]
    present: Present = field(default_factory=Present)
    closed: frozenset[int] = frozenset()
    earlier: NDArray[np.int64] | None = None
    held: int = 0

    @property
    def days(self) -> int:
        """Days of the schedule."""
        return int(self.demand.shape[1])

    def loads(self, line: int) -> NDArray[np.float64]:
        """Demand of a line in cultures, or in whole takings, of its last step, shape (days,)."""
        return np.asarray(self.demand[line] / self.room.lines[line].steps[-1].cells)


@dataclass(frozen=True, slots=True)
class Stock:
    """Cultures of one step that are there already, counted by the day.

    ready, over: cumulative numbers ready by the day and past their last use by its evening.
    ready_left, over_left: the same in loads still in them. alive: all of them.
    """

    ready: NDArray[np.float64]
    over: NDArray[np.float64]
    ready_left: NDArray[np.float64]
    over_left: NDArray[np.float64]
    alive: int


def stock_of(problem: Problem, line: int, step: int) -> Stock:
    """The cultures of a step that are there on day 0."""
    species = problem.room.lines[line].species
    days = np.arange(problem.days)
    mine = [c for c in problem.present.cultures if c.species == species and c.step == step]
    ready = np.array([c.ready for c in mine])
    last = np.array([c.last for c in mine])
    left = np.array([c.left for c in mine])
    by_ready = (ready[:, None] <= days) if mine else np.zeros((0, len(days)))
    by_last = (last[:, None] <= days) if mine else np.zeros((0, len(days)))
    if not mine:
        left = np.zeros(0)
    return Stock(by_ready.sum(0).astype(float), by_last.sum(0).astype(float),
                 left @ by_ready, left @ by_last, len(mine))  # fmt: skip


def formulated(problem: Problem, only: frozenset[int] | None = None,
               used: NDArray[np.int64] | None = None) -> Program:  # fmt: skip
    """The program of a problem.

    only: places of the lines to schedule, all where None. used: vessels of each kind that others
        hold on each day, shape (kinds, days).
    """
    program = Program()
    lines = [i for i in range(len(problem.room.lines)) if only is None or i in only]
    for line in lines:
        _variables(program, problem, line)
    for line in lines:
        for place, step in enumerate(problem.room.lines[line].steps):
            _flow_rows(program, problem, line, place, step)
        _feed(program, problem, line)
        _spare_rows(program, problem, line)
    _vessel_rows(program, problem, lines, used)
    if problem.earlier is not None:
        _steadiness(program, problem, lines)
    return program


def _variables(program: Program, problem: Problem, line: int) -> None:
    steps = problem.room.lines[line].steps
    for place, step in enumerate(steps):
        count = problem.room.kind(step.kind).count
        cost = step.start_min + step.medium_l * problem.room.minutes_per_l
        feeds = place == len(steps) - 1
        for day in range(problem.days):
            useful = day + step.grow_days < problem.days and day not in problem.closed
            key = (line, place, day)
            program.variable(("n", *key), count if useful else 0, cost=cost, whole=True)
            program.variable(("N", *key), cost=step.care_min)
            # the care of a day is for those started by it and not ended the evening before
            ended = -step.care_min if day < problem.days - 1 else 0.0
            program.variable(("X", *key), cost=ended, whole=feeds)
            if not feeds:
                above = steps[place + 1]
                program.variable(("p", *key), count, whole=(above.donors, above.starts) != (1, 1))
            elif not step.drawn:
                program.variable(("Q", *key))
        program.constant += stock_of(problem, line, place).alive * step.care_min * problem.days
    last = steps[-1]
    for day in range(problem.days):
        program.variable(("f", line, day), cost=last.taken_l * problem.room.minutes_per_l)
        program.variable(("short", line, day), 1.0 if problem.demand[line, day] > 0 else 0.0,
                         cost=SHORT_MIN)  # fmt: skip


def up_to(name: str, line: int, place: int, day: int, weight: float = 1.0) -> list[Term]:
    """A cumulative variable as a term; nothing before day 0."""
    return [((name, line, place, day), weight)] if day >= 0 else []


def _flow_rows(program: Program, problem: Problem, line: int, place: int, step: Step) -> None:
    steps = problem.room.lines[line].steps
    stock = stock_of(problem, line, place)
    feeds = place == len(steps) - 1
    for day in range(problem.days):

        def n(name: str, at: int, weight: float = 1.0) -> list[Term]:
            return up_to(name, line, place, at, weight)

        program.row([*n("N", day), *n("N", day - 1, -1), *n("n", day, -1)], 0, 0)
        poured = [] if feeds else n("p", day, -1)
        program.row([*n("X", day), *n("X", day - 1, -1), *poured], low=0)
        program.row([*n("X", day), *n("N", day - step.grow_days, -1)], high=stock.ready[day])
        over = day - step.grow_days - step.use_days + 1
        program.row([*n("X", day), *n("N", over, -1)], low=stock.over[day])
        if feeds and not step.drawn:
            _drawing_rows(program, line, place, day, step, stock)
        elif not feeds:
            above = steps[place + 1]
            started = up_to("n", line, place + 1, day, -float(above.donors))
            program.row([*n("p", day, float(above.starts)), *started], low=0)


def _drawing_rows(
    program: Program, line: int, place: int, day: int, step: Step, stock: Stock
) -> None:
    """Loads of cultures that are used up: drawn only when ready, thrown away when too old."""

    def n(name: str, at: int, weight: float = 1.0) -> list[Term]:
        return up_to(name, line, place, at, weight)

    program.row([*n("Q", day), *n("Q", day - 1, -1), (("f", line, day), -1)], low=0)
    program.row([*n("Q", day), *n("N", day - step.grow_days, -1)], high=stock.ready_left[day])
    over = day - step.grow_days - step.use_days + 1
    program.row([*n("Q", day), *n("N", over, -1)], low=stock.over_left[day])
    gone = stock.ready[day] - stock.ready_left[day]
    program.row([*n("X", day), *n("Q", day, -1)], high=gone)


def _feed(program: Program, problem: Problem, line: int) -> None:
    steps, loads = problem.room.lines[line].steps, problem.loads(line)
    place, last = len(steps) - 1, steps[-1]
    stock = stock_of(problem, line, place)
    for day in range(problem.days):
        fed = [(("f", line, day), 1.0), (("short", line, day), float(loads[day]))]
        program.row(fed, low=float(loads[day]))
        if last.drawn:
            usable = [*up_to("N", line, place, day - last.grow_days, -1),
                      *up_to("X", line, place, day - 1)]  # fmt: skip
            program.row([(("f", line, day), 1.0), *usable], high=stock.ready[day])
    feeding_rows(program, line, place, last, loads, stock.ready)


def _spare_rows(program: Program, problem: Problem, line: int) -> None:
    """Spare cultures from the first day on which they can be there; lacking ones weigh.

    Of a step that is poured on: ready and not poured. Of the step that feeds, on days with
    demand: ready beyond what the day needs.
    """
    steps, loads, first = problem.room.lines[line].steps, problem.loads(line), 0
    for place, step in enumerate(steps):
        first += step.grow_days
        spare = problem.room.spare.get(step.kind, 0)
        feeds = place == len(steps) - 1
        stock = stock_of(problem, line, place)
        for day in range(problem.days if spare else 0):
            needed = _needed(step, float(loads[day])) if feeds else 0.0
            if (day < first and not stock.ready[day]) or (feeds and loads[day] <= 0):
                continue
            key = ("bare", line, place, day)
            program.variable(key, spare + needed, cost=BARE_MIN)
            terms = [*up_to("N", line, place, day - step.grow_days), (key, 1.0)]
            gone = "Q" if feeds and not step.drawn else "X"
            terms += up_to(gone, line, place, day - 1, -1)
            terms += [] if feeds else [(("p", line, place, day), -1.0)]
            ready = stock.ready_left if gone == "Q" else stock.ready
            program.row(terms, low=spare + needed - ready[day])


def _needed(step: Step, load: float) -> float:
    """Cultures that a day's load takes: whole ones where only a part of each can be taken."""
    return float(np.ceil(load - 1e-9)) if step.drawn else load


def _vessel_rows(
    program: Program, problem: Problem, lines: list[int], used: NDArray[np.int64] | None
) -> None:
    free = vessels_free(problem)
    for row, kind in enumerate(problem.room.kinds):
        steps = list(_steps_in(problem, kind.name, lines))
        alive = sum(stock_of(problem, line, place).alive for line, place in steps)
        for day in range(problem.days if steps else 0):
            terms: list[Term] = []
            for line, place in steps:
                terms += up_to("N", line, place, day)
                terms += up_to("X", line, place, day - 1 - kind.clean_days, -1)
            others = 0 if used is None else int(used[row, day])
            high = float(free[row, day] - alive - others)
            program.row(terms, high=high, name=("vessels", row, day))


def vessels_free(problem: Problem) -> NDArray[np.int64]:
    """Vessels of each kind that are whole and clean or hold a culture, shape (kinds, days)."""
    days = np.arange(problem.days)
    present = problem.present
    found = np.zeros((len(problem.room.kinds), problem.days), dtype=np.int64)
    for row, kind in enumerate(problem.room.kinds):
        missing = {vessel for name, vessel in present.missing if name == kind.name}
        found[row] = kind.count - len(missing)
        for (name, vessel), free_from in present.cleaning.items():
            if name == kind.name and vessel not in missing:
                found[row] -= days < free_from
    return found


def _steps_in(problem: Problem, kind: str, lines: list[int]) -> Iterator[tuple[int, int]]:
    for line in lines:
        for place, step in enumerate(problem.room.lines[line].steps):
            if step.kind == kind:
                yield line, place


def _steadiness(program: Program, problem: Problem, lines: list[int]) -> None:
    """Starts on the first days that differ from the plan before weigh a little."""
    earlier = problem.earlier
    if earlier is None:
        return
    for line in lines:
        for place in range(len(problem.room.lines[line].steps)):
            for day in range(min(problem.held, problem.days, earlier.shape[2])):
                key = (line, place, day)
                program.variable(("less", *key), cost=CHANGE_MIN)
                program.variable(("more", *key), cost=CHANGE_MIN)
                program.row([(("n", *key), 1.0), (("less", *key), 1.0), (("more", *key), -1.0)],
                            float(earlier[key]), float(earlier[key]))  # fmt: skip
