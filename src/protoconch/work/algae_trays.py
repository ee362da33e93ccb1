"""Diatoms for the trays: films that are sown again and again, and settled diatoms poured on."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from protoconch.algae.demand import PG_PER_G, TankFood
from protoconch.algae.flocculation import concentrate
from protoconch.algae.species import alga
from protoconch.animals.species import Species
from protoconch.season.answer import SeasonPlan
from protoconch.sources.reading import load_catalogue
from protoconch.sources.values import SourcedValue
from protoconch.units import text
from protoconch.words import say
from protoconch.work.expected import ExpectedBatch, expected_batches
from protoconch.work.settling import TRAYS, tray_floor_cm2
from protoconch.work.task import Task, Working, about, given, planned, worked

METHOD = "ph-polymer"
"""Settling that keeps longest and may be fed; see the table."""
FILM = "floor * 100 * per_mm2 / renew * cell_mass / 1e12"
Shares = Mapping[str, float]


def tray_food(
    plan: SeasonPlan, species: Species, shares: Shares, first: date
) -> tuple[TankFood, ...]:
    """What is to be grown for the trays of a season, by batch and day.

    shares: of the mass of its sort (film diatoms, diatoms) that each species gives. first: day 0.
    Films are sown from a renewal before the inducer to the move to the nursery, by the diatoms
    that make films; where none is grown, by the others, settled. Where the table has a ration of
    settled diatoms for the post-larvae, they are settled for several days at once.
    """
    found: list[TankFood] = []
    for batch in expected_batches(plan, species):
        for day in sown_days(batch):
            food = _grams(batch, species, day, shares)
            if food:
                code = batch.batch.code
                found.append(TankFood((day - first).days, say("trays of batch {code}", code=code),
                    code,
                                      max(0, batch.age(day)), food, trays=True))  # fmt: skip
    return tuple(found)


def sown_days(batch: ExpectedBatch) -> list[date]:
    """Days on which films are sown for a batch; the first ones before its animals are there."""
    start = batch.batch.dates.induce - timedelta(days=round(_film("renew_d").number))
    return [start + timedelta(days=n) for n in range((_end(batch) - start).days)]


def film_g(batch: ExpectedBatch, key: str) -> Working:
    """Diatoms of a species to sow for a batch on a day, so that its film is renewed in time [g].

    Source: useful density from Haliotis rufescens post-larvae, renewal common practice; both in
        tables/flocculation.toml.
    """
    inputs = (
        planned("floor", tray_floor_cm2(batch), "cm2"),
        given("per_mm2", _film("useful_per_mm2")),
        given("renew", _film("renew_d")),
        given("cell_mass", alga(key).numbers["ration_pg"]),
    )
    return worked(FILM, inputs, "g")


def settled_ration_g(batch: ExpectedBatch, species: Species, day: date) -> Working | None:
    """Settled diatoms that the post-larvae of a batch get on a day [g]; None where none are told.

    Source: tables/flocculation.toml, by species; weight by length of the profile.
    """
    ration = load_catalogue("flocculation")["post_larva"].get(species.key)
    if ration is None or not batch.batch.dates.induce < day < _end(batch):
        return None
    alive, animals = batch.numbers("animals", day)
    length, lengths = batch.length("length", day)
    inputs = (
        *animals,
        given("a", batch.value("weight.a")),
        *lengths,
        given("b", batch.value("weight.b")),
        given("ration", ration["settled_g_g_week"]),
    )
    return worked(f"{alive} * a * {length} ** b * ration / 7", inputs, "g")


def settled_for(batch: ExpectedBatch, species: Species, day: date) -> tuple[Working, ...]:
    """Rations for which diatoms are settled on a day: its own and of the days that follow.

    Empty on the days between two settlings, which are the same for all batches.
    """
    every = round(_film("settle_every_d").number)
    if day.toordinal() % every:
        return ()
    rations = (settled_ration_g(batch, species, day + timedelta(days=n)) for n in range(every))
    return tuple(ration for ration in rations if ration is not None)


def tray_diatom_tasks(
    plan: SeasonPlan, species: Species, shares: Shares, day: date
) -> tuple[Task, ...]:
    """The day's work with diatoms for the trays; nothing before and after."""
    batches = [b for b in expected_batches(plan, species) if day in sown_days(b)]
    return (*_sowing(batches, shares, day), *_settling(batches, species, shares, day))


