"""The work of any day, what was missed before it, and what the log warns of."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache

from django.utils import timezone

from protoconch.animals.profiles import species
from protoconch.hatchery.description import Hatchery
from protoconch.log.state import State
from protoconch.records.models import Site
from protoconch.records.queries.answers import Planned, tasks
from protoconch.records.queries.log import state
from protoconch.web.pages.today import days
from protoconch.work.missed import Missed, missed
from protoconch.work.present import present_tasks
from protoconch.work.task import Task
from protoconch.work.warnings import Warning as Warned
from protoconch.work.warnings import warnings

DAYS_BACK = 3
"""How far back missed work is looked for; what is older has shown itself otherwise."""


def work_of(site: Site, planned: Planned, day: date) -> tuple[Task, ...]:
    """The work of a day: of a past one as the log stood at its end, by all that is known now."""
    if planned.plan is None:
        return ()
    if day >= days.here_today():
        return tasks(site, day)
    return _past(Known(state(site, _end_of(day)), planned), day)


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """What a day's work follows from; known again by its parts being the very same ones."""

    state: State
    planned: Planned

    def __hash__(self) -> int:
        return hash(self._parts())

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Known) and self._parts() == other._parts()

    def _parts(self) -> tuple[int, ...]:
        plan, algae = self.planned.plan, self.planned.algae
        forecast = plan.forecast if plan else None
        hatchery = plan.hatchery if plan else None
        return id(self.state), id(forecast), id(hatchery), id(algae)


@lru_cache(maxsize=32)
def _past(known: Known, day: date) -> tuple[Task, ...]:
    """The work of a past day; it changes only with what is known of that day."""
    plan = known.planned.plan
    if plan is None:
        return ()
    return present_tasks(known.state, plan, species(plan.hatchery.species), day,
                         known.planned.algae)  # fmt: skip


def missed_before(
    site: Site, planned: Planned, now: State, day: date, today: Iterable[Task]
) -> tuple[Missed, ...]:
    """What nobody entered in the days before."""
    before = (day - timedelta(days=back) for back in range(1, DAYS_BACK + 1))
    past = [task for each in before for task in work_of(site, planned, each)]
    return missed(past, now, day, today)


def warned_of(planned: Planned, described: Hatchery, now: State, day: date) -> tuple[Warned, ...]:
    """What is wrong or soon will be, the urgent things first."""
    return warnings(now, planned.plan, described, species(described.species), day)


def _end_of(day: date) -> datetime:
    """The last moment of a day by the site's clock."""
    return timezone.make_aware(datetime.combine(day, time.max))
