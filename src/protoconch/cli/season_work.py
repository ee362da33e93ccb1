"""The work of a season, the algae room's included."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from protoconch.algae.chain.answer import AlgaeAnswer
    from protoconch.season.answer import SeasonPlan
    from protoconch.work.task import Task


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
        from protoconch.work.algae_lines import algae_tasks
        from protoconch.work.task import ROUNDS
        from protoconch.work.tasks import day_tasks

        tasks = list(day_tasks(self.plan, species(self.plan.hatchery.species), day))
        if self.algae is not None:
            tasks += algae_tasks(self.algae.plan, self.algae.first, day)
        return tuple(sorted(tasks, key=lambda task: ROUNDS.index(task.round)))

    def tasks(self) -> tuple["Task", ...]:
        """The tasks of all days in order."""
        from protoconch.animals.profiles import species
        from protoconch.work.algae_lines import algae_tasks
        from protoconch.work.task import ROUNDS
        from protoconch.work.tasks import season_tasks

        tasks = list(season_tasks(self.plan, species(self.plan.hatchery.species)))
        if self.algae is not None:
            for number in range(self.algae.demand.days):
                day = self.algae.first + timedelta(days=number)
                tasks += algae_tasks(self.algae.plan, self.algae.first, day)
        return tuple(sorted(tasks, key=lambda task: (task.day, ROUNDS.index(task.round))))


def season_work(plan: "SeasonPlan") -> SeasonWork:
    """The work of a plan; solves the algae room's schedule where there is one to solve."""
    from protoconch.animals.profiles import species
    from protoconch.cli.algae import season_algae

    room = plan.hatchery.algae_room
    feeds = species(plan.hatchery.species).larvae_feed
    answer = season_algae(plan, room) if room is not None and plan.batches and feeds else None
    return SeasonWork(plan, answer)
