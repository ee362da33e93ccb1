"""How sure a schedule is when cultures are lost by chance, and the least spares that suffice."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.description import Room
from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.plan import ChainPlan, planned
from protoconch.algae.chain.policies import blind, replacing
from protoconch.algae.chain.running import Run, carried_out, drawn_losses

Numbers = NDArray[np.float64]
MET = 0.05
"""Share of a day's demand that may lack before the day counts as short; assumption."""
EARLY_DAYS = 3
"""Slack before the first food is wanted; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Sureness:
    """How a schedule fares in simulated seasons.

    runs: how many. met: share of all species-days with demand that were fed. unmet: share of the
    food that lacked; unmet_90: the share that nine in ten seasons stay below. fed: cells fed,
    share of the demand on each day, 10 % and 50 % over the seasons, shape (2, lines, days).
    """

    runs: int
    met: float
    unmet: float
    unmet_90: float
    fed: Numbers


def dice_for(room: Room, days: int, runs: int, rng: np.random.Generator) -> Numbers:
    """Uniform numbers behind the losses, shape (runs, kinds, most vessels of a kind, days)."""
    most = max(kind.count for kind in room.kinds)
    return rng.uniform(size=(runs, len(room.kinds), most, days))


def sureness(
    plan: ChainPlan, dice: Numbers, demand: Numbers | None = None, *, makes_good: bool = True
) -> Sureness:
    """The schedule carried out under losses.

    dice: as of `dice_for`. demand: cells really wanted, where the schedule was made for more.
    makes_good: lost cultures are started again as soon as a donor is there; else blindly.
    """
    wanted = plan.problem.demand if demand is None else demand
    real = replace(plan.problem, demand=wanted)
    runs: list[Run] = []
    for season in dice:
        policy = replacing(real, plan.counts) if makes_good else blind(real, plan.counts)
        runs.append(carried_out(real, policy, drawn_losses(real.room, season)))
    return summed_up(runs, wanted)


def summed_up(runs: Sequence[Run], demand: Numbers) -> Sureness:
    """The seasons of one policy together."""
    asked = demand > 0
    short = np.array([run.short for run in runs])
    unmet = np.array([run.short[asked].mean() if asked.any() else 0.0 for run in runs])
    met = float((short[:, asked] <= MET).mean()) if asked.any() else 1.0
    fed = np.quantile(1 - short, [0.1, 0.5], axis=0)
    return Sureness(len(runs), met, float(unmet.mean()), float(np.quantile(unmet, 0.9)), fed)


@dataclass(frozen=True, slots=True)
class SurePlan:
    """A schedule with spares enough, or the surest that was found.

    spare: cultures kept above need, by kind. enough: it reaches what was asked. tried: spares and
    share of days fed of each attempt.
    """

    plan: ChainPlan
    sureness: Sureness
    spare: dict[str, int]
    enough: bool
    tried: tuple[tuple[dict[str, int], float], ...]


def sure_plan(
    problem: Problem, met: float, dice: Numbers, effort: float = 0.5,
    make: Callable[[Problem, float], ChainPlan] = planned,
) -> SurePlan:  # fmt: skip
    """The schedule with the fewest spares under which so large a share of days is fed.

    met: share of species-days to be fed, 0 to 1. dice: of the simulated seasons.
    Returns: the first rung of the ladder that reaches it, else the surest.
    """
    tried: list[SurePlan] = []
    for spare in spare_ladder(problem.room):
        now = replace(problem, room=replace(problem.room, spare=spare))
        plan = make(now, effort)
        found = sureness(plan, dice)
        rows = tuple((rung.spare, rung.sureness.met) for rung in tried)
        tried.append(SurePlan(plan, found, spare, found.met >= met, (*rows, (spare, found.met))))
        if found.met >= met:
            return tried[-1]
    best = max(tried, key=lambda rung: rung.sureness.met)
    return replace(best, tried=tried[-1].tried)


def spare_ladder(room: Room) -> list[dict[str, int]]:
    """Spares to try, from the least work to the most: the room's own, then more from below up."""
    ladder = [dict(room.spare)]
    poured = [
        kind.name
        for kind in room.kinds
        if any(step.kind == kind.name for line in room.lines for step in line.steps[:-1])
    ]
    feeding = [kind.name for kind in room.kinds
               if any(line.steps[-1].kind == kind.name for line in room.lines)]  # fmt: skip
    for name in [*poured[-1:], *feeding]:
        rung = dict(ladder[-1])
        rung[name] = rung.get(name, 0) + 1
        ladder.append(rung)
    return ladder
