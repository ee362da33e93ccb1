"""Post-larvae as they are: what the trays in use need today."""

from collections.abc import Iterator
from datetime import date

from protoconch.work.expected import ExpectedBatch
from protoconch.work.juveniles import move
from protoconch.work.overdue import overdue
from protoconch.work.sampling import measuring, tray_sample
from protoconch.work.settling import TRAYS, doses, induce, split, tray_care, trays_short
from protoconch.work.task import Task


def trays_now(batch: ExpectedBatch, day: date, free_trays: int) -> Iterator[Task]:
    """All work on the trays that hold a batch today. free_trays: empty ones."""
    dates = batch.batch.dates
    if day == dates.induce:
        if doses(batch):
            yield induce(batch, day)
        return
    yield tray_care(batch, day)
    if day >= dates.to_nursery:
        yield overdue(move(batch, day), dates.to_nursery)
        return
    short = trays_short(batch, day)
    if short.result > 0 and free_trays > 0:
        yield split(batch, day, short)
    if size := tray_sample(batch, day):
        yield measuring(batch, day, TRAYS, size)