def _film(name: str) -> SourcedValue:
    found: SourcedValue = load_catalogue("flocculation")["film"][name]
    return found


def _recovery() -> SourcedValue:
    found: SourcedValue = load_catalogue("flocculation")["methods"][METHOD]["recovery"]
    return found


def _end(batch: ExpectedBatch) -> date:
    return min(batch.batch.dates.to_nursery, batch.batch.dates.release)


def _of_kind(shares: Shares, kind: str) -> dict[str, float]:
    return {key: share for key, share in shares.items() if alga(key).kind == kind}


def _grams(
    batch: ExpectedBatch, species: Species, day: date, shares: Shares
) -> dict[str, float]:  # fmt: skip
    """Grams to harvest of each species for the trays of a batch on a day."""
    makers, others = _of_kind(shares, "film diatom"), _of_kind(shares, "diatom")
    lost = 1 / _recovery().number
    sown = makers or {key: share * lost for key, share in others.items()}
    food = {key: film_g(batch, key).result * share for key, share in sown.items()}
    ration = sum(working.result for working in settled_for(batch, species, day))
    for key, share in others.items():
        food[key] = food.get(key, 0.0) + ration * share * lost
    return {key: grams for key, grams in food.items() if grams > 0}


def _sowing(batches: Sequence[ExpectedBatch], shares: Shares, day: date) -> Iterator[Task]:
    makers = _of_kind(shares, "film diatom") or _of_kind(shares, "diatom")
    for key, share in makers.items():
        workings = [film_g(batch, key) for batch in batches]
        grams = share * sum(working.result for working in workings)
        if grams <= 0:
            continue
        mass = alga(key).number("ration_pg")
        codes = ", ".join(batch.batch.code for batch in batches)
        yield _task(
            day, "sow films", say("Sow {name}", name=alga(key).name), say("{place}, {species}",
            place=TRAYS, species=key), codes,
            say("{billions} billion cells over the trays of {codes}",
                billions=about(grams * PG_PER_G / mass / 1000000000.0), codes=codes),
            say("A film is grazed in about a week; bare floor starves post-larvae."), 0.0,
            (say("Pour it over the barest trays first, flow off for an hour."),
             say("Golden is right; brown and thick smothers: leave such a tray out.")),
            workings,
        )  # fmt: skip


def _settling(
    batches: Sequence[ExpectedBatch], species: Species, shares: Shares, day: date
) -> Iterator[Task]:
    rations = [working for batch in batches for working in settled_for(batch, species, day)]
    wanted = sum(working.result for working in rations)
    for key, share in _of_kind(shares, "diatom").items() if wanted > 0 else ():
        inputs = (planned("wanted", wanted * share, "g"), given("recovery", _recovery()))
        harvest = worked("wanted / recovery", inputs, "g")
        density = alga(key).number("harvest_per_ml.carboy") * alga(key).number("ration_pg") / 1e9
        litres = harvest.result / density
        made = concentrate(METHOD, key, litres, density)
        codes = ", ".join(batch.batch.code for batch in batches)
        days = round(_film("settle_every_d").number)
        yield _task(
            day, "settle diatoms", say("Settle {name} with {method}", name=alga(key).name,
            method=say(made.method)),
            say("{place}, {species}", place=say("algae room"), species=key), codes,
            say("{grams} dry in about {litres} of culture for {days} days; {polymer} mg " "polymer",
                grams=text(harvest.result, 'g', 2), litres=about(litres, 2, 'L'), days=days,
                polymer=about(made.dose_g * 1000, 2)),
            say("Post-larvae get it on their film each morning."), _film("settle_min").number,
            made.steps, [harvest, *rations], made.cautions,
        )  # fmt: skip


def _task(
    day: date, kind: str, what: str, where: str, codes: str, amount: str, why: str,
    minutes: float, steps: Sequence[str], workings: Sequence[Working], cautions: Sequence[str] = (),
) -> Task:  # fmt: skip
    return Task(day, "morning", kind, what, where, amount, why, codes, minutes, workings[0],
                tuple(cautions), tuple(steps), tuple(workings[1:]))  # fmt: skip
