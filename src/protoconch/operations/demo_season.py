"""The demonstration: an invented hatchery with half a season logged, told as if it were lived."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, timedelta, tzinfo
from typing import Any

import numpy as np

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.fold import Folding
from protoconch.operations.demo.crew import Crew
from protoconch.operations.demo.dates import demo_text_for
from protoconch.operations.demo.day import Hatching, one_day
from protoconch.operations.demo.mishaps import mishaps_of_the_day
from protoconch.operations.demo.truth import Truth
from protoconch.operations.demo.water import (
    Waterside,
    evening_readings,
    stores_and_words,
    water_of_the_day,
)
from protoconch.operations.demo.writing import Writing
from protoconch.season.answer import SeasonPlan

__all__ = ["INVENTED", "DemoSeason", "demo_for", "demo_text_for", "half_a_season"]

INVENTED = (
    "Everything in this log is invented: the place does not exist, the people have no names but"
    " their work, and every number was made by the program to show what a log looks like."
)

Raw = tuple[dict[str, Any], ...]


@dataclass(frozen=True, slots=True)
class DemoSeason:
    """The demonstration of a day.

    text: the description of the hatchery, to be read and planned. entries: gives the raw entries
    until today once the plan and the algae room's answer are there.
    """

    text: str
    entries: Callable[[SeasonPlan, Species, AlgaeAnswer | None], Raw]


def demo_for(today: date, rng: np.random.Generator, zone: tzinfo = UTC) -> DemoSeason:
    """The demonstration in which today lies about 60 days after the first trip.

    rng: what becomes of the animals; the same for the same state of it. zone: the hatchery's own.
    """

    def entries(plan: SeasonPlan, species: Species, algae: AlgaeAnswer | None) -> Raw:
        return half_a_season(plan, plan.hatchery, species, algae, rng, today, zone)

    return DemoSeason(demo_text_for(today), entries)


def half_a_season(
    plan: SeasonPlan, hatchery: Hatchery, species: Species, algae: AlgaeAnswer | None,
    rng: np.random.Generator, until: date, zone: tzinfo = UTC,
) -> Raw:  # fmt: skip
    """Raw entries of an invented season, from the first culture or trip to the eve of `until`.

    The crew does the work list of each day, sees samples of what is really there, is sometimes
    late, forgets a line now and then, makes two slips and corrects them. Batches do better or
    worse than the plan within the spread of the plan's own futures. The first entry says that all
    of it is invented. One entry is at odds with the others on purpose.
    zone: of the times. Empty for a plan without batches. Raises: BadInput, where an entry were not
    sound, which no plan should bring about.
    """
    if not plan.batches:
        return ()
    trip = min(batch.dates.collect for batch in plan.batches)
    first = min(trip, algae.first) if algae is not None else trip
    known = {vessel.name: vessel for vessel in vessels(hatchery)}
    writing = Writing(Folding(hatchery), known, rng, zone)
    truth = Truth(plan, species, rng)
    truth.begin()
    crew = Crew(writing, truth, hatchery, first)
    late = {code: int(rng.choice([0, 0, 0, 1])) for code in truth.harder}
    keep = Waterside(first, trip + timedelta(days=20))
    writing.turn_to(first, "morning", "manager")
    writing.write("note", "", {"text": INVENTED})
    for number in range((until - first).days):
        day = first + timedelta(days=number)
        water_of_the_day(crew, keep, day)
        one_day(crew, algae, Hatching(late), day)
        evening_readings(crew, day)
        stores_and_words(crew, trip, until, day)
        mishaps_of_the_day(crew, trip, until, day)
    return tuple(writing.raw)
