"""Work of the last days that nobody logged."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from protoconch.log.state import State
from protoconch.work.task import Task


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

    past: tasks of the days before. today: the tasks of the day; what they repeat is left out.
    """
    raise NotImplementedError
