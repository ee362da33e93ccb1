"""The answer to a demand: a schedule, how sure it is, what binds, who goes short."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.description import Present, Room
from protoconch.algae.chain.formulation import Problem
from protoconch.algae.chain.plan import ChainPlan
from protoconch.algae.chain.shortfalls import Shortfall, shortfalls
from protoconch.algae.chain.sureness import EARLY_DAYS, SurePlan, sure_plan
from protoconch.algae.chain.what_if import Binding, what_binds
from protoconch.algae.demand import FoodDemand, TankFood

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class AlgaeAnswer:
    """What the algae room does, day by day from `first`.

    demand: what is asked. sure: schedule and odds. bindings: kinds of vessels, the scarcest
    first. short: tanks that go short even if nothing is lost. days_fed: share that was aimed at.
    diatom_from_d: age before which larvae do not eat diatoms.
    """

    first: date
    demand: FoodDemand
    sure: SurePlan
    bindings: tuple[Binding, ...]
    short: tuple[Shortfall, ...]
    days_fed: float
    diatom_from_d: float

    @property
    def plan(self) -> ChainPlan:
        """The schedule."""
        return self.sure.plan

    def day(self, number: int) -> date:
        """The calendar day of a day of the schedule."""
        return self.first + timedelta(days=number)


def lead_days(room: Room) -> int:
    """Days from the first inoculation to the first food, with slack."""
    return EARLY_DAYS + max(sum(step.grow_days for step in line.steps) for line in room.lines)


def moved(food: Iterable[TankFood], days: int) -> tuple[TankFood, ...]:
    """The same food counted from a day so many days earlier."""
    return tuple(replace(entry, day=entry.day + days) for entry in food)


def chain_answer(
    room: Room, demand: FoodDemand, dice: Numbers, *, days_fed: float,
    no_start: tuple[int, ...] = (), present: Present | None = None, diatom_from_d: float = 5.0,
    effort: float = 0.5,
) -> AlgaeAnswer:  # fmt: skip
    """The schedule of a room for a demand.

    demand: species in the order of the room's lines. dice: of `sureness.dice_for`, for as many
        days. days_fed: share of species-days to be fed when cultures are lost by chance.
    no_start: weekdays without inoculations. present: the room now, empty where None.
    diatom_from_d: age before which larvae do not eat diatoms. effort: as in `solving.solved`.
    """
    days = (demand.first + timedelta(days=number) for number in range(demand.days))
    closed = frozenset(number for number, day in enumerate(days) if day.weekday() in no_start)
    problem = Problem(room, demand.cells, present or Present(), closed)
    sure = sure_plan(problem, days_fed, dice, effort)
    short = shortfalls(sure.plan, demand.tanks, diatom_from_d)
    binding = what_binds(sure.plan)
    return AlgaeAnswer(demand.first, demand, sure, binding, short, days_fed, diatom_from_d)
