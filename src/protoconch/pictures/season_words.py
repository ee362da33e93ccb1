"""What the season's picture says, in sentences worked out from the plan."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from protoconch.hatchery.description import Target
from protoconch.pictures.words import about, day_short, one_in
from protoconch.season.answer import Batch, SeasonPlan
from protoconch.words import counted, listed, say
from protoconch.work.names import code_in_log


def target_written(target: Target) -> str:
    """1,200 of 80 mm by 31 Oct 2028."""
    return say(
        "{animals:,.0f} of {size:g} mm by {day}",
        animals=target.animals,
        size=target.size_mm,
        day=day_short(target.by),
    )


def as_in_log(plan: SeasonPlan) -> SeasonPlan:
    """The same plan with its batches called as the log and the labels call them: 27A for A."""
    forecast = replace(
        plan.forecast,
        batches=tuple(
            replace(daily, code=code_in_log(plan, daily.code)) for daily in plan.forecast.batches
        ),
    )
    batches = tuple(replace(batch, code=code_in_log(plan, batch.code)) for batch in plan.batches)
    return replace(plan, batches=batches, forecast=forecast)


def axis_days(plan: SeasonPlan) -> tuple[date, date]:
    """First and last day that the season's pictures show."""
    forecast = plan.forecast
    active = np.zeros(forecast.work_h.size, dtype=bool)
    for batch in forecast.batches:
        active |= batch.stage >= 0
    days = np.flatnonzero(active)
    if not days.size:
        return plan.hatchery.first_day, max(plan.target.by, plan.hatchery.last_day)
    first = (forecast.first_day + timedelta(days=int(days[0]))).replace(day=1)
    last = forecast.first_day + timedelta(days=int(days[-1]))
    return first, max(last, plan.target.by)


def ribbons_meaning(plan: SeasonPlan) -> str:
    """How many are stocked, settle and are ready, and where most are lost."""
    if not plan.batches:
        return say("No batch is planned, so nothing is stocked and nothing will be ready.")
    stocked = sum(batch.stocked.mean for batch in plan.batches)
    steps = (
        (say("stocking and settling"), sum(batch.settled.mean for batch in plan.batches)),
        (say("settling and the nursery"), sum(batch.to_nursery.mean for batch in plan.batches)),
        (say("the nursery and the date"), sum(batch.released.mean for batch in plan.batches)),
    )
    settled, ready = steps[0][1], steps[2][1]
    return counted(
        len(plan.batches),
        "Of {stocked} larvae stocked in {number} batch, on average {settled} settle ({share}) and "
        "{ready} are of the size asked at the date ({part}). The greatest loss lies between "
        "{steps}.",
        "Of {stocked} larvae stocked in {number} batches, on average {settled} settle ({share}) "
        "and {ready} are of the size asked at the date ({part}). The greatest loss lies between "
        "{steps}.",
        stocked=about(stocked),
        settled=about(settled),
        share=one_in(settled, stocked),
        ready=about(ready, 3),
        part=one_in(ready, stocked),
        steps=_greatest_loss(stocked, steps),
    )


def _greatest_loss(stocked: float, steps: tuple[tuple[str, float], ...]) -> str:
    before, worst, least_kept = stocked, steps[0][0], float("inf")
    for name, number in steps:
        kept = number / before if before > 0 else 1.0
        if kept < least_kept:
            worst, least_kept = name, kept
        before = number
    return worst


def batches_meaning(batches: Sequence[Batch]) -> str:
    """What each of some batches gives at the date, with its uncertainty."""
    told = [
        say(
            "batch {code} gives {middle} at the date ({low} to {high})",
            code=batch.code,
            middle=about(batch.released.p50, 3),
            low=about(batch.released.p10),
            high=about(batch.released.p90),
        )
        for batch in batches
    ]
    return say(
        "In the middle future {batches}; in brackets what eight futures in ten lie between.",
        batches=listed(told),
    )
