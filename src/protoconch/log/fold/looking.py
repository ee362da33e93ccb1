"""Animals counted, measured, weighed and looked at, and what the ledger says after it."""

from dataclasses import replace

from protoconch.errors import BadInput
from protoconch.log.entry import Entry
from protoconch.log.fold.ledger import Ledger
from protoconch.log.fold.vessels import holding_at, leave, missing
from protoconch.log.numbers import (
    Estimate,
    animals_counted,
    bound,
    dead_counted,
    length_measured,
    share_seen,
    with_count,
)  # fmt: skip
from protoconch.log.payloads.animals import CompetenceChecked, Counted, Measured, Settled, Weighed
from protoconch.log.state import Holding, Sighting
from protoconch.words import say


def counted(ledger: Ledger, entry: Entry, payload: Counted) -> None:
    """The ledger takes the number; the difference was lost where dead were seen, else is missing.

    Ten times more than the ledger is at odds and does not count until confirmed. Ten times fewer
    counts, as animals can die overnight, and leaves a doubt.
    """
    try:
        found = animals_counted(payload, ledger.clumping)
    except BadInput as error:
        ledger.refuse(entry, str(error))
        return
    alive = round(found[0])
    if alive == 0 and entry.where not in ledger.holdings:
        return
    holding = holding_at(ledger, entry, say("counted"))
    if holding is None or _far_off(ledger, entry, holding, alive):
        return
    ledger.clumping = with_count(ledger.clumping, payload)
    dead = min(dead_counted(payload), max(0, holding.alive - alive))
    if dead and not ledger.in_incubator(holding.vessel):
        ledger.book(holding.batch, lost=dead)
    missing(ledger, holding, holding.alive - dead - alive)
    seen = _seen(ledger, entry, holding, found)
    leave(ledger, entry, replace(holding, last_count=seen), alive, seen=True)


def _far_off(ledger: Ledger, entry: Entry, holding: Holding, alive: int) -> bool:
    times, least = bound("ledger.far_off_times"), bound("ledger.far_off_least")
    if not holding.alive or abs(alive - holding.alive) < least:
        return False
    said = say(
        "{alive:,} animals were counted in {where}, where the ledger had {known:,}.",
        alive=alive,
        where=entry.where,
        known=holding.alive,
    )
    if alive > holding.alive * times:
        return ledger.at_odds(entry, said)
    if alive * times < holding.alive:
        ledger.wonder(entry, said)
    return False


def settled(ledger: Ledger, entry: Entry, payload: Settled) -> None:
    """So many have metamorphosed; the others are missing, and the vessel holds post-larvae."""
    holding = holding_at(ledger, entry, say("looked at for settled animals"))
    if holding is None or _far_off(ledger, entry, holding, payload.animals):
        return
    number = float(payload.animals)
    seen = _seen(ledger, entry, holding, (number, number, number))
    missing(ledger, holding, holding.alive - payload.animals)
    stage = "post-larva" if holding.stage in ("egg", "veliger") else holding.stage
    leave(ledger, entry, replace(holding, stage=stage, last_count=seen), payload.animals, seen=True)
    batch = ledger.batch(holding.batch)
    ledger.batches[batch.code] = replace(batch, settled=batch.settled or entry.happened)


def measured(ledger: Ledger, entry: Entry, payload: Measured) -> None:
    """The mean shell length [mm] is the vessel's from now on."""
    found = length_measured(payload)
    holding = ledger.holdings.get(entry.where) or holding_at(ledger, entry, say("measured"))
    if holding is None:
        return
    _seen(ledger, entry, holding, found)
    if holding.alive:
        ledger.fill(replace(holding, length_mm=found[0], length_seen=entry.happened))


def competence_checked(ledger: Ledger, entry: Entry, payload: CompetenceChecked) -> None:
    """The share of larvae that are ready to settle."""
    holding = holding_at(ledger, entry, say("checked for competent larvae"))
    if holding is not None:
        _seen(ledger, entry, holding, share_seen(payload.competent, payload.looked_at))


def weighed(ledger: Ledger, entry: Entry, payload: Weighed) -> None:
    """Grams of one animal."""
    holding = holding_at(ledger, entry, say("weighed"))
    if holding is not None:
        grams = payload.grams / payload.animals
        _seen(ledger, entry, holding, (grams, grams, grams))


def _seen(ledger: Ledger, entry: Entry, holding: Holding, found: Estimate) -> Sighting:
    value, low, high = found
    sighting = Sighting(
        entry.id, entry.kind, entry.happened, entry.where, entry.who, value, low, high
    )
    ledger.sight(holding.batch, sighting)
    return sighting
