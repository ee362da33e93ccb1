"""The work of a batch in the nursery, and its release."""

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from protoconch.season.answer import SeasonPlan
from protoconch.units import text
from protoconch.words import say
from protoconch.work.expected import ExpectedBatch
from protoconch.work.hours import SAMPLE, event_hours
from protoconch.work.how_to import task_of
from protoconch.work.parameters import table_values
from protoconch.work.sampling import EVERY_DAYS, measuring
from protoconch.work.settling import tray_count
from protoconch.work.task import Task, Working, about, given, planned, worked

NURSERY = say("nursery")
NOTICE_DAYS = 14
"""Days before the release on which it is prepared, or as near to that as the calendar allows."""


@dataclass(frozen=True, slots=True)
class NurseryDay:
    """The nursery on a day: the floor of each batch [m²], and whose turn it is to be measured.

    floors: by code of the batch, for the batches that are there.
    preparing: codes of the batches whose release is prepared; nothing is measured then.
    measured: code of the one batch measured, "" on most days.
    """

    floors: Mapping[str, float]
    preparing: tuple[str, ...]
    measured: str


def nursery_tasks(batch: ExpectedBatch, day: date, nursery: NurseryDay | None) -> Iterator[Task]:
    """All work from the move to the nursery to the release."""
    dates, code = batch.batch.dates, batch.batch.code
    if day == dates.release:
        yield release(batch, day)
        return
    if nursery is None or code not in nursery.floors:
        return
    table, floor_m2 = table_values("work"), nursery.floors[code]
    if day == dates.to_nursery:
        yield move(batch, day)
    yield feed_pellets(batch, day, floor_m2)
    yield siphon(batch, day, floor_m2)
    if code in nursery.preparing:
        time = table["measure.sample"].number / len(nursery.preparing)
        yield prepare(batch, day, time)
    if code == nursery.measured:
        yield measuring(batch, day, NURSERY, SAMPLE)
    if day == batch.reached(batch.value("small_juvenile.until_mm").number):
        yield grade(batch, day)


def nursery_day(
    plan: SeasonPlan, batches: tuple[ExpectedBatch, ...], day: date
) -> NurseryDay | None:
    """The nursery of the plan on that day; None while it is empty."""
    there = [b for b in batches if b.batch.dates.to_nursery <= day < b.batch.dates.release]
    if not there:
        return None
    preparing = tuple(b.batch.code for b in there if day == prepare_day(b))
    turn = "" if preparing else nursery_turn(batches, day)
    measured = turn if turn in [b.batch.code for b in there] else ""
    return NurseryDay(_floors(plan, there, day), preparing, measured)


def prepare_day(batch: ExpectedBatch) -> date:
    """The day on which the release is prepared."""
    dates = batch.batch.dates
    return max(dates.to_nursery, dates.release - timedelta(days=NOTICE_DAYS))


def nursery_turn(batches: tuple[ExpectedBatch, ...], day: date) -> str:
    """Code of the batch whose turn it is to be measured in the nursery; "" on a day without turn.

    Every batch has its turn once in two weeks, or once in as many days as there are batches.
    """
    period = max(EVERY_DAYS, len(batches))
    today = day.toordinal() % period
    for place, batch in enumerate(batches):
        if place * period // len(batches) == today:
            return batch.batch.code
    return ""


def floor_needed_m2(batch: ExpectedBatch, day: date) -> Working:
    """Floor that its animals need by the length of the middle one [m2]."""
    alive, animals = batch.numbers("animals", day)
    length, lengths = batch.length("length", day)
    inputs = (
        *animals,
        given("footprint", batch.value("cover.factor")),
        *lengths,
        planned("covered", _covered(batch, batch.length_mm(day)), "1"),
    )
    return worked(f"{alive} * footprint * {length} ** 2 / covered / 1e6", inputs, "m2")


def _floors(plan: SeasonPlan, there: list[ExpectedBatch], day: date) -> dict[str, float]:
    """The planned floor, shared by the batches that are there as they need it [m²]."""
    needs = {batch.batch.code: floor_needed_m2(batch, day).result for batch in there}
    index = (day - plan.forecast.first_day).days
    planned_m2, total = float(plan.forecast.nursery_m2_p50[index]), sum(needs.values())
    share = planned_m2 / total if 0 < planned_m2 < total else 1.0
    return {code: need * share for code, need in needs.items()}


