"""Answers that take long and are kept: the plan, the algae schedule."""

from datetime import date
from typing import Literal, NamedTuple

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.records.models import Site
from protoconch.season.answer import SeasonPlan
from protoconch.work.task import Task


class Planned(NamedTuple):
    """The season's plan and the algae room's schedule, and how far their making is.

    why: where it failed, the sentence.
    """

    plan: SeasonPlan | None
    algae: AlgaeAnswer | None
    making: Literal["ready", "being made", "failed", "not asked"]
    why: str = ""


def planned(site: Site) -> Planned:
    """The plan in force, and whether a new one is being made."""
    raise NotImplementedError


def tasks(site: Site, day: date) -> tuple[Task, ...]:
    """The work of a day: from the state once there are entries, else from the plan."""
    raise NotImplementedError
