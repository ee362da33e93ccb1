"""What pages show of a plan, kept in memory while it is the plan in force."""

from collections.abc import Callable, Hashable
from typing import TypeVar

from django.utils.translation import get_language

from protoconch.operations.what_if import ByPlan
from protoconch.season.answer import SeasonPlan
from protoconch.words import reader_now

Made = TypeVar("Made")


class ByReader(ByPlan):
    """The same, for each language and each choice of units apart."""

    def of(self, plan: SeasonPlan, key: Hashable, make: Callable[[], Made], *also: object) -> Made:
        """What is kept under the key for that plan and this reader, made where it is not there."""
        return super().of(plan, (key, get_language(), reader_now()), make, *also)
