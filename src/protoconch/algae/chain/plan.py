"""A schedule laid out culture by culture: in which vessel, from which donor, for how long."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.description import Culture
from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.solving import Counts, solved

Ending = Literal["", "poured", "used up", "thrown away"]
Vessel = tuple[str, int]
"""Kind and number."""
SCARCE = 1e-6
"""Share of a day's demand from which on it counts as unmet."""
DROP = 1e-9
"""Share of a culture that counts as nothing."""


@dataclass(frozen=True, slots=True)
class Life:
    """One culture of a schedule.

    started, ready, last: days of inoculation, first and last use; ended: its last evening, None
    where it outlives the schedule. donors: vessels poured into it. drawn: cells fed, by day.
    """

    species: str
    step: int
    vessel: Vessel
    started: int
    ready: int
    last: int
    ended: int | None = None
    ending: Ending = ""
    donors: tuple[Vessel, ...] = ()
    drawn: tuple[tuple[int, float], ...] = ()
    left: float = 1.0


@dataclass(frozen=True, slots=True)
class ChainPlan:
    """A schedule of the algae room.

    problem: what was asked. counts: of the solver, with cost and bound. lives: every culture.
    fed: cells fed of each line on each day; short: share of the demand unmet; (lines, days).
    """

    problem: Problem
    counts: Counts
    lives: tuple[Life, ...]
    fed: NDArray[np.float64]
    short: NDArray[np.float64]

    @property
    def gap(self) -> float:
        """Share of the cost above the proven bound."""
        return self.counts.gap

    @property
    def days_short(self) -> int:
        """Days, of all species, with a part of the demand unmet."""
        return int((self.short > 1e-6).sum())


def planned(problem: Problem, effort: float = 1.0) -> ChainPlan:
    """The schedule of a problem, laid out; effort as in `solving.solved`."""
    return laid_out(problem, solved(problem, effort))


def laid_out(problem: Problem, counts: Counts) -> ChainPlan:
    """Cultures, vessels and donors for a schedule in counts.

    The oldest is used first; a vessel is the free one with the lowest number.
    """
    free_from = _free_from(problem)
    wanted = np.minimum(problem.demand, fed_cells(problem, counts))
    alive = [_life(problem, culture) for culture in problem.present.cultures]
    for life in alive:
        free_from[life.vessel] = problem.days + problem.days
    done: list[Life] = []
    fed = np.zeros_like(problem.demand)
    for day in range(problem.days):
        alive = list(_with_starts(problem, counts, day, alive, free_from))
        for line in range(len(problem.room.lines)):
            alive, fed[line, day] = _fed(problem, line, day, alive, wanted)
        alive, gone = _evening(problem, counts, day, alive)
        for life in gone:
            wait = problem.room.kind(life.vessel[0]).clean_days
            free_from[life.vessel] = day + 1 + wait
        done += gone
    demand = np.maximum(problem.demand, DROP)
    short = np.where(problem.demand > 0, np.clip(1 - fed / demand, 0, 1), 0.0)
    lives = sorted([*done, *alive], key=lambda life: (life.started, life.species, life.step))
    return ChainPlan(problem, counts, tuple(lives), fed, np.where(short < 1e-7, 0.0, short))


def _free_from(problem: Problem) -> dict[Vessel, int]:
    never = 2 * problem.days + 1
    found = {(kind.name, number): 0 for kind in problem.room.kinds
             for number in range(1, kind.count + 1)}  # fmt: skip
    found |= dict(problem.present.cleaning)
    return found | dict.fromkeys(problem.present.missing, never)


def _life(problem: Problem, culture: Culture) -> Life:
    line = next(line for line in problem.room.lines if line.species == culture.species)
    vessel = (line.steps[culture.step].kind, culture.vessel)
    return Life(culture.species, culture.step, vessel, culture.started, culture.ready,
                culture.last, left=culture.left)  # fmt: skip


