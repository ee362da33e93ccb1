"""A new schedule from the cultures that are there by the log, and the food wanted from now on."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from protoconch.algae.chain.answer import AlgaeAnswer, moved
from protoconch.algae.chain.description import Present
from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.lines import REFERENCE_C
from protoconch.algae.chain.logged_room import PresentCulture, logged_room
from protoconch.algae.chain.loss import Spell, spell_told, spells
from protoconch.algae.chain.plan import ChainPlan, laid_out
from protoconch.algae.chain.policies import from_day, shifted
from protoconch.algae.chain.shortfalls import shortfalls
from protoconch.algae.chain.solving import solved_anew
from protoconch.algae.chain.what_if import morning_of
from protoconch.algae.demand import FoodDemand, TankFood
from protoconch.errors import BadInput
from protoconch.words import counted, say

WEEKS_D = 14
"""Days for which the moves are meant to be carried out before it is planned anew."""
LOOK_AHEAD_D = 45
"""Days planned: what is started in these weeks feeds that much later; see `answer.lead_days`."""


@dataclass(frozen=True, slots=True)
class PresentPlan:
    """The algae room from a morning on.

    first: that day, day 0 of the plan. plan: the schedule. tanks: what stands behind its demand,
    days counted as in it. remade: species whose line was made anew; the others go on as before.
    moved: starts of the first `WEEKS_D` days that differ from the schedule before. spells: who
    goes short. notes: cultures to be emptied and why. sentences: all of it in words.
    """

    first: date
    plan: ChainPlan
    tanks: tuple[TankFood, ...]
    remade: tuple[str, ...]
    moved: int
    spells: tuple[Spell, ...]
    notes: tuple[str, ...]
    sentences: tuple[str, ...]


def present_plan(
    answer: AlgaeAnswer, today: date, cultures: Sequence[PresentCulture], *,
    demand: FoodDemand | None = None, dirty: Sequence[tuple[str, int]] = (),
    missing: Sequence[tuple[str, int]] = (), temperature_c: float = REFERENCE_C,
    look_ahead: int = LOOK_AHEAD_D, effort: float = 0.4,
) -> PresentPlan:  # fmt: skip
    """The schedule from today on, with few changes.

    answer: the schedule so far. today: within it. cultures: all that there are, as logged.
    demand: food wanted from now on, where it is not the answer's any more; the same species.
    dirty, missing, temperature_c: as in `logged_room`. look_ahead: days planned.
    Only lines whose cultures or food are not as the schedule has them are made anew, in the
    vessels that the others leave; changes in the first week weigh.
    Raises: BadInput, where today is outside the schedule, the demand is of other species, or a
        culture cannot be; the solver needs about a second for each line made anew.
    """
    day = (today - answer.first).days
    if not 0 <= day < answer.demand.days:
        last = answer.day(answer.demand.days - 1)
        raise BadInput(
            say(
                "{today} is outside the schedule, which runs from {first} to {last}.",
                today=today,
                first=answer.first,
                last=last,
            )
        )
    before = answer.plan
    logged = logged_room(
        before.problem.room, today, cultures, dirty=dirty, missing=missing,
        temperature_c=temperature_c,
    )  # fmt: skip
    present = shifted(logged.present, day)
    now = from_day(before.problem, present, day, look_ahead, before.counts, 0)
    wanted = answer.demand if demand is None else demand
    now = _with_demand(now, wanted, answer, today)
    touched = _touched(before, now, day, logged.present)
    counts = solved_anew(now, before.problem, before.counts, day, touched, effort)
    plan = laid_out(now, counts)
    since = (today - wanted.first).days
    tanks = tuple(food for food in moved(wanted.tanks, -since) if 0 <= food.day < now.days)
    short = spells(shortfalls(plan, tanks, answer.diatom_from_d))
    earlier = before.counts.started[:, :, day : day + WEEKS_D]
    fresh = counts.started[:, :, :WEEKS_D]
    length = min(earlier.shape[2], fresh.shape[2])
    changed = int(np.abs(fresh[:, :, :length] - earlier[:, :, :length]).sum())
    remade = tuple(now.room.lines[line].species for line in sorted(touched))
    sentences = tuple(_sentences(remade, changed, logged.notes, short, today))
    return PresentPlan(today, plan, tanks, remade, changed, short, logged.notes, sentences)


def _with_demand(now: Problem, wanted: FoodDemand, answer: AlgaeAnswer, today: date) -> Problem:
    """The problem with the food wanted from today on; none on days that it does not reach."""
    if wanted.species != answer.demand.species:
        raise BadInput(
            say(
                "The food is for {species}, but the room grows {grown}.",
                species=", ".join(wanted.species),
                grown=", ".join(answer.demand.species),
            )
        )
    since = (today - wanted.first).days
    cells = np.zeros_like(now.demand)
    for day in range(now.days):
        if 0 <= since + day < wanted.days:
            cells[:, day] = wanted.cells[:, since + day]
    return replace(now, demand=cells)


def _touched(before: ChainPlan, now: Problem, day: int, present: Present) -> frozenset[int]:
    """Lines whose cultures or food are not what the schedule has on that morning."""
    written = shifted(morning_of(before, day), -day)
    found = set()
    for line, spec in enumerate(now.room.lines):
        there, said = (
            Counter((c.step, c.started, c.ready, c.last, round(c.left, 2))
                    for c in room.cultures if c.species == spec.species)
            for room in (present, written)
        )  # fmt: skip
        old = before.problem.demand[line, day : day + now.days]
        if there != said or not np.allclose(now.demand[line], old, rtol=1e-6, atol=1.0):
            found.add(line)
    return frozenset(found)


def _sentences(
    remade: Sequence[str], changed: int, notes: Sequence[str], short: Sequence[Spell], today: date
) -> Iterator[str]:
    if remade:
        starts = counted(changed, "one start", "{number} starts")
        yield (
            say(
                "Planned anew from {today:%-d %B} for {remade}: {starts} of the next {days} "
                "days changed.",
                today=today,
                remade=", ".join(remade),
                starts=starts,
                days=WEEKS_D,
            )
        )
    else:
        yield say("On {today:%-d %B} the room is as planned: the schedule goes on.", today=today)
    yield from notes
    if not short:
        yield say("No tank goes short.")
    for spell in short:
        yield spell_told(spell, today)
