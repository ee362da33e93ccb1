"""Work that should have been done on an earlier day and that the log knows nothing of."""

from dataclasses import replace
from datetime import date

from protoconch.words import say
from protoconch.work.task import Task


def overdue(task: Task, since: date) -> Task:
    """The line of today for what was due earlier; as it is where it is due today."""
    if since >= task.day:
        return task
    days = (task.day - since).days
    if days == 1:
        why = say("It was due yesterday, and is not in the log. {why}", why=task.why)
    else:
        why = say(
            "It was due {since:%-d %B}, {days} days ago, and is not in the log. {why}",
            since=since, days=days, why=task.why,
        )  # fmt: skip
    return replace(task, why=why)
