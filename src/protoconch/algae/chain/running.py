"""The room day by day, as a schedule is carried out and cultures are lost."""

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.description import Culture, Line, Present, Room, Step
from protoconch.algae.chain.formulation import Problem

Whole = NDArray[np.int64]
Numbers = NDArray[np.float64]
Wanted = Mapping[tuple[int, int], int]
"""Numbers of cultures, by place of line and of step."""
LEAST = 1e-9


@dataclass(frozen=True, slots=True)
class Order:
    """What a day asks of the crew: cultures to start, and the most to keep in the evening.

    What is over is thrown away, the oldest first; no word on a step keeps all of it. feed: cells
    at most, by line, where some are kept for a later day.
    """

    start: Wanted
    keep: Wanted
    feed: Mapping[int, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Day:
    """What became of a day.

    present: the next morning, its days still counted from the schedule's day 0. fed: cells of each
    line, shape (lines,). started: how many were. lost: cultures found dead that morning.
    """

    present: Present
    fed: Numbers
    started: Wanted
    lost: tuple[Culture, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """A schedule carried out to its end.

    short: share of the demand unmet, shape (lines, days). started: cultures started, (lines,
    steps, days). lost: how many cultures died. work_min: starts and care together [min].
    """

    short: Numbers
    started: Whole
    lost: int
    work_min: float

    @property
    def unmet(self) -> float:
        """Share of all demanded food that is missing, each species-day alike."""
        return float(self.short.mean())

    def days_short(self, share: float = 0.2) -> int:
        """Days on which some species lacks more than a share of its demand."""
        return int((self.short > share).any(axis=0).sum())


Losses = Callable[[Culture, str, int, float], bool]
"""Whether a culture (its kind, the day, its daily chance) is lost that morning."""
Policy = Callable[[int, Present, tuple[Culture, ...]], Order]
"""What to do on a day, from the room that morning and what was lost."""


def drawn_losses(room: Room, dice: Numbers) -> Losses:
    """Losses by dice that were thrown beforehand, so that every policy meets the same.

    dice: uniform numbers, shape (kinds, most vessels of a kind, days).
    """
    rows = {kind.name: row for row, kind in enumerate(room.kinds)}

    def lost(culture: Culture, kind: str, day: int, chance: float) -> bool:
        return bool(dice[rows[kind], culture.vessel - 1, day] < chance)

    return lost


def no_losses(culture: Culture, kind: str, day: int, chance: float) -> bool:
    """Nothing is lost."""
    del culture, kind, day, chance
    return False


def carried_out(problem: Problem, policy: Policy, losses: Losses = no_losses) -> Run:
    """The days of a problem under a policy, with losses; only what is possible is done."""
    lines = problem.room.lines
    shape = (len(lines), max(len(line.steps) for line in lines), problem.days)
    started, fed = np.zeros(shape, dtype=np.int64), np.zeros_like(problem.demand)
    present, lost, work = problem.present, 0, 0.0
    for day in range(problem.days):
        present, dead = after_losses(problem.room, present, day, losses)
        order = policy(day, present, dead)
        done = day_done(problem.room, present, day, order, problem.demand[:, day])
        for (line, step), number in done.started.items():
            started[line, step, day] = number
        present, lost, fed[:, day] = done.present, lost + len(dead), done.fed
        work += _work_min(problem, done, present)
    wanted = np.maximum(problem.demand, LEAST)
    short = np.where(problem.demand > 0, np.clip(1 - fed / wanted, 0, 1), 0.0)
    return Run(np.where(short < 1e-7, 0.0, short), started, lost, work)


def _work_min(problem: Problem, done: Day, present: Present) -> float:
    lines = problem.room.lines
    places = {line.species: line for line in lines}
    starts = sum(number * (lines[line].steps[step].start_min
                           + lines[line].steps[step].medium_l * problem.room.minutes_per_l)
                 for (line, step), number in done.started.items())  # fmt: skip
    care = sum(places[c.species].steps[c.step].care_min for c in present.cultures)
    return starts + care


def after_losses(
    room: Room, present: Present, day: int, losses: Losses
) -> tuple[Present, tuple[Culture, ...]]:
    """The room without the cultures lost in the night, and those; their vessels get cleaned."""
    lines = {line.species: line for line in room.lines}
    dead = []
    for culture in present.cultures:
        step = lines[culture.species].steps[culture.step]
        if culture.started < day and losses(culture, step.kind, day, step.crash_per_d):
            dead.append(culture)
    if not dead:
        return present, ()
    return without(room, present, tuple(dead), day), tuple(dead)


def without(room: Room, present: Present, dead: tuple[Culture, ...], day: int) -> Present:
    """The room after cultures were lost on a day."""
    lines = {line.species: line for line in room.lines}
    cleaning = dict(present.cleaning)
    for culture in dead:
        kind = room.kind(lines[culture.species].steps[culture.step].kind)
        cleaning[kind.name, culture.vessel] = day + 1 + kind.clean_days
    alive = tuple(culture for culture in present.cultures if culture not in dead)
    return replace(present, cultures=alive, cleaning=cleaning)


def day_done(room: Room, present: Present, day: int, order: Order, wanted: Numbers) -> Day:
    """One day: inoculate what is possible, feed, and end what is used up, too old or unwanted."""
    cultures = {line.species: [c for c in present.cultures if c.species == line.species]
                for line in room.lines}  # fmt: skip
    taken = {(room_kind(room, c), c.vessel) for c in present.cultures} | present.missing
    taken |= {vessel for vessel, free in present.cleaning.items() if free > day}
    started: dict[tuple[int, int], int] = defaultdict(int)
    emptied: list[Culture] = []
    fed = np.zeros(len(room.lines))
    for place, line in enumerate(room.lines):
        mine = cultures[line.species]
        new: list[Culture] = []
        for step_place in range(len(line.steps)):
            number = order.start.get((place, step_place), 0)
            made, poured = _inoculated(room, line, step_place, number, mine, taken, day)
            new += made
            emptied += poured
            mine = [c for c in mine if c not in poured]
            started[place, step_place] = len(made)
        cells = min(float(wanted[place]), order.feed.get(place, np.inf))
        mine, fed[place] = _fed(line, mine, day, cells)
        mine, ended = _ended(line, place, mine + new, day, order.keep)
        emptied += ended
        cultures[line.species] = mine
    cleaning = {vessel: free for vessel, free in present.cleaning.items() if free > day + 1}
    for culture in emptied:
        kind = room.kind(room_kind(room, culture))
        cleaning[kind.name, culture.vessel] = day + 1 + kind.clean_days
    alive = tuple(c for line in room.lines for c in cultures[line.species])
    return Day(replace(present, cultures=alive, cleaning=cleaning), fed, dict(started), ())


def room_kind(room: Room, culture: Culture) -> str:
    """Name of the kind of vessel that a culture is in."""
    line = next(line for line in room.lines if line.species == culture.species)
    return line.steps[culture.step].kind


def ready_first(cultures: list[Culture], step: int, day: int) -> list[Culture]:
    """Cultures of a step that can be used on a day, the one that must go first in front."""
    ready = [c for c in cultures if c.step == step and c.ready <= day <= c.last and c.left > 0]
    return sorted(ready, key=lambda c: (c.last, c.left, c.started, c.vessel))


def _inoculated(
    room: Room, line: Line, place: int, number: int, mine: list[Culture],
    taken: set[tuple[str, int]], day: int,
) -> tuple[list[Culture], list[Culture]]:  # fmt: skip
    """The cultures started and the donors poured: as many as vessels and donors allow."""
    if number <= 0:
        return [], []
    step: Step = line.steps[place]
    kind = room.kind(step.kind)
    free = [v for v in range(1, kind.count + 1) if (kind.name, v) not in taken]
    number = min(number, len(free))
    donors: list[Culture] = []
    if place:
        usable = [c for c in ready_first(mine, place - 1, day) if c.left >= 1.0]
        number = min(number, len(usable) * step.starts // step.donors)
        donors = usable[: -(-number * step.donors // step.starts)]
    ready = day + step.grow_days
    made = [Culture(line.species, place, vessel, day, ready, ready + step.use_days - 1)
            for vessel in free[:number]]  # fmt: skip
    taken.update((kind.name, culture.vessel) for culture in made)
    return made, donors


def _fed(line: Line, mine: list[Culture], day: int, wanted: float) -> tuple[list[Culture], float]:
    place, given = len(line.steps) - 1, 0.0
    step = line.steps[place]
    changed: dict[Culture, Culture] = {}
    for culture in ready_first(mine, place, day):
        amount = min(wanted - given, step.cells * (1.0 if step.drawn else culture.left))
        if amount <= wanted * LEAST:
            break
        given += amount
        if not step.drawn:
            left = culture.left - amount / step.cells
            changed[culture] = replace(culture, left=left if left > LEAST else 0.0)
    return [changed.get(culture, culture) for culture in mine], given


def _ended(
    line: Line, place: int, mine: list[Culture], day: int, keep: Wanted
) -> tuple[list[Culture], list[Culture]]:
    gone = [c for c in mine if c.left <= 0 or c.last <= day]
    for step in range(len(line.steps)):
        if (place, step) in keep:
            there = sum(c.step == step and c not in gone for c in mine)
            rest = [c for c in ready_first(mine, step, day) if c not in gone]
            gone += rest[: max(0, there - keep[place, step])]
    return [c for c in mine if c not in gone], gone
