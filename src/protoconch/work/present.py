"""The day's work from what there is, by the log, where there is one."""

from datetime import date

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.animals.species import Species
from protoconch.log.state import State
from protoconch.season.answer import SeasonPlan
from protoconch.work.task import Task


def present_tasks(
    state: State, plan: SeasonPlan, species: Species, day: date, algae: AlgaeAnswer | None = None
) -> tuple[Task, ...]:
    """The tasks of a day in the order of its rounds, from what the log says there is.

    state: as of now. Batches go by the name they have in the log, "27A".
    """
    raise NotImplementedError
