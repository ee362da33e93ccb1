"""From the egg mass to the tank: collected, loaded, hatched, stocked."""

from dataclasses import replace

from protoconch.log.entry import Entry
from protoconch.log.fold.ledger import Ledger
from protoconch.log.fold.vessels import add_to
from protoconch.log.payloads.animals import EggMassCollected, Hatched, IncubatorLoaded, Stocked
from protoconch.log.state import EggMass, Holding
from protoconch.words import say


def collected(ledger: Ledger, entry: Entry, payload: EggMassCollected) -> None:
    """A mass by its label; a second one of the same label does not count."""
    if payload.mass in ledger.masses and ledger.at_odds(
        entry,
        say(
            "There is already an egg mass {mass}; each needs a label of its own.", mass=payload.mass
        ),
    ):
        return
    ledger.masses[payload.mass] = EggMass(
        payload.mass, entry.happened, payload.site, payload.share_taken, payload.eggs,
        payload.permit,
    )  # fmt: skip


def loaded(ledger: Ledger, entry: Entry, payload: IncubatorLoaded) -> None:
    """Masses become a batch in an incubator place; eggs that nobody counted stay 0."""
    holding = ledger.holdings.get(entry.where)
    if holding and holding.batch != payload.batch:
        sentence = say(
            "{where} was loaded with batch {batch} while batch {before} was still in it.",
            where=entry.where,
            batch=payload.batch,
            before=holding.batch,
        )
        if ledger.at_odds(entry, sentence):
            return
        ledger.empty(entry.where, entry)
        holding = None
    _name_masses(ledger, entry, payload)
    eggs = payload.eggs
    if eggs is None:
        known = [ledger.masses[m].eggs for m in payload.masses if m in ledger.masses]
        eggs = sum(n for n in known if n is not None)
    alive = eggs + (holding.alive if holding else 0)
    since = holding.since if holding else entry.happened
    ledger.fill(
        Holding(entry.where, payload.batch, "egg", since, alive, entry.happened)
    )  # fmt: skip
    batch = ledger.batch(payload.batch)
    masses = (*batch.masses, *(m for m in payload.masses if m not in batch.masses))
    total = (batch.eggs or 0) + eggs
    ledger.batches[payload.batch] = replace(
        batch, masses=masses, eggs=total or None, loaded=batch.loaded or entry.happened
    )


def _name_masses(ledger: Ledger, entry: Entry, payload: IncubatorLoaded) -> None:
    for mass in payload.masses:
        found = ledger.masses.get(mass)
        if found is None:
            ledger.wonder(
                entry,
                say("Egg mass {mass} was loaded, but the log has not collected it.", mass=mass),
            )
        elif found.batch not in ("", payload.batch):
            ledger.wonder(
                entry,
                say(
                    "Egg mass {mass} went into batch {batch} and {other}.",
                    mass=mass,
                    batch=payload.batch,
                    other=found.batch,
                ),
            )
        else:
            ledger.masses[mass] = replace(found, batch=payload.batch)


def hatched(ledger: Ledger, entry: Entry, payload: Hatched) -> None:
    """The batch has hatched; what is in the incubator are veligers from now on."""
    holding = ledger.holdings.get(entry.where)
    if holding and holding.batch != payload.batch:
        sentence = say(
            "Batch {batch} hatched in {where}, which holds {before}.",
            batch=payload.batch,
            where=entry.where,
            before=holding.batch,
        )
        if ledger.at_odds(entry, sentence):
            return
    batch = ledger.batch(payload.batch)
    ledger.batches[payload.batch] = replace(batch, hatched=batch.hatched or entry.happened)
    if holding and holding.batch == payload.batch:
        alive = holding.alive if payload.veligers is None else payload.veligers
        ledger.fill(
            replace(holding, stage="veliger", alive=alive, alive_seen=entry.happened)
        )  # fmt: skip


def stocked(ledger: Ledger, entry: Entry, payload: Stocked) -> None:
    """Larvae go into a tank, and so into the batch's account.

    Stocking the same batch adds. Another batch in the tank is at odds; once confirmed, the animals
    that were in it are taken to have left unseen, and are missing.
    """
    holding = ledger.holdings.get(entry.where)
    if holding and holding.batch != payload.batch:
        sentence = say(
            "{where} was stocked with batch {batch} while batch {before} ({alive:,} "
            "animals) was still in it.",
            where=entry.where,
            batch=payload.batch,
            before=holding.batch,
            alive=holding.alive,
        )
        if ledger.at_odds(entry, sentence):
            return
        ledger.book(holding.batch, missing=holding.alive)
        ledger.empty(entry.where, entry)
    ledger.batch(payload.batch)
    if payload.animals:
        ledger.book(payload.batch, stocked=payload.animals)
        _draw_from_incubators(ledger, entry, payload)
        add_to(
            ledger, entry.where, payload.batch, payload.animals, entry.happened,
            litres=payload.litres,
        )  # fmt: skip


def _draw_from_incubators(ledger: Ledger, entry: Entry, payload: Stocked) -> None:
    """What was stocked is no longer in the incubators of the batch that have hatched."""
    left = payload.animals
    places = [
        h for h in ledger.holdings.values()
        if h.batch == payload.batch and h.stage != "egg" and ledger.in_incubator(h.vessel)
    ]  # fmt: skip
    for place in sorted(places, key=lambda h: h.vessel):
        if place.alive <= left:
            left -= place.alive
            ledger.empty(place.vessel, entry)
        else:
            ledger.fill(replace(place, alive=place.alive - left))
            left = 0
