"""What a lost culture, a missing vessel or one more vessel changes."""

from dataclasses import dataclass, replace

import numpy as np

from protoconch.algae.chain.description import Culture, Present
from protoconch.algae.chain.formulation import Problem, formulated, vessels_free
from protoconch.algae.chain.plan import ChainPlan, Life, laid_out
from protoconch.algae.chain.policies import blind, from_day, kept_each_evening
from protoconch.algae.chain.running import (
    after_losses,
    carried_out,
    day_done,
    room_kind,
    without,
)
from protoconch.algae.chain.running import no_losses as nothing_lost
from protoconch.algae.chain.solving import solved_anew, vessels_held
from protoconch.errors import BadInput
from protoconch.words import say

RELAXED_S = 4.0
"""Seconds of the solver for a relaxation."""


@dataclass(frozen=True, slots=True)
class Replan:
    """A schedule made anew from the morning of a day.

    day: of the old schedule, day 0 of the new one. before, after: days short from then on, in
    species-days, if nothing were done anew and with the new schedule. moved: starts that changed
    in its first week.
    """

    day: int
    plan: ChainPlan
    before: float
    after: float
    moved: int


def morning_of(plan: ChainPlan, day: int) -> Present:
    """The room on the morning of a day if all went as written, days counted from the old day 0."""
    problem, present = plan.problem, plan.problem.present
    policy = blind(problem, plan.counts)
    for now in range(day):
        present, _ = after_losses(problem.room, present, now, nothing_lost)
        order = policy(now, present, ())
        present = day_done(problem.room, present, now, order, problem.demand[:, now]).present
    return present


def culture_in(plan: ChainPlan, vessel: tuple[str, int], day: int) -> Life:
    """The culture that stands in a vessel on a day.

    Raises: BadInput, where it stands empty.
    """
    for life in plan.lives:
        until = plan.problem.days if life.ended is None else life.ended
        if life.vessel == vessel and life.started < day <= until:
            return life
    raise BadInput(
        say(
            "The {kind} {number} holds no culture on that morning.",
            kind=vessel[0],
            number=vessel[1],
        )
    )


def largest_culture(plan: ChainPlan, day: int) -> tuple[str, int]:
    """The vessel of the culture whose loss on a morning would cost most cells, ready ones first.

    Raises: BadInput, where nothing grows yet.
    """
    room, present = plan.problem.room, morning_of(plan, day)
    if not present.cultures:
        raise BadInput(say("On day {day} no culture is there.", day=day))

    def worth(culture: Culture) -> tuple[float, bool, int, int]:
        litres = room.kind(room_kind(room, culture)).litres * culture.left
        return litres, culture.ready <= day, culture.last, -culture.vessel

    most = max(present.cultures, key=worth)
    return room_kind(room, most), most.vessel


def replanned(
    plan: ChainPlan, day: int, *, lost: tuple[tuple[str, int], ...] = (),
    missing: tuple[tuple[str, int], ...] = (), effort: float = 0.4, look_ahead: int = 60,
) -> Replan:  # fmt: skip
    """A new schedule from the morning of a day on which cultures are found dead.

    lost: vessels of the dead cultures, by kind and number. missing: vessels out of use from now.
    look_ahead: days planned. Only the lines that lost something are made anew, in the vessels
    that the others leave, and changes in the first week weigh, so that few are made; all lines
    where food still lacks then and that helps.
    Raises: BadInput, where a vessel holds nothing or does not exist, or the day is outside.
    """
    problem = plan.problem
    if not 0 <= day < problem.days:
        raise BadInput(
            say("Day {day} is outside the schedule of {days} days.", day=day, days=problem.days)
        )
    for name, number in missing:
        if not 1 <= number <= problem.room.kind(name).count:
            raise BadInput(say("There is no {name} {number}.", name=name, number=number))
    present = morning_of(plan, day)
    dead = tuple(_found(problem, present, vessel) for vessel in lost)
    gone = tuple(c for c in present.cultures
                 if (room_kind(problem.room, c), c.vessel) in missing)  # fmt: skip
    present = without(problem.room, present, (*dead, *gone), day)
    present = replace(present, missing=present.missing | frozenset(missing))
    now = from_day(problem, present, day, look_ahead, plan.counts, 0)
    touched = frozenset(_line(problem, culture) for culture in (*dead, *gone))
    new = laid_out(now, solved_anew(now, problem, plan.counts, day, touched, effort))
    kept = kept_each_evening(problem, plan.counts)[:, :, day:]
    blindly = blind(now, plan.counts.rest(day, now.days), kept)
    old = carried_out(now, blindly, nothing_lost)
    week = min(now.held, now.days)
    earlier = plan.counts.started[:, :, day : day + week]
    moved = int(np.abs(new.counts.started[:, :, : earlier.shape[2]] - earlier).sum())
    return Replan(day, new, float(old.short.sum()), float(new.short.sum()), moved)


def _line(problem: Problem, culture: Culture) -> int:
    return [line.species for line in problem.room.lines].index(culture.species)


def _found(problem: Problem, present: Present, vessel: tuple[str, int]) -> Culture:
    for culture in present.cultures:
        if (room_kind(problem.room, culture), culture.vessel) == vessel:
            return culture
    raise BadInput(
        say(
            "The {kind} {number} holds no culture on that morning.",
            kind=vessel[0],
            number=vessel[1],
        )
    )


@dataclass(frozen=True, slots=True)
class Binding:
    """One kind of vessel and how much it holds the schedule back.

    full_days: days on which all of them are in use. one_more_min: work that one more would save
    at most, food that lacks weighed as in the program [min].
    """

    kind: str
    full_days: int
    one_more_min: float


def what_binds(plan: ChainPlan) -> tuple[Binding, ...]:
    """The kinds of vessels, the one of which one more helps most in front.

    By relaxations: the bound with one more of a kind against the bound as it is.
    """
    problem = plan.problem
    full = (vessels_held(problem, plan.counts) >= vessels_free(problem)).sum(axis=1)
    now = formulated(problem).solve(RELAXED_S, 0.0, relaxed=True).cost
    found = []
    for row, kind in enumerate(problem.room.kinds):
        gain = 0.0
        if full[row]:
            kinds = tuple(replace(k, count=k.count + (k.name == kind.name))
                          for k in problem.room.kinds)  # fmt: skip
            more = replace(problem, room=replace(problem.room, kinds=kinds))
            gain = now - formulated(more).solve(RELAXED_S, 0.0, relaxed=True).cost
        found.append(Binding(kind.name, int(full[row]), max(0.0, gain)))
    return tuple(sorted(found, key=lambda b: (-b.one_more_min, -b.full_days)))
