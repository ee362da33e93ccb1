"""Checks any schedule of the algae room without the solver, whoever made it."""

from collections import Counter, defaultdict
from collections.abc import Iterator

import numpy as np

from protoconch.algae.chain.description import Step
from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.plan import ChainPlan, Life

TOLERANCE = 1e-6


def faults(plan: ChainPlan) -> tuple[str, ...]:
    """What is impossible about a schedule, each in a sentence; empty for a sound one.

    Looked at: vessels (count, missing, cleaning), transfers (donor of the right species, step, age
    and day, poured once), ages, cells (fed, left, taken a day), and that fed and short agree.
    """
    problem = plan.problem
    found = [*_vessel_faults(problem, plan.lives)]
    for life in plan.lives:
        found += _age_faults(problem, life)
        found += _cell_faults(problem, life)
    found += _transfer_faults(problem, plan.lives)
    found += _balance_faults(plan)
    return tuple(found)


def _called(life: Life) -> str:
    return f"{life.species} in {life.vessel[0]} {life.vessel[1]} of day {life.started}"


def _step(problem: Problem, life: Life) -> Step:
    line = next(line for line in problem.room.lines if line.species == life.species)
    return line.steps[life.step]


def _vessel_faults(problem: Problem, lives: tuple[Life, ...]) -> Iterator[str]:
    by_vessel: dict[tuple[str, int], list[Life]] = defaultdict(list)
    for life in lives:
        by_vessel[life.vessel].append(life)
    counts = {kind.name: kind for kind in problem.room.kinds}
    for (name, number), mine in by_vessel.items():
        kind = counts.get(name)
        if kind is None or not 1 <= number <= kind.count:
            yield f"There is no {name} {number}."
            continue
        if (name, number) in problem.present.missing and any(x.started >= 0 for x in mine):
            yield f"The {name} {number} is missing and yet used."
        free = problem.present.cleaning.get((name, number), -(10**6))
        for life in sorted(mine, key=lambda x: x.started):
            if life.started < free:
                yield f"{_called(life)} starts before the vessel is free and clean."
            end = life.ended if life.ended is not None else 10**6
            free = end + 1 + kind.clean_days


def _age_faults(problem: Problem, life: Life) -> Iterator[str]:
    step = _step(problem, life)
    if step.kind != life.vessel[0]:
        yield f"{_called(life)} is not in a {step.kind}."
    if life.started >= 0:
        if life.started in problem.closed:
            yield f"{_called(life)} starts on a day without work."
        if life.ready < life.started + step.grow_days:
            yield f"{_called(life)} is called ready too early."
        if life.last > life.ready + step.use_days - 1:
            yield f"{_called(life)} is used past its age limit."
    if life.ended is not None and life.ended > life.last:
        yield f"{_called(life)} is kept past its age limit."
    if life.ended is None and life.last < problem.days:
        yield f"{_called(life)} is never ended."


def _cell_faults(problem: Problem, life: Life) -> Iterator[str]:
    step = _step(problem, life)
    for day, cells in life.drawn:
        if not life.ready <= day <= min(life.last, life.ended if life.ended is not None else day):
            yield f"{_called(life)} is fed on day {day}, when it cannot be."
        if cells < 0 or cells > step.cells * (1 + TOLERANCE):
            yield f"{_called(life)} gives {cells:g} cells on day {day}, more than it can."
    days = Counter(day for day, _ in life.drawn)
    if step.drawn:
        if any(number > 1 for number in days.values()):
            yield f"{_called(life)} is taken from twice on one day."
        return
    start = next((c.left for c in problem.present.cultures
                  if life.started < 0 and c.species == life.species and c.step == life.step
                  and c.vessel == life.vessel[1]), 1.0)  # fmt: skip
    total = sum(cells for _, cells in life.drawn)
    if total > start * step.cells * (1 + TOLERANCE):
        yield f"{_called(life)} gives {total:g} cells in all, more than it holds."
    if life.ending == "poured" and total > 0:
        yield f"{_called(life)} is fed out and poured on."


def _transfer_faults(problem: Problem, lives: tuple[Life, ...]) -> Iterator[str]:
    poured = {(life.vessel, life.ended): life for life in lives if life.ending == "poured"}
    served: Counter[tuple[tuple[str, int], int]] = Counter()
    for life in lives:
        if life.started < 0:
            continue
        step = _step(problem, life)
        needed = step.donors if life.step else 0
        if len(life.donors) != needed or len(set(life.donors)) != len(life.donors):
            yield f"{_called(life)} has {len(life.donors)} donors where it needs {needed}."
        for vessel in life.donors:
            served[vessel, life.started] += 1
            if served[vessel, life.started] > step.starts:
                yield f"{_called(life)} shares a donor with too many."
            yield from _donor_faults(life, poured.get((vessel, life.started)))


def _donor_faults(life: Life, donor: Life | None) -> Iterator[str]:
    if donor is None:
        yield f"{_called(life)} has a donor that is not poured on that day."
    elif donor.species != life.species or donor.step != life.step - 1:
        yield f"{_called(life)} has a donor of another kind."
    elif not donor.ready <= life.started <= donor.last:
        yield f"{_called(life)} has a donor that is too young or too old."


def _balance_faults(plan: ChainPlan) -> Iterator[str]:
    demand = plan.problem.demand
    given = np.zeros_like(demand)
    lines = {line.species: place for place, line in enumerate(plan.problem.room.lines)}
    for life in plan.lives:
        feeds = len(plan.problem.room.lines[lines[life.species]].steps) - 1
        for day, cells in life.drawn:
            if life.step != feeds:
                yield f"{_called(life)} is fed and yet does not stand at the end of its line."
            if 0 <= day < demand.shape[1]:
                given[lines[life.species], day] += cells
    slack = TOLERANCE * max(1.0, float(demand.max(initial=0)))
    if (np.abs(given - plan.fed) > slack).any():
        yield "The cells drawn from the cultures are not the cells fed."
    if (plan.fed + plan.short * demand < demand - slack).any():
        yield "A day is shorter of food than the schedule says."
