"""Ways to carry out a schedule: blindly, with losses made good, or planned anew each time."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from protoconch.algae.chain.description import Culture, Present
from protoconch.algae.chain.formulation import Problem, stock_of
from protoconch.algae.chain.plan import fed_cells
from protoconch.algae.chain.running import Order, Policy, Whole
from protoconch.algae.chain.solving import Counts, solved, solved_anew

WEEK = 7
"""Days after which all lines are planned anew where the schedule does not reach to the end."""


def blind(problem: Problem, counts: Counts, kept: Whole | None = None) -> Policy:
    """The schedule as written, whatever is lost.

    kept: most cultures in the evening, (lines, steps, days), as written where None.
    """
    kept = kept_each_evening(problem, counts) if kept is None else kept

    def order(day: int, present: Present, lost: tuple[Culture, ...]) -> Order:
        del present, lost
        return ordered(problem, counts, kept, day)

    return order


def kept_each_evening(problem: Problem, counts: Counts) -> Whole:
    """Cultures that the schedule has in the evening, shape (lines, steps, days)."""
    kept = np.cumsum(counts.started - counts.ended, axis=2)
    for line, species in enumerate(problem.room.lines):
        for step in range(len(species.steps)):
            kept[line, step] += stock_of(problem, line, step).alive
    return kept


def ordered(problem: Problem, counts: Counts, kept: Whole, day: int) -> Order:
    """What a schedule asks for on a day."""
    places = list(np.ndindex(*counts.started.shape[:2]))
    cells = fed_cells(problem, counts)[:, day]
    return Order(
        {place: int(counts.started[*place, day]) for place in places},
        {place: int(kept[*place, day]) for place in places},
        {line: float(most) for line, most in enumerate(cells)},
    )


def replacing(problem: Problem, counts: Counts) -> Policy:
    """The schedule, and each culture lost is started again as soon as there is a donor.

    Starts that were not possible are asked for again on the days after, for as long as the step
    grows; until a line has caught up, none of its cultures is thrown away. A rule that needs no
    solver, quick enough for many simulated seasons.
    """
    kept = kept_each_evening(problem, counts)
    owed: dict[tuple[int, int], list[int]] = defaultdict(list)
    asked: dict[tuple[int, int], int] = {}
    behind_until = dict.fromkeys(range(len(problem.room.lines)), -1)
    places = {line.species: place for place, line in enumerate(problem.room.lines)}

    def order(day: int, present: Present, lost: tuple[Culture, ...]) -> Order:
        for key, number in asked.items():
            made = sum(c.started == day - 1 and (places[c.species], c.step) == key
                       for c in (*present.cultures, *lost))  # fmt: skip
            owed[key] += [day - 1] * (number - made)
        for culture in lost:
            owed[places[culture.species], culture.step].append(day)
        written = ordered(problem, counts, kept, day)
        asked.clear()
        asked.update(written.start)
        for (line, step), since in owed.items():
            spec = problem.room.lines[line].steps[step]
            asked[line, step] += sum(day - first < spec.grow_days for first in since)
            if since:
                behind_until[line] = day + spec.grow_days + spec.use_days
            since.clear()
        return _patient(Order(dict(asked), written.keep, written.feed), behind_until, day)

    return order


def _patient(order: Order, behind_until: Mapping[int, int], day: int) -> Order:
    """The same order, but lines that are behind throw nothing away and keep no food back."""
    keep = {key: most for key, most in order.keep.items() if behind_until[key[0]] < day}
    feed = {line: most for line, most in order.feed.items() if behind_until[line] < day}
    return Order(order.start, keep, feed)


def replanning(problem: Problem, first: Counts, effort: float, look_ahead: int) -> Policy:
    """Planned anew on each morning on which something was lost, with few changes.

    Only the lines that lost a culture are planned anew, in the vessels that the others leave; once
    a week all of them, as far as `look_ahead` days. first: the schedule before any loss. A line
    that lost something throws nothing away until it has caught up: the next loss may need it.
    """
    now = {"plan": (0, problem, first, kept_each_evening(problem, first))}
    places = {line.species: place for place, line in enumerate(problem.room.lines)}
    behind_until = dict.fromkeys(range(len(problem.room.lines)), -1)

    def order(day: int, present: Present, lost: tuple[Culture, ...]) -> Order:
        for culture in lost:
            line = places[culture.species]
            step = problem.room.lines[line].steps[culture.step]
            behind_until[line] = max(behind_until[line], day + step.grow_days + step.use_days)
        since, before, counts, kept = now["plan"]
        ends = since + before.days
        due = ends < problem.days and day - since >= WEEK
        if due or lost:
            ahead = look_ahead if due else ends - day
            anew = from_day(problem, present, day, ahead, counts, since)
            if due:
                counts = solved(anew, effort)
            else:
                lines = frozenset(places[culture.species] for culture in lost)
                counts = solved_anew(anew, before, counts, day - since, lines, effort)
            since, kept = day, kept_each_evening(anew, counts)
            now["plan"] = (since, anew, counts, kept)
        return _patient(ordered(problem, counts, kept, day - since), behind_until, day)

    return order


def from_day(
    problem: Problem, present: Present, day: int, look_ahead: int, counts: Counts, since: int,
    held: int = 7,
) -> Problem:  # fmt: skip
    """The problem as it stands on the morning of a day, its day 0.

    present: days counted from the old day 0. counts, since: the schedule so far and its day 0;
    changes from it on the first `held` days weigh.
    """
    until = min(problem.days, day + look_ahead)
    earlier = counts.started[:, :, day - since :]
    return replace(
        problem,
        demand=problem.demand[:, day:until],
        present=shifted(present, -day),
        closed=frozenset(closed - day for closed in problem.closed if closed >= day),
        earlier=earlier[:, :, : until - day],
        held=min(held, earlier.shape[2]),
    )


def shifted(present: Present, days: int) -> Present:
    """The same room with its days counted from another one."""
    cultures = tuple(replace(c, started=c.started + days, ready=c.ready + days,
                             last=c.last + days) for c in present.cultures)  # fmt: skip
    cleaning = {vessel: free + days for vessel, free in present.cleaning.items() if free + days > 0}
    return replace(present, cultures=cultures, cleaning=cleaning)
