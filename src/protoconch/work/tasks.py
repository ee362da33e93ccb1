"""The work list of a plan: for any day, what to do, where, how much, why, and the working."""

from collections.abc import Iterator
from datetime import date, timedelta

from protoconch.animals.species import Species
from protoconch.season.answer import SeasonPlan
from protoconch.work.expected import ExpectedBatch, expected_batches
from protoconch.work.how_to import KINDS
from protoconch.work.juveniles import NurseryDay, nursery_day, nursery_tasks
from protoconch.work.larvae import egg_tasks, tank_tasks
from protoconch.work.settling import tray_tasks
from protoconch.work.task import ROUNDS, THE_PLAN, Given, Task, Working
from protoconch.work.turns import Turns, change_turns

__all__ = ["KINDS", "ROUNDS", "THE_PLAN", "Given", "Task", "Working", "day_tasks",
           "season_days", "season_tasks"]  # fmt: skip


def season_days(plan: SeasonPlan) -> tuple[date, date] | None:
    """First and last day with work; None for a plan without batches."""
    if not plan.batches:
        return None
    return (
        min(batch.dates.collect for batch in plan.batches),
        max(batch.dates.release for batch in plan.batches),
    )


def day_tasks(plan: SeasonPlan, species: Species, day: date) -> tuple[Task, ...]:
    """The tasks of a day in the order of its rounds; none on a day outside the season.

    Amounts follow the plan's median numbers and lengths on that day. All minutes together stay
    within the hours that `hours.daily_hours` and `hours.event_hours` keep free for the plan.
    Raises: MissingNumber or UnknownName, where the profile lacks a number that the work needs.
    """
    batches = expected_batches(plan, species)
    return _tasks_on(plan, batches, change_turns(batches), day)


def season_tasks(plan: SeasonPlan, species: Species) -> tuple[Task, ...]:
    """The tasks of all days of the season in order."""
    span = season_days(plan)
    if span is None:
        return ()
    batches = expected_batches(plan, species)
    turns = change_turns(batches)
    first, last = span
    days = (first + timedelta(days=n) for n in range((last - first).days + 1))
    return tuple(task for day in days for task in _tasks_on(plan, batches, turns, day))


def _tasks_on(
    plan: SeasonPlan, batches: tuple[ExpectedBatch, ...], turns: Turns, day: date
) -> tuple[Task, ...]:
    nursery = nursery_day(plan, batches, day)
    found = [task for batch in batches for task in batch_tasks(batch, turns, day, nursery)]
    return tuple(sorted(found, key=_order))


def batch_tasks(
    batch: ExpectedBatch, turns: Turns, day: date, nursery: NurseryDay | None
) -> Iterator[Task]:
    """The tasks of one batch on a day, by its dates."""
    dates = batch.batch.dates
    if dates.collect <= day <= dates.release:
        yield from egg_tasks(batch, day)
        yield from tank_tasks(batch, day, turns)
        yield from tray_tasks(batch, day)
        yield from nursery_tasks(batch, day, nursery)


def _order(task: Task) -> tuple[int, int, str]:
    return ROUNDS.index(task.round), KINDS.index(task.kind), task.batch
