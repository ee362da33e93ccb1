"""The season as the log's outlook has it, for the pictures and sentences that show a plan."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from protoconch.pictures.lettering import Label, Lettering
from protoconch.season.answer import Batch, BatchDates, DailyBatch, SeasonPlan, Spread
from protoconch.season.outlook.outlook import BatchOutlook, Outlook
from protoconch.words import say
from protoconch.work.names import code_in_log

BY_LOG, AHEAD = say("by the log"), say("expected")


def as_looked_ahead(plan: SeasonPlan, outlook: Outlook) -> SeasonPlan:
    """The plan with the odds, the numbers and the days of its batches that the outlook gives.

    Batches that are given up are left out; those of the log that the plan does not have come last.
    What is used in the room stays the plan's.
    """
    year = code_in_log(plan, "")
    told = {one.code: one for one in outlook.batches}
    own = {code_in_log(plan, batch.code): batch for batch in plan.batches}
    days, first = plan.forecast.work_h.size, outlook.first_day
    batches, lines = [], []
    for code in (*own, *(code for code in told if code not in own and code.startswith(year))):
        if code not in told:
            continue
        line = _of_length(told[code].line, days)
        if (line.stage < 0).all():
            continue
        letter = code.removeprefix(year)
        batches.append(_batch(own.get(code), letter, told[code], line, first))
        lines.append(replace(line, code=letter))
    forecast = replace(plan.forecast, batches=tuple(lines), ready=outlook.ready)
    return replace(
        plan, odds=outlook.odds, expected=outlook.expected, p10=outlook.p10, p90=outlook.p90,
        feasible=outlook.odds.value >= plan.target.confidence, batches=tuple(batches),
        forecast=forecast,
    )  # fmt: skip


def as_of_log(daily: DailyBatch | None, code: str, outlook: Outlook | None) -> DailyBatch | None:
    """A batch's line by the outlook, and what the plan has where the outlook has none."""
    if outlook is None:
        return daily
    return next((one.line for one in outlook.batches if one.code == code), daily)


def sides_of_today(letters: Lettering, x: float, y: float) -> None:
    """Words left and right of the line at today: what is by the log, and what is expected."""
    letters.fit([Label(BY_LOG, x - 5, y, "small", "end")])
    letters.fit([Label(AHEAD, x + 5, y, "small")])


def above_and_below_today(letters: Lettering, y: float) -> None:
    """The same, in words that a narrow margin holds, where time runs down."""
    letters.fit([Label(say("log"), 0, y - up, "small") for up in (18, 4, 32, 46)])
    letters.fit([Label(say("ahead"), 0, y + down, "small") for down in (14, 28, 42)])


def _of_length(line: DailyBatch, days: int) -> DailyBatch:
    """The line cut, or filled up with nothing, to so many days."""

    def fitted(values: NDArray[Any], empty: float) -> NDArray[Any]:
        missing = max(0, days - values.size)
        return np.concatenate([values[:days], np.full(missing, empty, dtype=values.dtype)])

    curves: dict[str, Any] = {
        name: fitted(getattr(line, name), 0.0)
        for kind in ("alive", "length") for name in (f"{kind}_p10", f"{kind}_p50", f"{kind}_p90")
    }  # fmt: skip
    return replace(line, **curves, stage=fitted(line.stage, -1))


def _batch(
    planned: Batch | None, letter: str, told: BatchOutlook, line: DailyBatch, first: date
) -> Batch:  # fmt: skip
    """A batch with the days and the numbers of its line."""
    begins = [int(np.argmax(line.stage >= stage)) if (line.stage >= stage).any()
              else line.stage.size - 1 for stage in range(4)]  # fmt: skip
    collect, hatch, induce, nursery = (first + timedelta(days=day) for day in begins)
    if planned is None:
        end = first + timedelta(days=int(line.stage.size - 1))
        dates = BatchDates(collect, hatch, (), induce, induce, nursery, nursery, end, end)
        none = Spread(0.0, 0.0, 0.0, 0.0)
        planned = Batch(letter, 0, 0.0, 0.0, dates, (), (), {}, none, none, none, none, none)
    later = induce - planned.dates.induce
    dates = replace(
        planned.dates, collect=collect, hatch=hatch, induce=induce, to_nursery=nursery,
        tank_until=max(induce, planned.dates.tank_until + later),
        tray_until=max(nursery, planned.dates.tray_until + later),
    )  # fmt: skip
    return replace(
        planned, dates=dates, stocked=_spread(line, _most(line, 1)),
        settled=_spread(line, (dates.tank_until - first).days),
        to_nursery=_spread(line, begins[3]), released=told.ready,
    )  # fmt: skip


def _most(line: DailyBatch, stage: int) -> int:
    """The day of a stage on which most are alive."""
    return int(np.argmax(np.where(line.stage == stage, line.alive_p50, -1.0)))


def _spread(line: DailyBatch, day: int) -> Spread:
    """Numbers alive on a day; their mean by the rule 0.3, 0.4, 0.3 of 10, 50 and 90 %.

    Source: Swanson's rule, Hurst, Brown & Swanson 2000, AAPG Bulletin 84, from memory.
    """
    at = min(day, line.stage.size - 1)
    low, middle, high = (float(c[at]) for c in (line.alive_p10, line.alive_p50, line.alive_p90))
    return Spread(low, middle, high, 0.3 * low + 0.4 * middle + 0.3 * high)
