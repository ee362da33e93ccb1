"""Work that should have been done on an earlier day and that the log knows nothing of."""

from dataclasses import replace
from datetime import date

from protoconch.work.task import Task


def overdue(task: Task, since: date) -> Task:
    """The line of today for what was due earlier; as it is where it is due today."""
    if since >= task.day:
        return task
    days = (task.day - since).days
    ago = "yesterday" if days == 1 else f"{since.day} {since:%B}, {days} days ago"
    return replace(task, why=f"It was due {ago}, and is not in the log. {task.why}")
