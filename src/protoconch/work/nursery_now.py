"""Juveniles as they are: what the nursery needs today."""

from collections.abc import Iterator
from datetime import date, timedelta

from protoconch.season.answer import SeasonPlan
from protoconch.work.expected import ExpectedBatch
from protoconch.work.hours import SAMPLE
from protoconch.work.juveniles import (
    NURSERY,
    feed_pellets,
    floor_needed_m2,
    grade,
    nursery_turn,
    prepare,
    prepare_day,
    release,
    siphon,
)  # fmt: skip
from protoconch.work.lots import Lots
from protoconch.work.overdue import overdue
from protoconch.work.parameters import table_values
from protoconch.work.sampling import measuring
from protoconch.work.task import Task

GRADED_WITHIN = timedelta(days=14)
"""For so long after it reached the size a batch is asked to be graded; assumption."""


def nursery_now(there: Lots, plan: SeasonPlan, day: date) -> Iterator[Task]:
    """All work in the nursery today."""
    if not there.nursery:
        return
    codes = {batch.batch.code: batch for batch in (*there.planned, *there.nursery)}
    turn = nursery_turn(tuple(codes[code] for code in sorted(codes)), day)
    preparing = [b.batch.code for b in there.nursery if day == prepare_day(b)]
    needs = {batch.batch.code: floor_needed_m2(batch, day).result for batch in there.nursery}
    share = min(1.0, plan.hatchery.nursery_area_m2 / max(sum(needs.values()), 1e-9))
    for batch in there.nursery:
        code = batch.batch.code
        if day >= batch.batch.dates.release:
            yield overdue(release(batch, day), batch.batch.dates.release)
            if day == batch.batch.dates.release:
                continue
        yield feed_pellets(batch, day, needs[code] * share)
        yield siphon(batch, day, needs[code] * share)
        if code in preparing:
            time = table_values("work")["measure.sample"].number / len(preparing)
            yield prepare(batch, day, time)
        elif code == turn and not preparing:
            yield measuring(batch, day, NURSERY, SAMPLE)
        if _to_be_graded(batch, day):
            yield grade(batch, day)


def _to_be_graded(batch: ExpectedBatch, day: date) -> bool:
    size = batch.value("small_juvenile.until_mm").number
    before = day - GRADED_WITHIN
    return batch.length_mm(day) >= size > batch.length_mm(before)
