"""The ways in which each line of the work list can be settled."""

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.hatchery.description import Hatchery
from protoconch.log.state import State
from protoconch.work.entries.asked import Way, just_done, skipped
from protoconch.work.task import Task


def ways(
    task: Task, state: State, hatchery: Hatchery, algae: AlgaeAnswer | None = None
) -> tuple[Way, ...]:
    """How the line can be settled, the usual way first, "not done" last.

    task: of `present_tasks`. state: now. Every entry of the way that is chosen carries task.key.
    Its kind, place and payload are sound for `log.reading.entries.read_entry` once the blanks are
    filled by `asked.filled`.
    """
    return (just_done(task.kind, task.where), skipped(task.kind, task.where))
