"""Work of the last days that nobody logged."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from protoconch.log.state import State
from protoconch.words import say
from protoconch.work.task import Task

DAYS_BACK = 3
"""For so long a line that stays due is told; afterwards the day's own work has it."""
STAYS_DUE = frozenset({
    "collect", "stock", "thin", "settle", "induce", "split trays", "move to nursery", "grade",
    "test competence", "prepare release", "release", "inoculate", "make medium",
    "renew the tubes", "empty a vessel",
})  # fmt: skip
"""Kinds of work that must be made up for; the others are done anew today."""


@dataclass(frozen=True, slots=True)
class Missed:
    """A line of a past day that no entry settled.

    days_ago: 1 for yesterday. still_due: it must be made up for; else today's work takes its place.
    sentence: what to do about it.
    """

    task: Task
    days_ago: int
    still_due: bool
    sentence: str


def missed(
    past: Iterable[Task], state: State, day: date, today: Iterable[Task] = ()
) -> tuple[Missed, ...]:
    """Lines of yesterday, and of up to three days back what stays due, that no entry settled.

    The latest day first, each line once however often it was missed. What the log shows as done
    without naming the line is not missed: tanks fed, changed or counted on that day or since.
    past: tasks of the days before. today: tasks of the day; what stays due and stands there again
    is left out.
    """
    again = {_same(task) for task in today}
    found: dict[tuple[str, str, str, str], Missed] = {}
    for task in sorted(past, key=lambda task: task.day, reverse=True):
        days, due = (day - task.day).days, task.kind in STAYS_DUE
        if not 1 <= days <= (DAYS_BACK if due else 1) or task.key in state.settled:
            continue
        if _same(task) in found or (due and _same(task) in again) or _done_since(task, state):
            continue
        sentence = (
            say("It is still due: do it today, or say on the line that it is left out.")
            if due
            else say("Today's work takes its place; log it only if it was done.")
        )
        found[_same(task)] = Missed(task, days, due, sentence)
    return tuple(found.values())


def _same(task: Task) -> tuple[str, str, str, str]:
    return task.kind, task.where, task.batch, task.what


def _done_since(task: Task, state: State) -> bool:
    """Whether the vessel was seen to, though no entry named the line; or no longer holds it."""
    there = state.holdings.get(task.where)
    if there is None or there.batch != task.batch:
        return False
    last = {
        "feed": there.last_fed,
        "change water": there.last_change,
        "count": there.last_count.when if there.last_count else None,
        "measure": there.length_seen,
        "stock": there.since,
    }.get(task.kind)
    return last is not None and last.date() >= task.day
