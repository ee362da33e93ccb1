"""The work of a season, the algae room's included."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from protoconch.algae.chain.answer import AlgaeAnswer, chain_answer, lead_days, moved
from protoconch.algae.chain.sureness import dice_for
from protoconch.algae.demand import food_demand
from protoconch.animals.profiles import species
from protoconch.errors import BadInput
from protoconch.hatchery.algae_vessels import AlgaeRoom
from protoconch.season.answer import SeasonPlan
from protoconch.words import say
from protoconch.work.algae_lines import algae_tasks, tank_food
from protoconch.work.algae_trays import tray_food
from protoconch.work.task import ROUNDS, Task
from protoconch.work.tasks import day_tasks, season_days, season_tasks

SEED, SEASONS, RESERVE, EFFORT = 1, 60, 0.1, 0.4
"""Simulated seasons, reserve on the food asked for, effort of the solver; assumptions."""


@dataclass(frozen=True, slots=True)
class SeasonWork:
    """A plan's work: the season's own and, where the file describes an algae room, that of it."""

    plan: SeasonPlan
    algae: AlgaeAnswer | None

    @property
    def span(self) -> tuple[date, date] | None:
        """First and last day with work; None for a plan without batches."""
        days = season_days(self.plan)
        if days is None or self.algae is None:
            return days
        return min(days[0], self.algae.first), days[1]

    def tasks_on(self, day: date) -> tuple[Task, ...]:
        """The tasks of a day, round by round."""
        tasks = list(day_tasks(self.plan, species(self.plan.hatchery.species), day))
        if self.algae is not None:
            tasks += algae_tasks(self.algae.plan, self.algae.first, day)
        return tuple(sorted(tasks, key=lambda task: ROUNDS.index(task.round)))

    def tasks(self) -> tuple[Task, ...]:
        """The tasks of all days in order."""
        tasks = list(season_tasks(self.plan, species(self.plan.hatchery.species)))
        if self.algae is not None:
            for number in range(self.algae.demand.days):
                day = self.algae.first + timedelta(days=number)
                tasks += algae_tasks(self.algae.plan, self.algae.first, day)
        return tuple(sorted(tasks, key=lambda task: (task.day, ROUNDS.index(task.round))))


def room_asked(season: SeasonPlan) -> AlgaeRoom | None:
    """The algae room, where there is one and the season asks it for food."""
    feeds = season.batches and species(season.hatchery.species).larvae_feed
    return season.hatchery.algae_room if feeds else None


def season_algae(
    season: SeasonPlan, room: AlgaeRoom, effort: float = EFFORT, seasons: int = SEASONS
) -> AlgaeAnswer:
    """The algae room's answer to the food that a season asks for.

    effort: as in `solving.solved`. seasons: how many are simulated to see what losses do.
    Raises: BadInput, where the season asks for none.
    """
    profile = species(season.hatchery.species)
    food = tank_food(season, profile, room.shares, season.forecast.first_day)
    if not food:
        raise BadInput(say("The season asks for no algae: there are no larvae that feed."))
    food += tray_food(season, profile, room.shares, season.forecast.first_day)
    begin = min(entry.day for entry in food) - lead_days(room.room)
    first = season.forecast.first_day + timedelta(days=begin)
    food = moved(food, -begin)
    days = max(entry.day for entry in food) + 1
    names = [line.species for line in room.room.lines]
    demand = food_demand(food, names, first, days, reserve=RESERVE)
    dice = dice_for(room.room, days, seasons, np.random.Generator(np.random.PCG64(SEED)))
    from_day = profile.values.get("veliger.diatom_from_day")
    young = from_day.value if from_day is not None and from_day.value is not None else 5.0
    return chain_answer(room.room, demand, dice, days_fed=room.days_fed, no_start=room.no_start,
                        diatom_from_d=young, effort=effort)  # fmt: skip
