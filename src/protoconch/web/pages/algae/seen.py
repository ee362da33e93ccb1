"""The algae room of a site: its cultures by the log, and the schedule that is kept for it."""

from collections import Counter
from collections.abc import Hashable
from dataclasses import dataclass
from datetime import date, datetime

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.algae.chain.plan import ChainPlan
from protoconch.hatchery.algae_vessels import AlgaeRoom
from protoconch.hatchery.description import Hatchery
from protoconch.log.state import State
from protoconch.operations.what_if import ByPlan
from protoconch.records.models import Site
from protoconch.records.queries.algae_room import RoomPlanned, room_planned
from protoconch.records.queries.answers import planned
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.season.answer import SeasonPlan
from protoconch.work.cultures.there import CultureNow, cultures_there

_kept = ByPlan(40)


@dataclass(frozen=True, slots=True)
class RoomNow:
    """All that is known of the algae room.

    room: None where none is described. kept: the schedule from present cultures, None before the
    first. schedule, first: the one that holds: kept, else the season's, None where there is none;
    day: of it, today.
    """

    hatchery: Hatchery
    room: AlgaeRoom | None
    state: State
    cultures: tuple[CultureNow, ...]
    season: SeasonPlan | None
    answer: AlgaeAnswer | None
    kept: RoomPlanned | None
    schedule: ChainPlan | None
    first: date | None
    now: datetime

    @property
    def today(self) -> date:
        """The day it is by the site's clock."""
        return self.now.date()

    @property
    def day(self) -> int:
        """The schedule's number of today."""
        return (self.today - self.first).days if self.first else 0

    @property
    def there(self) -> dict[tuple[str, str], int]:
        """How many cultures there are, by species and kind of vessel."""
        return dict(Counter((one.species, one.kind) for one in self.cultures))


def room_now(site: Site, now: datetime) -> RoomNow:
    """The algae room at a moment. now: by the site's clock.

    Raises: MissingInput, where the hatchery is not described.
    """
    here, there, known = hatchery(site), state(site), planned(site)
    room = here.algae_room
    answer = known.algae
    cultures = _cultures(known.plan, there, room, now)
    kept = room_planned(site, there, now.date())
    schedule, first = (answer.plan, answer.first) if answer else (None, None)
    if kept is not None and kept.kept.plan is not None:
        schedule, first = kept.kept.plan.plan, kept.kept.plan.first
    return RoomNow(here, room, there, cultures, known.plan, answer, kept, schedule, first, now)


def _cultures(
    plan: SeasonPlan | None, there: State, room: AlgaeRoom | None, now: datetime
) -> tuple[CultureNow, ...]:
    """The cultures with their curves, made once an hour for each state."""
    if room is None:
        return ()
    if plan is None:
        return cultures_there(there, room, now)
    key: Hashable = ("cultures", str(there.last), there.entries, now.replace(
        minute=0, second=0, microsecond=0))  # fmt: skip
    return _kept.of(plan, key, lambda: cultures_there(there, room, now))
