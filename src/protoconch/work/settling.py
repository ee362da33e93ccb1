"""The work of a batch from the inducer to the nursery: on its trays."""

from collections.abc import Iterator
from datetime import date, timedelta
from math import ceil

from protoconch.animals.settlement import PEROXIDE_G_MOL
from protoconch.season.answer import TankUse
from protoconch.units import text
from protoconch.words import say
from protoconch.work.expected import ExpectedBatch, Term
from protoconch.work.hours import event_hours
from protoconch.work.how_to import task_of
from protoconch.work.larvae import sieve
from protoconch.work.names import name_of
from protoconch.work.parameters import table_values
from protoconch.work.sampling import measuring, tray_sample
from protoconch.work.task import Given, Task, Working, about, given, planned, worked

TRAYS = say("trays")
PORTION = Given("water", 100, "L", "practice")
STRENGTH = Given("strength", 3, "% w/v", "practice")
"""The doses are told for so much still water on the trays, and for peroxide of that strength."""


def tray_tasks(batch: ExpectedBatch, day: date) -> Iterator[Task]:
    """All work from the day of the inducer to the day before the move to the nursery."""
    dates = batch.batch.dates
    if day == dates.induce:
        yield from _to_the_trays(batch, day)
    elif dates.induce < day < min(dates.to_nursery, dates.release):
        yield tray_care(batch, day)
        more = trays_short(batch, day)
        before = day - timedelta(days=1)
        if more.result > 0 and (before == dates.induce or trays_short(batch, before).result <= 0):
            yield split(batch, day, more)
        if size := tray_sample(batch, day):
            yield measuring(batch, day, TRAYS, size)


def tray_care(batch: ExpectedBatch, day: date) -> Task:
    """The daily look after the trays of a batch."""
    count = tray_count(batch)
    alive, inputs = batch.numbers("alive", day)
    each = worked(f"{alive} / trays", (*inputs, planned("trays", count, "1")), "1")
    amount = say(
        "{trays} trays, about {animals} animals on each ({length})",
        trays=text(count),
        animals=about(each.result, 2),
        length=text(batch.length_mm(day), "mm", 2),
    )
    time = table_values("work")["tray.day"].number * count
    return task_of("tray care", day, batch.batch.code, TRAYS, amount, time, each)


def tray_count(batch: ExpectedBatch) -> int:
    """Trays that the plan gives the batch."""
    return sum(batch.batch.trays.values())


def tray_floor_cm2(batch: ExpectedBatch) -> float:
    """Floor of all its trays [cm²]."""
    areas = {tray.name: tray.area_cm2 for tray in batch.plan.hatchery.trays}
    return sum(count * areas.get(kind, 0.0) for kind, count in batch.batch.trays.items())


def trays_short(batch: ExpectedBatch, day: date) -> Working:
    """How many more trays its animals need on that day by the floor they cover [1]; 0 if none."""
    floor, count = tray_floor_cm2(batch), tray_count(batch)
    alive, animals = batch.numbers("alive", day)
    length, lengths = batch.length("length", day)
    inputs = (
        *animals,
        given("footprint", batch.value("cover.factor")),
        *lengths,
        given("covered", batch.value("cover.share_5_mm")),
        planned("floor", floor or 1.0, "cm2"),
        planned("trays", count, "1"),
    )
    needed = f"{alive} * footprint * {length} ** 2 / 100 / covered / floor"
    return worked(f"max(0, {needed} - 1) * trays", inputs, "1")


def split(batch: ExpectedBatch, day: date, short: Working) -> Task:
    """More trays for the animals of a batch; short: how many it lacks."""
    more = ceil(short.result)
    hours = event_hours("split", batch.batch.litres, more, 0)
    amount = say("onto {trays} more trays", trays=text(more))
    code = batch.batch.code
    return task_of("split trays", day, code, TRAYS, amount, 60 * hours, short)


def _to_the_trays(batch: ExpectedBatch, day: date) -> Iterator[Task]:
    for tank in batch.batch.tanks:
        yield settle(batch, tank, day)
    if doses(batch):
        yield induce(batch, day)


