"""The work of a season, the algae room's included."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from protoconch.errors import BadInput

if TYPE_CHECKING:
    from protoconch.algae.chain.answer import AlgaeAnswer
    from protoconch.hatchery.algae_vessels import AlgaeRoom
    from protoconch.season.answer import SeasonPlan
    from protoconch.work.task import Task

SEED, SEASONS, RESERVE, EFFORT = 1, 60, 0.1, 0.4
"""Simulated seasons, reserve on the food asked for, effort of the solver; assumptions."""


@dataclass(frozen=True, slots=True)
class SeasonWork:
    """A plan's work: the season's own and, where the file describes an algae room, that of it."""

    plan: "SeasonPlan"
    algae: "AlgaeAnswer | None"

    @property
    def span(self) -> tuple[date, date] | None:
        """First and last day with work; None for a plan without batches."""
        from protoconch.work.tasks import season_days

        days = season_days(self.plan)
        if days is None or self.algae is None:
            return days
        return min(days[0], self.algae.first), days[1]

    def tasks_on(self, day: date) -> tuple["Task", ...]:
        """The tasks of a day, round by round."""
        from protoconch.animals.profiles import species
        from protoconch.work.algae_lines import algae_work
        from protoconch.work.task import ROUNDS
        from protoconch.work.tasks import day_tasks

        profile = species(self.plan.hatchery.species)
        tasks = list(day_tasks(self.plan, profile, day))
        if self.algae is not None:
            tasks += algae_work(self.algae, self.plan, profile, day)
        return tuple(sorted(tasks, key=lambda task: ROUNDS.index(task.round)))

    def tasks(self) -> tuple["Task", ...]:
        """The tasks of all days in order."""
        from protoconch.animals.profiles import species
        from protoconch.work.algae_lines import algae_work
        from protoconch.work.task import ROUNDS
        from protoconch.work.tasks import season_tasks

        profile = species(self.plan.hatchery.species)
        tasks = list(season_tasks(self.plan, profile))
        if self.algae is not None:
            for number in range(self.algae.demand.days):
                day = self.algae.first + timedelta(days=number)
                tasks += algae_work(self.algae, self.plan, profile, day)
        return tuple(sorted(tasks, key=lambda task: (task.day, ROUNDS.index(task.round))))


def season_work(plan: "SeasonPlan") -> SeasonWork:
    """The work of a plan; solves the algae room's schedule where there is one to solve."""
    from protoconch.animals.profiles import species

    room = plan.hatchery.algae_room
    feeds = species(plan.hatchery.species).larvae_feed
    answer = season_algae(plan, room) if room is not None and plan.batches and feeds else None
    return SeasonWork(plan, answer)


def season_algae(season: "SeasonPlan", room: "AlgaeRoom", effort: float = EFFORT) -> "AlgaeAnswer":
    """The algae room's answer to the food that a season asks for.

    Raises: BadInput, where the season asks for none.
    """
    import numpy as np

    from protoconch.algae.chain.answer import chain_answer, lead_days, moved
    from protoconch.algae.chain.sureness import dice_for
    from protoconch.algae.demand import food_demand
    from protoconch.animals.profiles import species
    from protoconch.work.algae_lines import tank_food
    from protoconch.work.algae_trays import tray_food

    profile = species(season.hatchery.species)
    food = tank_food(season, profile, room.shares, season.forecast.first_day)
    if not food:
        raise BadInput("The season asks for no algae: there are no larvae that feed.")
    food += tray_food(season, profile, room.shares, season.forecast.first_day)
    begin = min(entry.day for entry in food) - lead_days(room.room)
    first = season.forecast.first_day + timedelta(days=begin)
    food = moved(food, -begin)
    days = max(entry.day for entry in food) + 1
    names = [line.species for line in room.room.lines]
    demand = food_demand(food, names, first, days, reserve=RESERVE)
    dice = dice_for(room.room, days, SEASONS, np.random.default_rng(SEED))
    from_day = profile.values.get("veliger.diatom_from_day")
    young = from_day.value if from_day is not None and from_day.value is not None else 5.0
    return chain_answer(room.room, demand, dice, days_fed=room.days_fed, no_start=room.no_start,
                        diatom_from_d=young, effort=effort)  # fmt: skip
