"""The work of a season as the commands ask for it."""

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.hatchery.algae_vessels import AlgaeRoom
from protoconch.season.answer import SeasonPlan
from protoconch.work import season_work as whole

SEASONS, EFFORT = whole.SEASONS, whole.EFFORT


def season_work(plan: SeasonPlan) -> whole.SeasonWork:
    """The work of a plan; solves the algae room's schedule where there is one to solve."""
    room = whole.room_asked(plan)
    return whole.SeasonWork(plan, None if room is None else season_algae(plan, room))


def season_algae(season: SeasonPlan, room: AlgaeRoom, effort: float = EFFORT) -> AlgaeAnswer:
    """The algae room's answer to the food that a season asks for.

    Raises: BadInput, where the season asks for none.
    """
    return whole.season_algae(season, room, effort, SEASONS)
