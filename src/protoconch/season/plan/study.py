"""One study of a hatchery and a date: the options, the room, and the searches made in them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from protoconch.animals.species import Species
from protoconch.errors import BadInput, OutOfRange
from protoconch.hatchery.description import Hatchery, Target
from protoconch.season.model.beliefs import Beliefs, beliefs
from protoconch.season.model.draws import Streams, streams
from protoconch.season.plan.calendar import BatchCalendar, batch_calendars
from protoconch.season.plan.judge import Judged, judge
from protoconch.season.plan.options import Labour, Setting, collecting_days, options
from protoconch.season.plan.room import Choice, Room, room
from protoconch.season.plan.search import Found, Search
from protoconch.sources.values import SourcedValue
from protoconch.words import phrase, say

ROUNDS = 4
"""Searches made for one plan at most, each asking more where fresh futures showed too little, and
less where they showed too much: handing over early makes them better than the common ones tell."""
SPARE = 0.015
"""Odds beyond what was asked that are not worth another search."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How many futures are drawn: common ones to search on, fresh ones to judge by."""

    common: int = 10_000
    fresh: int = 20_000
    look: int = 4_000
    """Fresh futures for comparisons beside the plan itself."""


@dataclass(frozen=True, slots=True)
class Inputs:
    """What a plan is asked of: the hatchery, its species, who does the work, whence the dice.

    common, fresh: random streams to search on and to judge by. today: no batch begins before it.
    """

    hatchery: Hatchery
    species: Species
    labour: Labour
    beliefs: Beliefs
    common: Streams
    fresh: Streams
    effort: Effort
    today: date | None

    @property
    def larval_lengths_mm(self) -> tuple[float, float]:
        """Shell length at hatch and at competence [mm]; settlement length where unknown."""
        names = ("veliger.hatch_length_um", f"regime.{self.hatchery.regime}.competence_length_um")
        settled = self.species.number("settlement.length_mm")
        known = [self.species.values.get(name) for name in names]
        hatch, competent = (
            v.value / 1000 if v is not None and v.value is not None else settled for v in known
        )
        return hatch, competent


def inputs(
    hatchery: Hatchery, species: Species, labour: Labour, assumed: Mapping[str, SourcedValue],
    rng: np.random.Generator, effort: Effort, today: date | None,
) -> Inputs:  # fmt: skip
    """Inputs with their beliefs worked out and two independent sets of dice."""
    believed = beliefs(species, hatchery, assumed)
    return Inputs(hatchery, species, labour, believed, streams(rng), streams(rng),
                  effort, today)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Study:
    """Everything that can be begun in this hatchery for one date and size."""

    inputs: Inputs
    target: Target
    calendars: tuple[BatchCalendar, ...]
    room: Room

    def search(self, animals: float) -> Search:
        """A search for a number of animals."""
        return Search(self.room, animals)

    def judged(self, choice: Choice, animals: float, draws: int) -> Judged:
        """A choice in fresh futures."""
        return judge(self.room, choice, animals, self.inputs.fresh, draws)

    def planned(self) -> tuple[Found, Judged]:
        """The smallest choice that fresh futures find sure enough, else the one with best odds."""
        search, asked = self.search(self.target.animals), self.target.confidence
        ask, effort = min(asked + 0.01, 0.995), self.inputs.effort
        best: tuple[Found, Judged] | None = None
        for _ in range(ROUNDS):
            found = search.smallest(ask)
            if best is not None and (not found.reaches or found.hours >= best[0].hours - 1e-6):
                break
            seen = self.judged(found.choice, self.target.animals, effort.fresh)
            spare = seen.odds.value - asked
            if spare >= 0.0:
                best = replace(found, reaches=True), seen
            if not found.reaches or 0.0 <= spare < SPARE:
                break
            ask = min(max(ask - spare + 0.003, 0.005), 0.999)
        if best is not None:
            return best
        full = search.fullest()
        seen = self.judged(full.choice, self.target.animals, effort.fresh)
        return replace(full, reaches=seen.odds.value >= asked), seen


TOO_FEW_DAYS_BY = phrase(
    "From {day} to {by} are {days} days: too few for any animal to reach {size_mm:g} mm, which"
    " the middle ones do about {ready}."
)
TOO_FEW_DAYS = phrase(
    "From {day} to {by} are {days} days: too few for any animal to reach {size_mm:g} mm; the"
    " middle ones need about {usual_days} days."
)


def checked_target(
    target: Target, hatchery: Hatchery, believed: Beliefs, today: date | None
) -> None:
    """Refuse a target that makes no sense.

    Raises: OutOfRange, BadInput; each says what would be right.
    """
    if not 1 <= target.animals <= 10_000_000:
        raise OutOfRange(say("the target"), target.animals, 1, 10_000_000, "animals")
    low = float(believed.path.lengths_mm[1])
    if not low <= target.size_mm <= 300:
        raise OutOfRange(say("the size"), target.size_mm, low, 300, "mm",
                         say("Animals are moved to the nursery at the lower figure."))  # fmt: skip
    if not 0.01 <= target.confidence <= 0.99:
        raise OutOfRange(say("the confidence"), target.confidence, 0.01, 0.99, "",
                         say("Write 0.8 or 80 % for eight in ten."))  # fmt: skip
    if today and target.by <= today:
        raise BadInput(
            say(
                "The date {by} has passed: today is {today}; give a later one.",
                by=target.by,
                today=today,
            )
        )
    if today and hatchery.last_day < today:
        raise BadInput(
            say(
                "The collecting season ended on {last_day} and today is {today}: write the next "
                "season's first_day and last_day.",
                last_day=hatchery.last_day,
                today=today,
            )
        )


def study(inputs: Inputs, target: Target, *, common: int | None = None) -> Study:
    """Lay out all options for a target's date and size.

    Raises: BadInput, where no batch can be begun or none could come near the size in time.
    """
    hatchery, believed = inputs.hatchery, inputs.beliefs
    first = max(hatchery.first_day, inputs.today) if inputs.today else hatchery.first_day
    days = (target.by - first).days
    if days < 1:
        raise BadInput(
            say(
                "The date {by} lies before the first collecting day, {first}.",
                by=target.by,
                first=first,
            )
        )
    setting = Setting(
        hatchery, believed, inputs.common, first, days, believed.path.days_to(target.size_mm),
        target.size_mm, inputs.labour,
    )  # fmt: skip
    last = min(hatchery.last_day, target.by - timedelta(days=1))
    starts = collecting_days(hatchery, first, last)
    if not starts:
        raise BadInput(
            say(
                "No day between {first} and {last} lies in the permit's months and has crew: egg "
                "masses could not be collected.",
                first=first,
                last=last,
            )
        )
    calendars = batch_calendars(
        believed, inputs.common, starts, days, setting.first_day_of_year, setting.size_days
    )
    made = options(setting, calendars, common or inputs.effort.common)
    if not any(option.means[-1] > 1e-6 for option in made):
        ready = setting.day(calendars[0].ready) if calendars[0].ready <= days else None
        raise BadInput(
            say(
                TOO_FEW_DAYS_BY if ready else TOO_FEW_DAYS, day=setting.day(starts[0]),
                by=target.by, days=days - starts[0], size_mm=target.size_mm, ready=ready,
                usual_days=_usual_days(setting, calendars[0]),
            )
        )  # fmt: skip
    return Study(inputs, target, calendars, room(setting, made))


def _usual_days(setting: Setting, calendar: BatchCalendar) -> int:
    """Days from collecting to the size asked at median growth in this water."""
    before = calendar.induce - calendar.start
    return round(before + setting.size_days)
