"""From a judged choice to what people read: batches with dates and tanks, and the days ahead."""

from dataclasses import dataclass

import numpy as np

from protoconch.season.answer import (
    Batch,
    BatchDates,
    DailyBatch,
    Forecast,
    Numbers,
    TankUse,
)
from protoconch.season.model.daily import Diary, run_daily
from protoconch.season.model.draws import Dice, median_site
from protoconch.season.model.layout import futures
from protoconch.season.plan.calendar import BatchCalendar
from protoconch.season.plan.judge import Judged, spread
from protoconch.season.plan.room import Choice
from protoconch.season.plan.study import Study

PICTURED = 400
"""Futures run day by day for the pictures."""
Z90 = 1.2815515655446004


def batches(study: Study, choice: Choice, judged: Judged) -> tuple[Batch, ...]:
    """The batches of a choice with their days, places and numbers."""
    room, setting = study.room, study.room.setting
    masses = dict(room.masses(choice).by_start)
    taken: dict[tuple[int, int], int] = {}
    told = []
    for b, start in enumerate(room.starts(choice)):
        own = [o for o in room.options if o.calendar.start == start and choice[o.index]]
        calendar = own[0].calendar
        tanks: list[TankUse] = []
        trays: dict[str, int] = {}
        for option in own:
            tank = setting.hatchery.larval_tanks[option.tank_kind]
            tray = setting.hatchery.trays[option.tray_kind]
            trays[tray.name] = trays.get(tray.name, 0) + option.trays * int(choice[option.index])
            for _ in range(int(choice[option.index])):
                number = _free_tank(taken, option.tank_kind, calendar)
                tanks.append(TankUse(tank.name, number, tank.litres))
        eggs = judged.layout.batches[b].eggs
        draws = judged.draws
        told.append(Batch(
            code=code(b), egg_masses=masses[start], eggs=eggs,
            share_of_mass=eggs / (masses[start] * setting.beliefs.eggs_per_mass),
            dates=_dates(study, calendar), tanks=tuple(tanks),
            density_per_l=tuple(per_l for _, per_l in setting.beliefs.density), trays=trays,
            stocked=spread(draws.stocked[b]), competent=spread(draws.competent[b]),
            settled=spread(draws.settled[b]), to_nursery=spread(draws.to_nursery[b]),
            released=spread(draws.ready[b]),
        ))  # fmt: skip
    return tuple(told)


def code(number: int) -> str:
    """Letter of a batch: A to Z, then AA, AB, ..."""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _free_tank(taken: dict[tuple[int, int], int], kind: int, calendar: BatchCalendar) -> int:
    """The lowest-numbered tank of the kind that is free then; it is taken until it is left."""
    number = 1
    while taken.get((kind, number), -1) >= calendar.tank_from:
        number += 1
    taken[kind, number] = calendar.tank_until
    return number


def _dates(study: Study, calendar: BatchCalendar) -> BatchDates:
    day = study.room.setting.day
    return BatchDates(
        collect=day(calendar.start), hatch=day(calendar.hatch),
        thin=tuple(day(d) for d in calendar.thin), induce=day(calendar.induce),
        tank_until=day(calendar.tank_until), to_nursery=day(calendar.nursery),
        tray_until=day(calendar.tray_until), ready=day(calendar.ready),
        release=study.target.by,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class DaysAhead:
    """A forecast and the peak of the nursery floor in it, median over futures [m²]."""

    forecast: Forecast
    nursery_m2: float


def days_ahead(study: Study, choice: Choice, judged: Judged) -> DaysAhead:
    """The season day by day, from a few hundred of the fresh futures."""
    setting, layout = study.room.setting, judged.layout
    alive, algae_g, floor = _diary(study, judged)
    own = {o.calendar.start: o.calendar for o in study.room.options}
    told = tuple(
        _daily_batch(study, own[batch.start], code(b), alive[:, b])
        for b, batch in enumerate(layout.batches)
    )
    day = np.arange(setting.days + 1)
    tanks, trays = np.zeros(day.size), np.zeros(day.size)
    for i in np.flatnonzero(choice):
        option, count = study.room.options[i], float(choice[i])
        c = option.calendar
        area = option.trays * setting.hatchery.trays[option.tray_kind].area_cm2
        tanks += np.where((day >= c.tank_from) & (day <= c.tank_until), count, 0.0)
        trays += np.where((day >= c.tray_from) & (day <= c.tray_until), count * area, 0.0)
    low, middle, high = np.quantile(floor, [0.1, 0.5, 0.9], axis=1)
    forecast = Forecast(
        first_day=setting.first_day, batches=told, tanks_used=tanks, trays_cm2=trays,
        nursery_m2_p10=low, nursery_m2_p50=middle, nursery_m2_p90=high,
        algae_g=np.median(algae_g, axis=1), work_h=study.room.hours(choice),
        ready=np.sort(judged.draws.total),
    )  # fmt: skip
    return DaysAhead(forecast, float(np.median(floor.max(axis=0))))


def _diary(study: Study, judged: Judged) -> tuple[Numbers, Numbers, Numbers]:
    """Numbers alive (days + 1, batches, n), dry algae asked for and nursery floor (days + 1, n)."""
    setting, layout = study.room.setting, judged.layout
    if not layout.lots:
        none = np.zeros((setting.days + 1, 1))
        return none[:, :0, None], none, none
    dice = Dice(
        setting.beliefs, study.inputs.fresh, 0, PICTURED, setting.days, setting.first_day_of_year
    )
    diary = Diary()
    run_daily(layout, futures(layout, dice), setting.beliefs, diary)
    return np.stack(diary.alive), np.stack(diary.algae_g), np.stack(diary.nursery_m2)


def _daily_batch(study: Study, calendar: BatchCalendar, name: str, alive: Numbers) -> DailyBatch:
    """A batch along time; alive: (days + 1, futures)."""
    setting = study.room.setting
    beliefs, day = setting.beliefs, np.arange(setting.days + 1)
    low, middle, high = np.quantile(alive, [0.1, 0.5, 0.9], axis=1)
    clock = median_site(beliefs, setting.days, setting.first_day_of_year).clock[:, 0]
    induce = min(calendar.induce, setting.days)
    grown = np.maximum(clock - clock[induce], 0.0)
    larval_share = np.clip((day - calendar.hatch) / max(calendar.induce - calendar.hatch, 1), 0, 1)
    hatch_mm, competent_mm = study.inputs.larval_lengths_mm
    larval = hatch_mm + (competent_mm - hatch_mm) * larval_share
    sd = float(np.sqrt(np.log1p(beliefs.uncertain["growth.size_cv"].number ** 2)))
    lengths = []
    for z in (-Z90, 0.0, Z90):
        settled = beliefs.path.length_mm(grown * np.exp(z * sd))
        young = larval * np.exp(z * beliefs.competence_spread * larval_share)
        length = np.where(day >= calendar.induce, np.maximum(settled, young), young)
        lengths.append(np.where(day >= calendar.hatch, length, 0.0))
    stage = np.full(day.size, -1, dtype=np.int8)
    for number, begin in enumerate((calendar.start, calendar.hatch, calendar.induce,
                                    calendar.nursery)):  # fmt: skip
        stage[day >= begin] = number
    return DailyBatch(name, low, middle, high, lengths[0], lengths[1], lengths[2], stage)
