"""The work of a batch from collecting to the day of the inducer."""

from collections.abc import Iterator
from datetime import date, timedelta
from math import ceil

from protoconch.season.answer import TankUse
from protoconch.units import text
from protoconch.words import counted, phrase, say
from protoconch.work.expected import ExpectedBatch
from protoconch.work.feeding import feed_amount
from protoconch.work.hours import SAMPLE
from protoconch.work.how_to import task_of
from protoconch.work.names import name_of
from protoconch.work.parameters import table_values
from protoconch.work.task import Given, Task, Working, about, given, planned, worked
from protoconch.work.turns import Turns, change_every_days, turn_key

__all__ = ["change_water", "changes_water", "count", "egg_tasks", "feed", "name_of", "sample",
           "sample_on", "sieve", "stock", "tank_tasks", "thin"]  # fmt: skip

EGG_UNITS = {
    "egg mass": (phrase("egg mass"), phrase("egg masses")),
    "spawning female": (phrase("spawning female"), phrase("spawning females")),
}
"""What eggs come from: one, and several."""

MEASURE_AGES = (3, 6)
"""Days of each week of age on which larvae are measured, so twice a week."""

ALIQUOTS = Given("aliquots", 5, "1", "practice")
COUNTED = Given("animals_counted", 100, "1", "practice")
"""A hundred animals counted know the number to one part in ten (Poisson)."""


def egg_tasks(batch: ExpectedBatch, day: date) -> Iterator[Task]:
    """Collecting, and the care for the eggs until the day before they hatch."""
    plan, dates = batch.batch, batch.batch.dates
    minutes = table_values("work")
    if day == dates.collect:
        one, many = EGG_UNITS.get(batch.species.egg_unit, (batch.species.egg_unit,) * 2)
        pieces = counted(
            plan.egg_masses,
            "{count} {unit}",
            "{count} {units}",
            count=text(plan.egg_masses),
            unit=say(one),
            units=say(many),
        )
        inputs = (planned("eggs", plan.eggs, "1"), planned("masses", plan.egg_masses, "1"))
        of_each = worked("eggs / masses", inputs, "1")
        amount = say(
            "{pieces}, about {eggs} eggs from each", pieces=pieces, eggs=about(of_each.result)
        )
        workings = [of_each]
        per_mm = batch.known("eggs.per_mm_strand")
        if per_mm:
            strand = (*inputs, given("eggs_per_mm", per_mm))
            workings.append(worked("eggs / masses / eggs_per_mm / 1000", strand, "m"))
            amount = say(
                "{pieces}, about {eggs} eggs from each ({length} of strand)",
                pieces=pieces,
                eggs=about(of_each.result),
                length=text(workings[-1].result, "m", 2),
            )
        where = batch.plan.hatchery.permit.area or say("at sea")
        trip = minutes["collect.trip"].number
        yield task_of("collect", day, plan.code, where, amount, trip, *workings)
    if dates.collect <= day < dates.hatch:
        number = planned("pieces", plan.egg_masses, "1")
        workings = [worked("pieces", (number,), "1")]
        amount = counted(plan.egg_masses, "1 piece", "{count} pieces", count=text(plan.egg_masses))
        flow = batch.known("incubation.flow_l_min")
        if flow:
            each = given("flow_of_each", flow)
            workings.append(worked("pieces * flow_of_each", (number, each), "L/min"))
            amount = say(
                "{pieces}, {flow} of filtered water for all",
                pieces=amount,
                flow=text(workings[1].result, "L/min", 3),
            )
        time = minutes["incubator.mass"].number * plan.egg_masses
        yield task_of("incubate", day, plan.code, say("incubator"), amount, time, *workings)


def tank_tasks(batch: ExpectedBatch, day: date, turns: Turns) -> Iterator[Task]:
    """All work in the larval tanks of a batch, from hatch to the day before the inducer.

    turns: of changing water, from `turns.change_turns`.
    """
    dates = batch.batch.dates
    if not dates.hatch <= day < dates.induce:
        return
    for tank in batch.batch.tanks:
        if day == dates.hatch:
            yield stock(batch, tank, day)
        else:
            yield from _kept(batch, tank, day, turns)
        if batch.species.larvae_feed:
            yield feed(batch, tank, day)


def _kept(batch: ExpectedBatch, tank: TankUse, day: date, turns: Turns) -> Iterator[Task]:
    """What one tank needs on a day after hatch, food apart."""
    thinned = day in batch.batch.dates.thin
    if thinned:
        yield thin(batch, tank, day, batch.batch.dates.thin.index(day) + 1)
    sampled = sample_on(batch, day, turns)
    if changes_water(batch, tank, day, turns):
        yield change_water(batch, tank, day)
    elif sampled and tank == sampled[1]:
        yield sample(batch, tank, day, sampled[0])
    elif not thinned:
        yield count(batch, tank, day)


def changes_water(batch: ExpectedBatch, tank: TankUse, day: date, turns: Turns) -> bool:
    """Whether that tank's water is changed on that day.

    Where it is changed daily, the days of measuring are left out, so that there is time for them.
    """
    every = change_every_days(batch)
    if every == 1:
        eve = batch.batch.dates.induce - timedelta(days=1)
        return batch.age(day) % 7 not in MEASURE_AGES and day != eve
    return day.toordinal() % every == turns[turn_key(batch, tank)]


