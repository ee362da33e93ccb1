"""What the room's schedule says from a morning on: moves, food, spares, and what a loss costs."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.algae.chain.loss import after_loss, spell_told
from protoconch.algae.chain.plan import ChainPlan
from protoconch.algae.chain.policies import kept_each_evening
from protoconch.algae.chain.present_plan import PresentPlan
from protoconch.algae.chain.what_if import morning_of
from protoconch.algae.species import alga
from protoconch.errors import BadInput
from protoconch.work.algae_lines import algae_tasks
from protoconch.work.task import Task

MOVES_DAYS = 14
MOVES = ("inoculate", "harvest", "empty a vessel")
"""Kinds of work that move a culture."""


@dataclass(frozen=True, slots=True)
class Loss:
    """What is lost if the culture in a vessel is found dead on a morning.

    species: key. cells: it would have given [cells]. sentences: the schedule made anew, in words;
    short: whether any tank goes short then.
    """

    vessel: str
    species: str
    cells: float
    sentences: tuple[str, ...]
    short: bool


@dataclass(frozen=True, slots=True)
class Food:
    """Food of a species in days: asked and given on each [g], and how many of them lack some."""

    species: str
    asked_g: tuple[float, ...]
    given_g: tuple[float, ...]
    days_short: int


@dataclass(frozen=True, slots=True)
class Held:
    """Cultures of a species in one kind of vessel: there by the log, and by the schedule."""

    species: str
    kind: str
    there: int
    wanted: int


def moves(plan: ChainPlan, first: date, begin: date, days: int = MOVES_DAYS
          ) -> tuple[tuple[date, tuple[Task, ...]], ...]:  # fmt: skip
    """Moves of the days from `begin` on; days without any are left out.

    first: calendar day of the schedule's day 0.
    """
    found = []
    for ahead in range(days):
        day = begin + timedelta(days=ahead)
        todays = tuple(task for task in algae_tasks(plan, first, day) if task.kind in MOVES)
        if todays:
            found.append((day, todays))
    return tuple(found)


def food(plan: ChainPlan, begin: int, days: int = MOVES_DAYS) -> tuple[Food, ...]:
    """Food asked and given in the days of a schedule from day `begin` on."""
    problem, until = plan.problem, min(begin + days, plan.problem.days)
    found = []
    for row, line in enumerate(problem.room.lines):
        mass = alga(line.species).number("ration_pg") / 1e12
        asked = problem.demand[row, begin:until] * mass
        given = np.minimum(plan.fed[row, begin:until] * mass, asked)
        short = int((plan.short[row, begin:until] > 1e-6).sum())
        found.append(Food(line.species, tuple(map(float, asked)), tuple(map(float, given)), short))
    return tuple(found)


def held(plan: ChainPlan, day: int, there: dict[tuple[str, str], int]) -> tuple[Held, ...]:
    """Cultures that there are beside those that the schedule has in the evening of a day.

    there: by species and kind.
    """
    kept = kept_each_evening(plan.problem, plan.counts)
    inside = 0 <= day < plan.problem.days
    return tuple(
        Held(line.species, step.kind, there.get((line.species, step.kind), 0),
             int(kept[row, place, day]) if inside else 0)
        for row, line in enumerate(plan.problem.room.lines)
        for place, step in enumerate(line.steps)
    )  # fmt: skip


def worst_losses(
    answer: AlgaeAnswer, present: PresentPlan, effort: float = 0.2
) -> tuple[Loss, ...]:
    """For each species, what is lost if its largest culture is found dead tomorrow.

    answer: the season's. present: the schedule in force, its day 0 is today. The solver makes each
    anew, which needs some seconds. Species without a culture tomorrow are left out.
    """
    plan = present.plan
    demand = replace(answer.demand, first=present.first, tanks=present.tanks)
    now = replace(answer, first=present.first, demand=demand,
                  sure=replace(answer.sure, plan=plan))  # fmt: skip
    if plan.problem.days < 2:
        return ()
    room, tomorrow = plan.problem.room, morning_of(plan, 1).cultures
    found = []
    for line in room.lines:
        mine = [one for one in tomorrow if one.species == line.species]
        if not mine:
            continue
        most = max(mine, key=lambda one: (
            line.steps[one.step].cells * one.left, -one.ready, -one.vessel))  # fmt: skip
        vessel = (line.steps[most.step].kind, most.vessel)
        try:
            lost = after_loss(now, 1, lost=(vessel,), effort=effort)
        except BadInput:
            continue
        first = present.first + timedelta(days=1)
        said = tuple(spell_told(one, first) for one in lost.spells) or lost.sentences
        cells = line.steps[most.step].cells * most.left
        found.append(Loss(f"{vessel[0]} {vessel[1]}", line.species, cells, said,
                          bool(lost.spells)))  # fmt: skip
    return tuple(found)
