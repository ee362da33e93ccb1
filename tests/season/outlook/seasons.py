"""A small invented plan and its logs, for the tests of the outlook."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import numpy as np

from protoconch.animals.profiles import species
from protoconch.hatchery.description import Hatchery, Target
from protoconch.hatchery.reading import demo_hatchery
from protoconch.season.answer import (
    Batch,
    BatchDates,
    Forecast,
    Odds,
    SeasonPlan,
    Spread,
    TankUse,
)
from protoconch.season.model.beliefs import beliefs
from protoconch.season.outlook.basis import Basis, basis, plan_streams
from protoconch.season.plan.calendar import batch_calendars
from protoconch.sources.reading import load_table

FIRST = date(2027, 4, 1)
CONCH = species("queen-conch")
ASSUMED, COUNTING = load_table("season"), load_table("outlook")
NOTHING = Spread(0.0, 0.0, 0.0, 0.0)
SEED = 3


def plan(
    starts: tuple[int, ...] = (4, 18), tanks: int = 2, days: int = 400,
    target: tuple[int, float] = (300, 50.0), hatchery: Hatchery | None = None,
) -> SeasonPlan:  # fmt: skip
    """A plan with these days of collecting and so many 400-litre tanks for each batch."""
    place = hatchery or demo_hatchery()
    believed = beliefs(CONCH, place, ASSUMED)
    size_days = believed.path.days_to(target[1])
    calendars = batch_calendars(
        believed, plan_streams(SEED), starts, days, FIRST.timetuple().tm_yday - 1, size_days
    )
    taken = 0
    made = []
    for number, calendar in enumerate(calendars):

        def on(day: int) -> date:
            return FIRST + timedelta(days=day)

        dates = BatchDates(
            on(calendar.start), on(calendar.hatch), tuple(map(on, calendar.thin)),
            on(calendar.induce), on(calendar.tank_until), on(calendar.nursery),
            on(calendar.tray_until), on(calendar.ready), on(days),
        )  # fmt: skip
        own = tuple(TankUse("large", (taken + i) % 6 + 1, 400.0) for i in range(tanks))
        taken += tanks
        made.append(Batch(
            chr(ord("A") + number), 2, 80000.0 * tanks, 0.1, dates, own, (100.0, 50.0, 25.0),
            {"tray": 4 * tanks}, NOTHING, NOTHING, NOTHING, NOTHING, NOTHING,
        ))  # fmt: skip
    none = np.zeros(days + 1)
    forecast = Forecast(FIRST, (), none, none, none, none, none, none, none, none)
    goal = Target(target[0], target[1], FIRST + timedelta(days=days), 0.8)
    return SeasonPlan(
        place, goal, True, Odds(0.8, 0.01, 0.78, 1000), 0.0, 0.0, 0.0, tuple(made),
        2 * len(made), tanks * len(made), 0.0, 0.0, 0.0, (), "", (), (), forecast, (), SEED,
    )  # fmt: skip


@cache
def small(starts: tuple[int, ...] = (4, 18), tanks: int = 2, days: int = 400) -> Basis:
    """The basis of a small plan."""
    return basis(plan(starts, tanks, days), CONCH, ASSUMED, COUNTING)


def on(day: int) -> date:
    """A day of the season."""
    return FIRST + timedelta(days=day)


def fixed(of: Basis, **values: float) -> Basis:
    """The same basis with some unknowns held at a value; dots written as two underscores."""
    uncertain = dict(of.beliefs.uncertain)
    for name, value in values.items():
        key = name.replace("__", ".")
        uncertain[key] = replace(uncertain[key], value=value, low=None, high=None, shape="fixed",
                                 beta=None)  # fmt: skip
    return of.with_beliefs(replace(of.beliefs, uncertain=uncertain))
