"""A thing that may be done, and all that such things are made from."""

from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.draws import Streams
from protoconch.season.outlook.ahead import Standing, onward, totals
from protoconch.season.outlook.basis import Basis, plan_streams
from protoconch.season.outlook.outlook import Known
from protoconch.season.outlook.room_left import RoomLeft, room_left
from protoconch.season.plan.calendar import batch_calendars
from protoconch.season.plan.options import (
    Labour,
    Option,
    Setting,
    collecting_days,
    options,
)

Numbers = NDArray[np.float64]
Kind = Literal["collect", "stock", "leave out", "thin", "wait for the slow", "move earlier",
               "extra culture", "shift the date", "hold release", "count again"]  # fmt: skip
FEW_DRAWS = 20
"""Draws for the yields of options, which are not looked at here."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A thing to do and the season that comes of it.

    key: what it is, whatever the words. hours: of work it adds (below zero: saves); masses: egg
    masses it takes; algae_g: dry algae it takes, the season through. rests_on: with which date.
    alike: of those with the same word here only the best is told, such as one day among many.
    """

    kind: Kind
    key: str
    sentence: str
    season: Standing
    rests_on: Basis
    hours: float
    masses: int = 0
    batch: str = ""
    algae_g: float = 0.0
    alike: str = ""


@dataclass(frozen=True)
class Room:
    """All that candidates are made from: the season as it stands in the futures tried.

    labour: hours of work that a lot needs. source: streams of what a new batch or tank meets.
    """

    known: Known
    now: Standing
    labour: Labour
    source: Streams
    free: RoomLeft = field(init=False)

    def __post_init__(self) -> None:
        """Work out what is free."""
        free = room_left(self.now, self.rests_on, self.known.posterior.history.masses)
        object.__setattr__(self, "free", free)

    @cached_property
    def ready(self) -> Numbers:
        """Animals of each batch at the date if nothing is done, (batches, n)."""
        return totals(self.now, self.rests_on, onward(self.now, self.rests_on))

    @property
    def rests_on(self) -> Basis:
        """The plan, the species, the hatchery."""
        return self.known.basis

    def day(self, day: int) -> date:
        """The calendar day of a day of the season."""
        return self.rests_on.first_day + timedelta(days=int(day))

    @cached_property
    def setting(self) -> Setting:
        """The setting of the plan's own options."""
        of = self.rests_on
        return Setting(of.plan.hatchery, of.beliefs, plan_streams(of.plan.seed), of.first_day,
                       of.days, of.size_days, of.plan.target.size_mm, self.labour)  # fmt: skip

    def options(self, *starts: int) -> list[Option]:
        """A tank with its trays for each kind of them, begun on these days."""
        return [option for start in starts for option in self._options[start]]

    @cached_property
    def _options(self) -> dict[int, list[Option]]:
        """Options by start: every day of collecting to come, and those of batches that wait."""
        of, setting, now = self.rests_on, self.setting, self.now
        waiting = {batch.start for batch, stage in zip(now.layout.batches, now.stage, strict=True)
                   if stage < 0}  # fmt: skip
        starts = tuple(sorted({*self.starts(), *waiting}))
        calendars = batch_calendars(of.beliefs, setting.source, starts, of.days,
                                    setting.first_day_of_year, of.size_days)  # fmt: skip
        made: dict[int, list[Option]] = {start: [] for start in starts}
        for option in options(setting, calendars, FEW_DRAWS):
            made[option.calendar.start].append(option)
        return made

    def starts(self) -> list[int]:
        """Days to come on which egg masses may be collected, those of other batches left out."""
        hatchery = self.rests_on.plan.hatchery
        taken = {batch.start for batch in self.now.layout.batches}
        days = collecting_days(hatchery, self.rests_on.first_day, hatchery.last_day)
        return [d for d in days if self.now.day < d < self.rests_on.days and d not in taken]

    def tank(self, kind: int) -> dict[str, object]:
        """How a larval tank of a kind is called, and its water."""
        tank = self.rests_on.plan.hatchery.larval_tanks[kind]
        return {"tank": tank.name, "litres": tank.litres}

    def pieces(self, b: int) -> int:
        """Egg masses of which a batch has pieces, by the plan; 0 where the plan has it not."""
        code = self.now.codes[b]
        own = {self.rests_on.code(batch.code): batch for batch in self.rests_on.plan.batches}
        return own[code].egg_masses if code in own else 0

    def where(self, b: int, lot: int) -> str:
        """The tank of a lot that the log has."""
        courses = self.known.posterior.history.courses
        mine = [course.tank for course in courses if course.batch == self.now.codes[b]]
        return str(mine[lot - self.now.layout.lots_of(b).start])
