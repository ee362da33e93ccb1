"""What a plan is put together from: a tank with its trays, begun on one of the possible days.

Every option says what one lot of it yields in each future, and what it takes from the room on each
day at median development: the plan is a whole number of lots of each option.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from protoconch.hatchery.description import Hatchery, LarvalTank
from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.draws import (
    Dice,
    SiteDraws,
    Streams,
    blocks,
    median_batch,
    median_site,
    median_tank,
)
from protoconch.season.model.events import run_events
from protoconch.season.model.layout import Layout, Lot, ReservedBatch, futures, stacked
from protoconch.season.model.simulate import ready
from protoconch.season.plan.calendar import BatchCalendar

Numbers = NDArray[np.float64]
HATCH_LOW = 0.5
"""Eggs are brought in for a hatch this poor: eggs are never what a small hatchery lacks."""
PLACES_QUANTILE = 0.75
"""Trays are given for the competent larvae of all but the best quarter of futures."""
TRAY_STREAM = 16
NOTHING: NDArray[np.float32] = np.zeros((0, 0), dtype=np.float32)


class Labour(Protocol):
    """Hours of work that a lot needs; the work list gives them."""

    def daily_hours(
        self, stage: str, litres: float, trays: int, nursery_m2: float, *, masses: float = 1
    ) -> float:
        """Hours to keep on any one day for a lot in that stage [h]."""

    def event_hours(self, kind: str, litres: float, trays: int, animals: float) -> float:
        """Hours that a single event of a lot adds to its day [h]."""


@dataclass(frozen=True, slots=True)
class Setting:
    """All that the search for a plan rests on; nothing in it changes while it searches."""

    hatchery: Hatchery
    beliefs: Beliefs
    source: Streams
    first_day: date
    days: int
    size_days: float
    size_mm: float
    labour: Labour

    @property
    def first_day_of_year(self) -> int:
        """Day of the year of day 0 (0 to 365)."""
        return self.first_day.timetuple().tm_yday - 1

    def day(self, day: int) -> date:
        """The calendar day of a day of the season."""
        return self.first_day + timedelta(days=int(day))

    @property
    def places_at_size(self) -> float:
        """Animals of the size asked that the nursery floor holds."""
        floor = float(self.beliefs.cover.floor_m2(np.array(self.size_mm)))
        return self.hatchery.nursery_area_m2 / floor


@dataclass(frozen=True, slots=True)
class Option:
    """Lots of one tank kind with trays of one kind, begun on one day; up to `most` of them.

    most: one more than there are tanks, so that the worth of one more can be told.
    trays: trays of that kind for one lot; eggs: eggs for one lot. hours, algae_g, nursery_m2:
    taken by one lot on each day, (days + 1,); the hours are those before the nursery.
    totals: animals of the size asked from no lot, one, two, ... in each future, (most + 1, n);
    means: their means, (most + 1,).
    """

    index: int
    calendar: BatchCalendar
    tank_kind: int
    tray_kind: int
    most: int
    trays: int
    places: float
    eggs: float
    hours: Numbers
    algae_g: Numbers
    nursery_m2: Numbers
    totals: NDArray[np.float32]
    means: Numbers

    def stream(self, number: int) -> tuple[int, int]:
        """Kind and number by which the random stream of one of its lots is found."""
        return self.tank_kind * TRAY_STREAM + self.tray_kind, number


def options(setting: Setting, calendars: tuple[BatchCalendar, ...], draws: int) -> list[Option]:
    """Every option the room has on these days."""
    made: list[Option] = []
    hatchery = setting.hatchery
    dice = next(
        blocks(setting.beliefs, setting.source, 500, setting.days, setting.first_day_of_year)
    )
    site = dice.site()
    for calendar in calendars:
        for k, tank in enumerate(hatchery.larval_tanks):
            for t, tray in enumerate(hatchery.trays):
                if tank.count and tray.count:
                    good = _good_competent(setting, calendar, tank, dice, site)
                    made.append(_without_totals(setting, calendar, k, t, len(made), good))
    return _with_totals(setting, made, draws)


def _without_totals(
    setting: Setting, calendar: BatchCalendar, k: int, t: int, index: int, competent: float
) -> Option:
    tank, tray = setting.hatchery.larval_tanks[k], setting.hatchery.trays[t]
    beliefs = setting.beliefs
    eggs = eggs_for(beliefs, tank)
    per_tray = tray.area_cm2 * beliefs.larvae_per_cm2
    trays = min(max(1, ceil(competent / per_tray)), tray.count)
    middle = _median_numbers(setting, calendar, tank, eggs, trays * per_tray)
    hours, algae_g, nursery_m2 = _loads(setting, calendar, tank, trays, middle)
    return Option(index, calendar, k, t, tank.count + 1, trays, trays * per_tray, eggs,
                  hours, algae_g, nursery_m2, NOTHING, np.zeros(1))  # fmt: skip


def reserved(calendar: BatchCalendar, eggs: float) -> ReservedBatch:
    """The batch as the stage model takes it."""
    return ReservedBatch(calendar.start, eggs, calendar.tank_from, calendar.tank_until,
                         calendar.tray_from, calendar.tray_until)  # fmt: skip


def _single(setting: Setting, calendar: BatchCalendar, tank: LarvalTank, eggs: float,
            places: float) -> Layout:  # fmt: skip
    lot = Lot(0, 0, 0, tank.litres, places)
    return Layout((reserved(calendar, eggs),), (lot,), setting.days)


def eggs_for(beliefs: Beliefs, tank: LarvalTank) -> float:
    """Eggs brought in for one such tank."""
    return beliefs.density[0][1] * tank.litres / HATCH_LOW


def _good_competent(
    setting: Setting, calendar: BatchCalendar, tank: LarvalTank, dice: Dice, site: SiteDraws
) -> float:
    """Competent larvae of one tank in a good future."""
    eggs = eggs_for(setting.beliefs, tank)
    layout = _single(setting, calendar, tank, eggs, float("inf"))
    outcome = run_events(layout, futures(layout, dice, site), setting.beliefs)
    return float(np.quantile(outcome.competent[0], PLACES_QUANTILE))


def _median_numbers(
    setting: Setting, calendar: BatchCalendar, tank: LarvalTank, eggs: float, places: float
) -> tuple[float, Numbers]:
    """Animals entering the nursery from one lot, and numbers there on each day, at the median."""
    layout = _single(setting, calendar, tank, eggs, places)
    site = median_site(setting.beliefs, setting.days, setting.first_day_of_year)
    outcome = run_events(layout, stacked(site, (median_batch(),), [median_tank()]), setting.beliefs)
    entering, left = float(outcome.to_nursery[0, 0]), float(outcome.present[0, 0])
    day = np.arange(setting.days + 1)
    stay = max(setting.days - calendar.nursery, 1)
    decline = np.log(max(left, 1e-9) / entering) / stay if entering > 0 and left > 0 else 0.0
    present = day >= calendar.nursery
    numbers = np.where(present, entering * np.exp(decline * (day - calendar.nursery)), 0.0)
    return entering, np.asarray(numbers)


def _loads(
    setting: Setting, calendar: BatchCalendar, tank: LarvalTank, trays: int,
    middle: tuple[float, Numbers],
) -> tuple[Numbers, Numbers, Numbers]:  # fmt: skip
    """Hours, dry algae and nursery floor that one lot takes on each day, (days + 1,) each."""
    entering, numbers = middle
    day = np.arange(setting.days + 1)
    site = median_site(setting.beliefs, setting.days, setting.first_day_of_year)
    grown = np.maximum(site.clock[:, 0] - site.clock[min(calendar.induce, setting.days), 0], 0.0)
    floor = setting.beliefs.cover.floor_m2(setting.beliefs.path.length_mm(grown))
    nursery_m2 = np.minimum(numbers * floor, setting.hatchery.nursery_area_m2)
    larval = (day >= calendar.hatch) & (day < calendar.induce)
    algae_g = np.zeros(setting.days + 1)
    for age, per_l in setting.beliefs.ration_g_l:
        algae_g = np.where(larval & (day >= calendar.hatch + age), per_l * tank.litres, algae_g)
    labour, litres = setting.labour, tank.litres
    hours = np.where(larval, labour.daily_hours("veliger", litres, trays, 0.0), 0.0)
    on_trays = (day >= calendar.induce) & (day < calendar.nursery)
    hours += np.where(on_trays, labour.daily_hours("post-larva", litres, trays, 0.0), 0.0)
    events = [("stock", calendar.hatch, 0.0), ("induce", calendar.induce, 0.0),
              ("move", calendar.nursery, entering),
              ("grade", calendar.large, float(numbers[min(calendar.large, setting.days)])),
              ("release", setting.days, float(numbers[-1]))]  # fmt: skip
    events += [("thin", thinned, 0.0) for thinned in calendar.thin]
    for kind, on, animals in events:
        if on <= setting.days:
            hours[on] += labour.event_hours(kind, litres, trays, animals)
    return hours, algae_g, nursery_m2


def _with_totals(setting: Setting, made: list[Option], draws: int) -> list[Option]:
    """The options with their yields in so many common futures, no shared limit binding."""
    batches = tuple(reserved(option.calendar, option.eggs * option.most) for option in made)
    lots = tuple(
        Lot(o, *option.stream(number), setting.hatchery.larval_tanks[option.tank_kind].litres,
            option.places)
        for o, option in enumerate(made) for number in range(option.most)
    )  # fmt: skip
    layout = Layout(batches, lots, setting.days)
    parts: list[NDArray[np.float32]] = []
    for dice in blocks(setting.beliefs, setting.source, draws, setting.days,
                       setting.first_day_of_year):  # fmt: skip
        outcome = run_events(layout, futures(layout, dice), setting.beliefs)
        parts.append(ready(layout, outcome, setting.size_days).astype(np.float32))
    table = np.concatenate(parts, axis=1)
    result = []
    at = 0
    for option in made:
        rows = table[at : at + option.most]
        at += option.most
        totals = np.concatenate([np.zeros_like(rows[:1]), np.cumsum(rows, axis=0)])
        result.append(replace(option, totals=totals, means=totals.mean(axis=1, dtype=np.float64)))
    return result


def collecting_days(hatchery: Hatchery, first_day: date, last_day: date) -> tuple[int, ...]:
    """Days, counted from first_day, on which egg masses may be collected: one a week.

    The weekday is the one with most crew hours; days outside the permit's months are left out.
    """
    best = max(range(7), key=lambda weekday: hatchery.crew_hours[weekday])
    span = (last_day - first_day).days
    found = []
    for day in range(span + 1):
        on = first_day + timedelta(days=day)
        if on.weekday() == best and on.month in hatchery.permit.months:
            found.append(day)
    return tuple(found)