def _minutes_of_tank(batch: ExpectedBatch) -> float:
    """Of settling, and of inducing where both are done."""
    of_tank = 60 * event_hours("induce", batch.batch.litres, tray_count(batch), 0)
    return of_tank / 2 if doses(batch) else of_tank


def induce(batch: ExpectedBatch, day: date) -> Task:
    """The inducer on the trays of a batch."""
    inducing = doses(batch)
    amount, *others = (words for words, _ in inducing)
    for other in others:
        amount = say("{first} or {last}", first=amount, last=other)
    return task_of(
        "induce", day, batch.batch.code, TRAYS,
        say("for each {volume}: {amount}", volume=text(PORTION.value, 'L'), amount=amount),
        _minutes_of_tank(batch) * max(len(batch.batch.tanks), 1),
        *(working for _, working in inducing),
    )  # fmt: skip


def settle(batch: ExpectedBatch, tank: TankUse, day: date) -> Task:
    """The larvae of one tank that are ready, onto the trays."""
    plan = batch.batch
    larvae, of_batch = _ready(batch, tank, day)
    mesh = sieve(batch, day, "hold_factor")
    floor = planned("tray_floor", tray_floor_cm2(batch) or 1.0, "cm2")
    most = given("most_per_cm2", batch.value("settlement.larvae_per_cm2"))
    expression, inputs = of_batch
    density = worked(f"min({expression} / tray_floor, most_per_cm2)", (*inputs, floor, most),
                     "per cm2")  # fmt: skip
    amount = say(
        "about {larvae} held on {mesh}, {density} per cm² of the batch's {trays} trays",
        larvae=about(larvae.result),
        mesh=text(mesh.result, "µm"),
        density=about(density.result, 2),
        trays=text(tray_count(batch)),
    )
    time = _minutes_of_tank(batch)
    return task_of("settle", day, plan.code, name_of(tank), amount, time, larvae, mesh, density)


def _ready(batch: ExpectedBatch, tank: TankUse, day: date) -> tuple[Working, Term]:
    """Larvae of a tank that are ready, and those of the whole batch.

    By the log: those alive, times the share of them that the plan expects to be ready.
    """
    plan = batch.batch
    if name_of(tank) not in batch.vessels:
        inputs = (
            planned("competent", plan.competent.p50, "1"),
            planned("tank_water", tank.litres, "L"),
            planned("batch_water", plan.litres, "L"),
        )
        larvae = worked("competent * tank_water / batch_water", inputs, "1")
        return larvae, ("competent", inputs[:1])
    eve = plan.dates.induce - timedelta(days=1)
    share = min(1.0, plan.competent.p50 / max(batch.planned_alive(eve), 1.0))
    ready = planned("ready", share, "1")
    alive, inputs_now = batch.numbers_in(tank, day)
    of_all, inputs_all = batch.numbers("alive", day)
    larvae = worked(f"{alive} * ready", (*inputs_now, ready), "1")
    return larvae, (f"{of_all} * ready", (*inputs_all, ready))


def doses(batch: ExpectedBatch) -> list[tuple[str, Working]]:
    """Inducers that the profile knows a dose for, each for the same portion of water."""
    found: list[tuple[str, Working]] = []
    extract, strength = (
        batch.known("settlement.extract_ml_l"),
        batch.known("settlement.extract_g_l"),
    )
    if extract and strength:
        working = worked("water * dose", (PORTION, given("dose", extract)), "mL")
        words = say(
            "{volume} extract of {strength}",
            volume=text(working.result, "mL", 3),
            strength=text(strength.number, "g/L"),
        )
        found.append((words, working))
    peroxide = batch.known("settlement.peroxide_um")
    if peroxide:
        molar = Given("molar_mass", PEROXIDE_G_MOL, "g/mol", "iupac-masses")
        inputs = (PORTION, given("dose", peroxide), molar, STRENGTH)
        formula = "water * dose / 1e6 * molar_mass / (strength * 10) * 1000"
        working = worked(formula, inputs, "mL")
        words = say(
            "{volume} peroxide of {strength} %",
            volume=text(working.result, "mL", 2),
            strength=text(STRENGTH.value),
        )
        found.append((words, working))
    return found