def pellets_g(batch: ExpectedBatch, day: date) -> Working:
    """Dry pellets for a day: a share of the live weight at the length of the middle animal [g]."""
    sizes = (20, 40, 80)
    until = next((size for size in sizes if batch.length_mm(day) <= size), sizes[-1])
    alive, animals = batch.numbers("animals", day)
    length, lengths = batch.length("length", day)
    inputs = (
        *animals,
        given("a", batch.value("weight.a")),
        *lengths,
        given("b", batch.value("weight.b")),
        given("percent", batch.value(f"feed.to_{until}_mm")),
    )
    return worked(f"{alive} * a * {length} ** b * percent / 100", inputs, "g")


def _covered(batch: ExpectedBatch, length_mm: float) -> float:
    """Share of the floor that animals of that length may cover, between the profile's points."""
    corners = [(mm, batch.value(f"cover.share_{mm}_mm").number) for mm in (5, 20, 75)]
    for (low, at_low), (high, at_high) in itertools.pairwise(corners):
        if length_mm <= high:
            part = max(length_mm - low, 0.0) / (high - low)
            return at_low + part * (at_high - at_low)
    return corners[-1][1]


def move(batch: ExpectedBatch, day: date) -> Task:
    """The move from the trays."""
    floor = floor_needed_m2(batch, day)
    amount = say(
        "about {animals} animals onto at least {area} of floor",
        animals=about(batch.alive(day)),
        area=text(floor.result, "m²", 2),
    )
    hours = event_hours("move", batch.batch.litres, tray_count(batch), 0)
    return task_of("move to nursery", day, batch.batch.code, NURSERY, amount, 60 * hours, floor)


def feed_pellets(batch: ExpectedBatch, day: date, floor_m2: float) -> Task:
    """Pellets for a batch on so much floor."""
    pellets = pellets_g(batch, day)
    amount = say(
        "{grams} of pellets for about {animals} animals of {length}",
        grams=text(pellets.result, "g", 2),
        animals=about(batch.alive(day)),
        length=text(batch.length_mm(day), "mm", 2),
    )
    time = table_values("work")["pellets.m2"].number * floor_m2
    return task_of("feed pellets", day, batch.batch.code, NURSERY, amount, time, pellets)


def siphon(batch: ExpectedBatch, day: date, floor_m2: float) -> Task:
    """The daily cleaning of the floor."""
    need = floor_needed_m2(batch, day)
    time = table_values("work")["siphon.m2"].number * floor_m2
    amount = say("{area} of floor", area=text(need.result, "m²", 2))
    return task_of("siphon", day, batch.batch.code, NURSERY, amount, time, need)


def grade(batch: ExpectedBatch, day: date) -> Task:
    """The sorting by size."""
    size = batch.value("small_juvenile.until_mm")
    alive, inputs = batch.numbers("alive", day)
    large = worked(f"{alive} / 2", inputs, "1")
    amount = say(
        "about {animals} animals, split at {size}: about {half} on each side",
        animals=about(batch.alive(day)),
        size=text(size.number, "mm"),
        half=about(large.result),
    )
    hours = event_hours("grade", batch.batch.litres, 0, batch.alive(day))
    return task_of("grade", day, batch.batch.code, NURSERY, amount, 60 * hours, large)


def prepare(batch: ExpectedBatch, day: date, time: float) -> Task:
    """What comes before a release; time: in minutes."""
    release = batch.batch.dates.release
    ready = _of_the_size(batch, day)
    amount = say(
        "about {animals} animals on {release:%-d %B %Y}; sample for the health check",
        animals=about(ready.result),
        release=release,
    )
    return task_of("prepare release", day, batch.batch.code, NURSERY, amount, time, ready)


def release(batch: ExpectedBatch, day: date) -> Task:
    """The release of a batch."""
    size = batch.plan.target.size_mm
    working = _of_the_size(batch, day)
    number = working.result
    amount = say(
        "about {animals} animals of {size} or more; smaller ones only as the permit says",
        animals=about(number),
        size=text(size, "mm"),
    )
    hours = event_hours("release", batch.batch.litres, 0, number)
    return task_of("release", day, batch.batch.code, NURSERY, amount, 60 * hours, working)


def _of_the_size(batch: ExpectedBatch, day: date) -> Working:
    """Animals of the size asked on the day of the release.

    By the log: those alive now, times the share of them that the plan expects to get there.
    """
    if not batch.vessels:
        number = planned("of_the_size", batch.batch.released.p50, "1")
        return worked("of_the_size", (number,), "1")
    alive, inputs = batch.numbers("alive", day)
    share = min(1.0, batch.batch.released.p50 / max(batch.planned_alive(day), 1.0))
    return worked(f"{alive} * share", (*inputs, planned("share", share, "1")), "1")
