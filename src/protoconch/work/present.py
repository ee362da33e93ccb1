"""The day's work from what there is, by the log, where there is one."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.animals.species import Species
from protoconch.log.state import State
from protoconch.season.answer import SeasonPlan
from protoconch.work.algae_now import algae_now
from protoconch.work.how_to import HOW_TO, KINDS, task_of
from protoconch.work.juveniles import nursery_day
from protoconch.work.lots import Lots, coded, lots
from protoconch.work.nursery_now import nursery_now
from protoconch.work.tanks_now import eggs_now, tanks_now, waiting_now
from protoconch.work.task import ROUNDS, Task
from protoconch.work.tasks import batch_tasks
from protoconch.work.trays_now import trays_now
from protoconch.work.turns import change_turns


def present_tasks(
    state: State, plan: SeasonPlan, species: Species, day: date, algae: AlgaeAnswer | None = None
) -> tuple[Task, ...]:
    """The tasks of a day in the order of its rounds, from what the log says there is.

    Batches go by the name they have in the log, "27A". While the log has no animals, the plan's
    tasks. With them: dates follow those that were logged, tanks are those in use, amounts follow
    the last count and the last lengths, carried on by what the plan expects since. What should
    have happened and was not logged stays due and says since when. Every key is met once; a line
    that an entry of today settles stays on the list.
    state: as of now, its times in the hatchery's own zone.
    """
    if state.batches or state.masses:
        found = list(_now(state, plan, species, day))
    else:
        found = list(_as_planned(plan, species, day))
    if algae is not None:
        found += algae_now(algae, state, plan, species, day)
    once = {task.key: task for task in reversed(found)}
    once |= {task.key: task for task in _done_today(state, day, once)}
    return tuple(sorted(once.values(), key=_order))


def _as_planned(plan: SeasonPlan, species: Species, day: date) -> Iterator[Task]:
    batches = coded(plan, species)
    turns, nursery = change_turns(batches), nursery_day(plan, batches, day)
    for batch in batches:
        yield from batch_tasks(batch, turns, day, nursery)


def _now(state: State, plan: SeasonPlan, species: Species, day: date) -> Iterator[Task]:
    there: Lots = lots(state, plan, species, day)
    turns = change_turns(there.planned)
    collected = any(not mass.batch for mass in state.masses.values())
    yield from waiting_now(there.waiting, plan, day, collected=collected)
    for batch in there.eggs:
        stocked = any(b.batch.code == batch.batch.code for b in there.larvae)
        yield from eggs_now(batch, state, day, stocked=stocked)
    for batch in there.larvae:
        yield from tanks_now(batch, day, turns)
    for batch in there.trays:
        yield from trays_now(batch, day, there.free_trays)
    yield from nursery_now(there, plan, day)


def _done_today(state: State, day: date, listed: Iterable[str]) -> Iterator[Task]:
    """Lines that entries of today settled and that the state no longer asks for."""
    known, today = set(listed), f"{day.isoformat()}/"
    for key in state.settled:
        if key.startswith(today) and key not in known:
            parts = key.split("/", 4)
            if len(parts) == 5:
                yield _remembered(day, *parts[1:])


def _remembered(day: date, kind: str, where: str, batch: str, what: str) -> Task:
    if kind in HOW_TO:
        return replace(task_of(kind, day, batch, where, "", 0.0), what=what)
    return Task(day, "morning", kind, what, where, "", "", batch, 0.0, None, (), ())


def _order(task: Task) -> tuple[int, int, str, str]:
    place = KINDS.index(task.kind) if task.kind in KINDS else len(KINDS)
    return ROUNDS.index(task.round), place, task.batch, task.where
