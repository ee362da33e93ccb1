"""The reservoir as it is now: how much is in it, for how long, and when to fill."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from protoconch.animals.species import Species
from protoconch.log.state import Level
from protoconch.season.answer import SeasonPlan
from protoconch.sources.values import SourcedValue
from protoconch.waterworks.assessment import LOOK_AHEAD_DAYS, StoreOutlook, store_outlook
from protoconch.waterworks.description import StoreKeeping, Waterworks
from protoconch.waterworks.network.solving import Solution
from protoconch.waterworks.storage.reservoir import level_forecast
from protoconch.work.expected import ExpectedBatch, expected_batches
from protoconch.work.larvae import tank_tasks
from protoconch.work.tasks import season_days
from protoconch.work.turns import change_turns
from protoconch.work.water_use import litres_by_day


@dataclass(frozen=True, slots=True)
class StoreNow:
    """The reservoir on a morning.

    keeping: with the level of now. read: when its level was last read; None where the log has no
    level of it and the description's is taken. moved: whether the log carried it on since.
    days_left: whole days until the middle level is at its reserve if nothing is pumped in; None
    where it lasts beyond `LOOK_AHEAD_DAYS`. at_reserve: it is there already.
    by_work_list: whether the use is that of the season's work; else the usual daily use.
    """

    keeping: StoreKeeping
    read: datetime | None
    moved: bool
    outlook: StoreOutlook
    days_left: int | None
    at_reserve: bool
    by_work_list: bool


def use_ahead(
    plan: SeasonPlan, species: Species, waterworks: Waterworks,
    assumed: Mapping[str, SourcedValue], today: date,
) -> dict[date, float]:  # fmt: skip
    """Litres that the season's work and the new water of loops draw in the days ahead [L].

    assumed: sources/tables/season.toml. Empty where the season has no day among them.
    """
    span = season_days(plan)
    days = [today + timedelta(days=ahead) for ahead in range(LOOK_AHEAD_DAYS)]
    inside = [day for day in days if span and span[0] <= day <= span[1]]
    if not inside:
        return {}
    batches = expected_batches(plan, species)
    turns = change_turns(batches)
    tasks = [task for batch in batches for day in inside if _lives(batch, day)
             for task in tank_tasks(batch, day, turns)]  # fmt: skip
    every_day_l = sum(loop.exchange_l_day for loop in waterworks.loops)
    listed = litres_by_day(plan, tasks, assumed, every_day_l)
    return {day: listed.get(day, every_day_l) for day in days}


def _lives(batch: ExpectedBatch, day: date) -> bool:
    return batch.batch.dates.collect <= day <= batch.batch.dates.release


def store_now(
    waterworks: Waterworks, solution: Solution, level: Level | None,
    use_l_by_day: Mapping[date, float], today: date,
) -> StoreNow | None:  # fmt: skip
    """The reservoir on a morning, None where none is described.

    solution: of its network. level: by the log, None where it has none. use_l_by_day: as of
    `use_ahead`; where it is empty, the usual daily use is taken.
    """
    if waterworks.keeping is None:
        return None
    keeping, read = waterworks.keeping, None
    if level is not None and level.read is not None:
        litres = min(keeping.store.full_l, max(0.0, level.litres))
        keeping = replace(keeping, store=replace(keeping.store, level_l=litres))
        read = level.read
    moved = level is not None and read is not None and level.when > read
    use = dict(use_l_by_day) or {today + timedelta(days=ahead): keeping.daily_use_l
                                 for ahead in range(LOOK_AHEAD_DAYS)}  # fmt: skip
    now = replace(waterworks, keeping=keeping)
    outlook = store_outlook(now, solution, use, today)
    if outlook is None:
        return None
    levels = level_forecast(keeping.store, use, {}, today, LOOK_AHEAD_DAYS)
    short = next((each.day for each in levels if each.middle_l < keeping.reserve_l), None)
    left = (short - today).days if short is not None else None
    at_reserve = keeping.store.level_l <= keeping.reserve_l
    return StoreNow(keeping, read, moved, outlook, 0 if at_reserve else left, at_reserve,
                    bool(use_l_by_day))  # fmt: skip
