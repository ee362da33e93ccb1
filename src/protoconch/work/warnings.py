"""What the log warns of today, each with what to do."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.log.state import State
from protoconch.season.answer import SeasonPlan


@dataclass(frozen=True, slots=True)
class Warning:  # noqa: A001 - the trade's word; Python's own is not used here
    """Something that is wrong or soon will be.

    topic: "water", "animals", "algae", "stores", "permit" or "log". urgent: today, not this week.
    where: the vessel or place. sentence: what is the matter. do: what to do. cautions: where
    someone can be hurt. source: of the limit.
    """

    topic: Literal["water", "animals", "algae", "stores", "permit", "log"]
    urgent: bool
    where: str
    sentence: str
    do: str
    cautions: tuple[str, ...] = ()
    source: str = ""


def warnings(
    state: State, plan: SeasonPlan | None, hatchery: Hatchery, species: Species, day: date
) -> tuple[Warning, ...]:
    """The warnings of a day, the urgent ones first."""
    raise NotImplementedError