def _usable(alive: list[Life], species: str, step: int, day: int) -> list[Life]:
    """Cultures ready for use, the one that must go first in front."""
    ready = [life for life in alive if life.species == species and life.step == step
             and life.ready <= day <= life.last and not life.ending]  # fmt: skip
    return sorted(ready, key=lambda life: (life.last, life.left, life.started, life.vessel))


def _with_starts(
    problem: Problem, counts: Counts, day: int, alive: list[Life], free_from: dict[Vessel, int]
) -> Iterator[Life]:
    """The cultures of a day after its inoculations; donors are marked as poured."""
    poured: set[int] = set()
    new: list[Life] = []
    for number, line in enumerate(problem.room.lines):
        for place, step in enumerate(line.steps):
            starts = int(counts.started[number, place, day])
            donors: list[Life] = []
            if place and starts:
                usable = _usable(alive, line.species, place - 1, day)
                donors = usable[: int(counts.poured[number, place - 1, day])]
                poured |= {id(donor) for donor in donors}
            for start in range(starts):
                vessel = _first_free(free_from, step.kind, day)
                free_from[vessel] = 2 * problem.days
                ready = day + step.grow_days
                from_ = donors[start * step.donors // step.starts :][: step.donors]
                new.append(Life(line.species, place, vessel, day, ready,
                                ready + step.use_days - 1,
                                donors=tuple(donor.vessel for donor in from_)))  # fmt: skip
    for life in alive:
        yield replace(life, ending="poured", ended=day) if id(life) in poured else life
    yield from new


def _first_free(free_from: dict[Vessel, int], kind: str, day: int) -> Vessel:
    return min(vessel for vessel, free in free_from.items() if vessel[0] == kind and free <= day)


def fed_cells(problem: Problem, counts: Counts) -> NDArray[np.float64]:
    """Cells that the schedule feeds where it leaves a part of the demand unmet, else no limit.

    Shape (lines, days). What is scarce may be worth more on a later day, and is kept for it.
    """
    cells = np.array([line.steps[-1].cells for line in problem.room.lines])
    return np.where(counts.short > SCARCE, counts.fed * cells[:, None], np.inf)


def _fed(
    problem: Problem, line: int, day: int, alive: list[Life], cells: NDArray[np.float64]
) -> tuple[list[Life], float]:
    """The cultures after feeding, and the cells fed."""
    species = problem.room.lines[line].species
    place = len(problem.room.lines[line].steps) - 1
    step = problem.room.lines[line].steps[place]
    wanted, given = float(cells[line, day]), 0.0
    changed: dict[int, Life] = {}
    for life in _usable(alive, species, place, day):
        amount = min(wanted - given, step.cells * (1.0 if step.drawn else life.left))
        if amount <= wanted * DROP:
            break
        given += amount
        left = life.left if step.drawn else max(0.0, life.left - amount / step.cells)
        drawn = (*life.drawn, (day, amount))
        changed[id(life)] = replace(life, drawn=drawn, left=0.0 if left < DROP else left)
    return [changed.get(id(life), life) for life in alive], given


def _evening(
    problem: Problem, counts: Counts, day: int, alive: list[Life]
) -> tuple[list[Life], list[Life]]:
    """The cultures that stay, and those that ended today."""
    ending: dict[int, Ending] = {}
    for number, line in enumerate(problem.room.lines):
        for place in range(len(line.steps)):
            mine = [x for x in alive if x.species == line.species and x.step == place]
            for life in mine:
                if life.left <= 0:
                    ending[id(life)] = "used up"
                elif life.ending:
                    ending[id(life)] = life.ending
                elif life.last <= day:
                    ending[id(life)] = "used up" if life.drawn else "thrown away"
            wanted = int(counts.ended[number, place, day])
            wanted -= sum(id(life) in ending for life in mine)
            for life in _usable(mine, line.species, place, day):
                if wanted > 0 and id(life) not in ending:
                    ending[id(life)] = "used up" if life.drawn else "thrown away"
                    wanted -= 1
    gone = [replace(x, ended=day, ending=ending[id(x)]) for x in alive if id(x) in ending]
    return [x for x in alive if id(x) not in ending], gone
