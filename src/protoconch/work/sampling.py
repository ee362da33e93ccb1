"""Which animals are measured on which day after settlement."""

from datetime import date

from protoconch.words import say
from protoconch.work.expected import ExpectedBatch
from protoconch.work.hours import SAMPLE, SAMPLE_OF_LOT
from protoconch.work.how_to import task_of
from protoconch.work.parameters import table_values
from protoconch.work.task import Given, Task, about, given, worked

EVERY_DAYS = 14
"""Days from one sample of a batch to the next, after settlement."""


def tray_sample(batch: ExpectedBatch, day: date) -> int:
    """Animals to measure from the trays on that day; 0 on most.

    Every two weeks after settling, on as many days running as the lots need at SAMPLE_OF_LOT each.
    """
    since = (day - batch.batch.dates.induce).days
    if since < EVERY_DAYS:
        return 0
    a_day = SAMPLE_OF_LOT * max(len(batch.batch.tanks), 1)
    return max(min(a_day, SAMPLE - since % EVERY_DAYS * a_day), 0)


def measuring(batch: ExpectedBatch, day: date, where: str, size: int) -> Task:
    """Measuring and weighing of so many animals."""
    length = batch.length_mm(day)
    small, large = batch.range_mm(day)
    expression, lengths = batch.length("length", day)
    inputs = (
        Given("animals", size, "1", "practice"),
        given("a", batch.value("weight.a")),
        *lengths,
        given("b", batch.value("weight.b")),
    )
    grams = worked(f"animals * a * {expression} ** b", inputs, "g")
    amount = say(
        "{size} animals; about {length} mm expected ({small} to {large}), together {grams}",
        size=size,
        length=about(length, 2),
        small=about(small, 2),
        large=about(large, 2),
        grams=about(grams.result, 2, "g"),
    )
    time = table_values("work")["measure.sample"].number * size / SAMPLE
    return task_of("weigh and measure", day, batch.batch.code, where, amount, time, grams)
