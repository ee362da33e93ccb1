"""What a season's log teaches the next: kept as it is worked out, used on the manager's word.

Used, it is a new description of the hatchery, so that nothing is lost and every step can be undone.
"""

from dataclasses import replace
from datetime import date

from protoconch.animals.profiles import species
from protoconch.errors import BadInput
from protoconch.hatchery.own_values import learned, without_learned
from protoconch.hatchery.writing import hatchery_text
from protoconch.operations.describing import describe
from protoconch.records.models import Person, Site
from protoconch.records.queries.learning import (
    KeptSeason,
    keep_refused,
    keep_season,
    kept_seasons,
    offer,
)
from protoconch.records.queries.site import hatchery
from protoconch.season.outlook.outlook import Known
from protoconch.season.outlook.season_said import book, season_said
from protoconch.sources.reading import load_table
from protoconch.words import say


def heed(site: Site, known: Known, today: date) -> None:
    """Keep what the log behind an outlook says of the hatchery's numbers."""
    plan = known.basis.plan
    of = book(species(plan.hatchery.species), plan.hatchery, load_table("season"),
              load_table("outlook"))  # fmt: skip
    said = season_said(of, known.basis, known.posterior)
    keep_season(site, KeptSeason(said, today > plan.target.by or _all_gone(known)))


def _all_gone(known: Known) -> bool:
    """Whether every batch has begun and no animal is left of any, before the date."""
    there = known.standing
    return bool((there.stage >= 0).all()) and there.released > 0 and not there.alive.any()


def use_what_was_learned(person: Person) -> int:
    """Put what the log has taught into the description; how many numbers.

    On the manager's word a season that is under way is used as well: its own outlook goes on
    without it. Raises: BadInput, where nothing waits.
    """
    site = person.site
    waiting = offer(site).numbers
    if not waiting:
        raise BadInput(say("There is nothing new from the log to be used."))
    here = hatchery(site)
    own = {**here.own_values, **{number.value.name: number.value for number in waiting}}
    describe(person, hatchery_text(replace(here, own_values=own)))
    keep_refused(site, _first_days(site), refused=False)
    return len(waiting)


def leave_what_was_learned(person: Person) -> None:
    """Leave the numbers as they are; nothing is asked again until another season is over."""
    keep_refused(person.site, _first_days(person.site), refused=True)


def ask_again(person: Person) -> None:
    """Offer again what was left."""
    keep_refused(person.site, _first_days(person.site), refused=False)


def take_back_what_was_learned(person: Person) -> int:
    """Describe the hatchery without what its log has taught it; how many numbers.

    Raises: BadInput, where it uses none.
    """
    here = hatchery(person.site)
    many = len(learned(here.own_values))
    if not many:
        raise BadInput(say("No number from the log is in use."))
    describe(person, hatchery_text(without_learned(here)))
    keep_refused(person.site, _first_days(person.site), refused=True)
    return many


def _first_days(site: Site) -> tuple[date, ...]:
    return tuple(kept.said.first_day for kept in kept_seasons(site))
