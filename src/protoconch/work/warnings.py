"""What the log warns of today, each with what to do."""

from datetime import date

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.log.state import State
from protoconch.season.answer import SeasonPlan
from protoconch.work.warned.animals import animal_warnings
from protoconch.work.warned.stores import (
    culture_warnings,
    log_warnings,
    permit_warnings,
    store_warnings,
)  # fmt: skip
from protoconch.work.warned.warning import Topic, Warned
from protoconch.work.warned.water import water_warnings

__all__ = ["Topic", "Warned", "warnings"]

Warning = Warned  # noqa: A001 - under this name the page of the day has it


def warnings(
    state: State, plan: SeasonPlan | None, hatchery: Hatchery, species: Species, day: date
) -> tuple[Warned, ...]:
    """The warnings of a day, the urgent ones first.

    state: as of now. plan: None while there is none.
    """
    found = [
        *(animal_warnings(state, plan, species, day) if plan is not None else ()),
        *water_warnings(state, hatchery, species, day),
        *culture_warnings(state),
        *store_warnings(state, day),
        *permit_warnings(state, hatchery, day),
        *log_warnings(state),
    ]
    return tuple(sorted(found, key=lambda warning: not warning.urgent))
