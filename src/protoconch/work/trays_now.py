"""Post-larvae as they are: what the trays in use need today."""

from collections.abc import Iterator
from datetime import date, timedelta

from protoconch.work.expected import ExpectedBatch
from protoconch.work.juveniles import move
from protoconch.work.overdue import overdue
from protoconch.work.sampling import measuring, tray_sample
from protoconch.work.settling import TRAYS, doses, induce, split, tray_care, trays_short
from protoconch.work.task import Task

DAY = timedelta(days=1)


def trays_now(batch: ExpectedBatch, day: date, free_trays: int) -> Iterator[Task]:
    """All work on the trays that hold a batch today. free_trays: empty ones."""
    dates = batch.batch.dates
    if day == dates.induce:
        if doses(batch):
            yield induce(batch, day)
        return
    yield tray_care(batch, day)
    due = _move_due(batch, day)
    if due is not None:
        yield overdue(move(batch, day), due)
        return
    short = trays_short(batch, day)
    if short.result > 0 and free_trays > 0:
        yield split(batch, day, short)
    if size := tray_sample(batch, day):
        yield measuring(batch, day, TRAYS, size)


def _move_due(batch: ExpectedBatch, day: date) -> date | None:
    """Since when its animals are due in the nursery, None while they are not.

    By the length of the middle animal where they were measured on the trays, as the stage model
    has it, but no later than the plan keeps their trays; else by the plan's date.
    """
    dates = batch.batch.dates
    if not batch.measured:
        return dates.to_nursery if day >= dates.to_nursery else None
    last = max(of.on for of in batch.measured)
    size = batch.value("post_larva.until_mm").number
    since = day
    while since > last and batch.length_mm(since - DAY) >= size:
        since -= DAY
    long_enough = since if batch.length_mm(day) >= size else date.max
    due = min(long_enough, dates.tray_until)
    return due if day >= due else None
