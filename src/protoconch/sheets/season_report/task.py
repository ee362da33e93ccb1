"""What the report needs to know of a task."""

from datetime import date
from typing import Protocol


class TaskLike(Protocol):
    """One thing to do on a day, as `work.task.Task` is.

    round: "morning", "midday" or "evening". kind: the sort of work. what, where, amount, why: what
    the crew reads. batch: its code. minutes: time it takes [min].
    """

    @property
    def day(self) -> date:
        """The day of the work."""

    @property
    def round(self) -> str:
        """The round of the day."""

    @property
    def kind(self) -> str:
        """The sort of work."""

    @property
    def what(self) -> str:
        """What is done."""

    @property
    def where(self) -> str:
        """The vessel or the place."""

    @property
    def amount(self) -> str:
        """How much."""

    @property
    def why(self) -> str:
        """The reason."""

    @property
    def batch(self) -> str:
        """The batch that it is for."""

    @property
    def minutes(self) -> float:
        """How long it takes [min]."""