def sample_on(batch: ExpectedBatch, day: date, turns: Turns) -> tuple[str, TankUse] | None:
    """What is sampled on that day, "measure" or "test competence", and from which tank.

    Only a tank whose water is not changed that day is sampled; where there is none, the day after.
    The test comes on the last such day before the inducer, and takes the place of measuring.
    """
    one = timedelta(days=1)
    idle = _idle(batch, day, turns)
    if idle is None or not batch.batch.dates.hatch < day < batch.batch.dates.induce:
        return None
    eve = batch.batch.dates.induce - one
    last = day == eve or (day == eve - one and _idle(batch, eve, turns) is None)
    if last and batch.induced:
        return "test competence", idle
    age = batch.age(day)
    late = (age - 1) % 7 in MEASURE_AGES and _idle(batch, day - one, turns) is None
    return ("measure", idle) if age % 7 in MEASURE_AGES or late else None


def _idle(batch: ExpectedBatch, day: date, turns: Turns) -> TankUse | None:
    """The first tank of the batch whose water is not changed on that day."""
    tanks = batch.batch.tanks
    return next((t for t in tanks if not changes_water(batch, t, day, turns)), None)


def feed(batch: ExpectedBatch, tank: TankUse, day: date) -> Task:
    """Food for one tank."""
    amount, workings = feed_amount(batch, tank, day)
    time = table_values("work")["feed.tank"].number
    return task_of("feed", day, batch.batch.code, name_of(tank), amount, time, *workings)


def stock(batch: ExpectedBatch, tank: TankUse, day: date) -> Task:
    """Larvae for one tank: its share of what hatched or is expected, up to the density."""
    plan = batch.batch
    inputs = (
        planned("density", plan.density_per_l[0], "per L"),
        planned("tank_water", tank.litres, "L"),
        batch.larvae or planned("expected", plan.stocked.p50, "1"),
        planned("batch_water", plan.litres, "L"),
    )
    formula = f"min(density, {inputs[2].name} / batch_water) * tank_water"
    larvae = worked(formula, inputs, "1")
    per_l = text(larvae.result / tank.litres, "per L", 2)
    amount = say("{larvae} larvae ({per_l})", larvae=about(larvae.result), per_l=per_l)
    time = table_values("work")["stock.tank"].number
    return task_of("stock", day, plan.code, name_of(tank), amount, time, larvae)


def thin(batch: ExpectedBatch, tank: TankUse, day: date, step: int) -> Task:
    """Thinning of one tank to the density of a step."""
    plan = batch.batch
    inputs = (
        planned("density", plan.density_per_l[step], "per L"),
        planned("tank_water", tank.litres, "L"),
    )
    kept = worked("density * tank_water", inputs, "1")
    coarse = sieve(batch, day, "fast_factor")
    amount = say(
        "keep at most {larvae} ({density}); upper sieve {mesh}",
        larvae=about(kept.result),
        density=text(plan.density_per_l[step], "per L"),
        mesh=text(coarse.result, "µm"),
    )
    time = table_values("work")["thin.tank"].number
    return task_of("thin", day, plan.code, name_of(tank), amount, time, kept, coarse)


def sieve(batch: ExpectedBatch, day: date, factor: str) -> Working:
    """Widest mesh for the larvae of that day, in whole tens [um]."""
    length, inputs = batch.larval_length(day)
    inputs = (given(factor, batch.value(f"sieve.{factor}")), *inputs)
    return worked(f"floor({factor} * {length} / 10) * 10", inputs, "um")


def change_water(batch: ExpectedBatch, tank: TankUse, day: date) -> Task:
    """A change of one tank's water."""
    mesh = sieve(batch, day, "hold_factor")
    amount = say(
        "{litres}; sieve {mesh} or finer",
        litres=text(tank.litres, "L"),
        mesh=text(mesh.result, "µm"),
    )
    time = table_values("work")["water_change.tank"].number
    return task_of("change water", day, batch.batch.code, name_of(tank), amount, time, mesh)


def count(batch: ExpectedBatch, tank: TankUse, day: date) -> Task:
    """A count of one tank by aliquots."""
    alive, inputs = batch.numbers_in(tank, day)
    expected = worked(alive, inputs, "1")
    water = () if "tank_water" in alive else (planned("tank_water", tank.litres, "L"),)
    aliquot = worked(
        f"(floor(animals_counted / aliquots * tank_water * 1000 / 50 / max(1, {alive})) + 1) * 50",
        (COUNTED, ALIQUOTS, *water, *inputs),
        "mL",
    )
    per_l = text(expected.result / tank.litres, "per L", 2)
    amount = say(
        "{aliquots} aliquots of {volume}; about {animals} expected ({per_l})",
        aliquots=text(ALIQUOTS.value),
        volume=text(aliquot.result, "mL"),
        animals=about(expected.result),
        per_l=per_l,
    )
    time = table_values("work")["count.tank"].number
    code = batch.batch.code
    return task_of("count", day, code, name_of(tank), amount, time, aliquot, expected)


def sample(batch: ExpectedBatch, tank: TankUse, day: date, kind: str) -> Task:
    """Measuring, or the test whether larvae are ready; kind: of the task."""
    minutes = table_values("work")
    code, where = batch.batch.code, name_of(tank)
    if kind == "test competence":
        tested = batch.value("settlement.test_larvae")
        inputs = (given("larvae", tested), given("go_share", batch.value("settlement.go_share")))
        settled = worked("larvae / 2 * go_share", inputs, "1")
        amount = say(
            "{larvae} larvae, half of them in the inducer; go on if {settled} of that half settle",
            larvae=text(tested.number),
            settled=text(ceil(settled.result)),
        )
        return task_of(kind, day, code, where, amount, minutes["induce.test"].number, settled)
    length = worked(*batch.larval_length(day), "um")
    amount = say(
        "{number} larvae; about {length} expected",
        number=SAMPLE,
        length=text(length.result, "µm", 3),
    )
    return task_of(kind, day, code, where, amount, minutes["measure.sample"].number, length)
