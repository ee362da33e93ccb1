"""Food of the larvae: grams of dry algae, and what that is in cells and litres of culture."""

from datetime import date

from protoconch.algae.species import alga
from protoconch.season.answer import TankUse
from protoconch.sources.values import SourcedValue
from protoconch.units import text
from protoconch.words import joined, phrase, say
from protoconch.work.expected import ExpectedBatch, Term
from protoconch.work.names import name_of
from protoconch.work.parameters import table_values
from protoconch.work.task import Given, Working, about, given, planned, worked

SORTS = (phrase("flagellate"), phrase("diatom"))
"""What algae are called in a ration."""
FLAGELLATE, DIATOM = "flagellate.isochrysis", "diatom.chaetoceros_gracilis"
"""The two algae in which a ration is told; any other of the same dry mass does."""

GRAMS = "tank_water * ration / 1000"


def feed_amount(batch: ExpectedBatch, tank: TankUse, day: date) -> tuple[str, list[Working]]:
    """What one larval tank gets on that day, in words and with its workings.

    The first working is the dry mass [g]; then the diatom's share where there is one, and for each
    alga the cells and the litres at its usual harvest density.
    """
    grams, inputs = _grams(batch, tank, day)
    workings = [worked(grams, inputs, "g")]
    share = diatom_share(batch, batch.age(day))
    parts = []
    for sort, formula in ((FLAGELLATE, "(1 - diatom_share)"), (DIATOM, "diatom_share")):
        if share is None and sort == DIATOM:
            continue
        if share is not None:
            inputs_now = (*inputs, planned("diatom_share", share.result, "1"))
            food = _in_cells(batch, sort, f"{grams} * {formula}", inputs_now)
        else:
            food = _in_cells(batch, sort, grams, inputs)
        workings += food
        parts.append(_told(batch, sort, *food))
    if share is not None:
        workings.insert(1, share)
    foods = joined(parts, " + ")
    return say(
        "{grams} dry = {foods}", grams=about(workings[0].result, 3, "g"), foods=foods
    ), workings


def _grams(batch: ExpectedBatch, tank: TankUse, day: date) -> Term:
    """Dry mass for a tank [g]: the ration of all its water, in proportion to the larvae in it.

    By the log, larvae get what the plan would give as many: half as many, half the food. Never
    more than the larvae that the density of their age allows in the tank.
    """
    inputs = (
        planned("tank_water", tank.litres, "L"),
        given("ration", ration_on(batch, batch.age(day))),
    )
    vessel = name_of(tank)
    if vessel not in batch.vessels:
        return GRAMS, inputs
    alive, counted = batch.numbers_in(tank, day)
    dates, plan = batch.batch.dates, batch.batch
    most = plan.density_per_l[sum(thin <= day for thin in dates.thin)]
    here = batch.planned_alive(day) * tank.litres / (batch.water_l or plan.litres)
    here = min(here, most * tank.litres)
    more = (*counted, planned("density", most, "per L"), planned("expected", max(here, 1.0), "1"))
    return f"{GRAMS} * min({alive}, density * tank_water) / expected", (*inputs, *more)


def _told(batch: ExpectedBatch, key: str, cells: Working, litres: Working) -> str:
    """One food in words."""
    sort = key.split(".", maxsplit=1)[0]
    at_hand = batch.cultures.get(sort)
    name = (
        say("{alga} of {vessel}", alga=say(sort), vessel=at_hand.vessel) if at_hand else say(sort)
    )
    return say(
        "{litres} {alga} at {million} million/mL ({cells} billion cells)",
        litres=text(litres.result, "L", 2), alga=name,
        million=about(litres.inputs[-1].value / 1e6), cells=about(cells.result / 1e9),
    )  # fmt: skip


def ration_on(batch: ExpectedBatch, age: int) -> SourcedValue:
    """Dry algae per litre of tank at that age: the regime's own, else the profile's step [mg/L/d].

    Raises: UnknownName, where the profile has no ration.
    """
    own = batch.known(f"regime.{batch.plan.hatchery.regime}.ration")
    if own:
        return own
    days = [day for day, _ in batch.species.steps("veliger.ration") if day <= age]
    return batch.value(f"veliger.ration.day_{max(days, default=0.0):g}")


def diatom_share(batch: ExpectedBatch, age: int) -> Working | None:
    """Part of the dry mass that a diatom gives at that age; None while there is none.

    It grows by equal steps from its first day to half, which it reaches with the next ration step.
    """
    first = batch.known("veliger.diatom_from_day")
    alone = batch.known(f"regime.{batch.plan.hatchery.regime}.ration")
    if first is None or alone or age < first.number:
        return None
    later = [day for day, _ in batch.species.steps("veliger.ration") if day >= first.number]
    half = min(later, default=first.number)
    inputs = (
        planned("age", age, "d"),
        given("diatom_from", first),
        Given("half_from", half, "d", first.source),
    )
    formula = "0.5 * min(1, (age - diatom_from + 1) / (half_from - diatom_from + 1))"
    return worked(formula, inputs, "1")


def _in_cells(
    batch: ExpectedBatch, sort: str, grams: str, inputs: tuple[Given, ...]
) -> tuple[Working, Working]:
    """Cells [1] and litres of culture [L] that hold the grams of the formula."""
    table = table_values("algae")
    mass = given("cell_mass", table[f"{sort}.dry_mass_pg"])
    density = given("harvest_density", table[f"{sort}.harvest_per_ml"])
    at_hand = batch.cultures.get(sort.split(".", maxsplit=1)[0])
    if at_hand is not None:
        weighed = alga(at_hand.species).numbers.get("ration_pg")
        mass = given("cell_mass", weighed) if weighed else mass
        density = at_hand.cells_per_ml._replace(name="harvest_density")
    cells = worked(f"{grams} * 1e12 / cell_mass", (*inputs, mass), "1")
    litres = f"{grams} * 1e12 / cell_mass / harvest_density / 1000"
    return cells, worked(litres, (*inputs, mass, density), "L")
