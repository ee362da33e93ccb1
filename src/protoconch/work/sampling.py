"""Which animals are measured on which day after settlement."""

from collections.abc import Iterator
from datetime import date

from protoconch.units import text
from protoconch.work.expected import ExpectedBatch
from protoconch.work.hours import SAMPLE, SAMPLE_OF_LOT
from protoconch.work.how_to import task_of
from protoconch.work.parameters import table_values
from protoconch.work.task import Given, Task, about, planned, worked

EVERY_DAYS = 14
"""Days from one sample of a batch to the next, after settlement."""


def lots_of(batch: ExpectedBatch) -> int:
    """Larval tanks that the batch came from."""
    return max(len(batch.batch.tanks), 1)


def sample_size(batch: ExpectedBatch, day: date) -> int:
    """Animals to measure on that day; 0 on most.

    A sample is spread over as many days running as its lots need at SAMPLE_OF_LOT each.
    """
    since = (day - batch.batch.dates.induce).days
    if since < EVERY_DAYS:
        return 0
    a_day = SAMPLE_OF_LOT * lots_of(batch)
    return max(min(a_day, SAMPLE - since % EVERY_DAYS * a_day), 0)


def length_sample(batch: ExpectedBatch, day: date, where: str) -> Iterator[Task]:
    """Measuring and weighing on that day, if it is one of its days."""
    size = sample_size(batch, day)
    if not size:
        return
    lots = lots_of(batch)
    inputs = (
        Given("sample", SAMPLE, "1", "practice"),
        planned("lots", lots, "1"),
        Given("of_each", SAMPLE_OF_LOT, "1", "practice"),
        planned("day", (day - batch.batch.dates.induce).days % EVERY_DAYS, "1"),
    )
    working = worked("min(of_each * lots, sample - day * of_each * lots)", inputs, "1")
    small, large = batch.range_mm(day)
    amount = (
        f"{size} animals; about {text(batch.length_mm(day), 'mm', 2)} expected "
        f"({about(small, 2)} to {about(large, 2)})"
    )
    time = table_values("work")["measure.sample"].number * size / SAMPLE
    yield task_of("weigh and measure", day, batch.batch.code, where, amount, time, working)
