"""Algae cultures: started, drawn, counted, ended."""

from dataclasses import replace

from protoconch.errors import BadInput
from protoconch.log.entry import Entry
from protoconch.log.fold.ledger import Ledger
from protoconch.log.numbers import bound, cell_density
from protoconch.log.payloads.algae import CultureCounted, CultureEnded, Harvested, Inoculated
from protoconch.log.state import Culture, CultureCount
from protoconch.units import text
from protoconch.words import say


def inoculated(ledger: Ledger, entry: Entry, payload: Inoculated) -> None:
    """A culture begins; its inoculum is gone from the vessel it came from."""
    there = ledger.cultures.get(entry.where)
    if there is not None:
        sentence = say(
            "{where} was inoculated with {species} while it still held {before}.",
            where=entry.where,
            species=payload.species,
            before=there.species,
        )
        if ledger.at_odds(entry, sentence):
            return
    source = ledger.cultures.get(payload.source)
    if source is not None and payload.inoculum_l is not None and payload.source != entry.where:
        _draw(ledger, entry, source, payload.inoculum_l)
    ledger.cultures[entry.where] = Culture(
        entry.where, payload.species, entry.happened, payload.litres, payload.medium,
        payload.source,
    )  # fmt: skip
    ledger.dirty.discard(entry.where)


def harvested(ledger: Ledger, entry: Entry, payload: Harvested) -> None:
    """Culture is drawn and perhaps refilled; a vessel drawn empty holds no culture any more."""
    there = _culture(ledger, entry, say("harvested"))
    if there is None:
        return
    if payload.litres > there.litres * bound("ledger.slack"):
        sentence = say(
            "{litres} were drawn from {where}, but the ledger had {left} in it.",
            litres=text(payload.litres, "L", 6),
            where=entry.where,
            left=text(there.litres, "L", 4),
        )
        if ledger.at_odds(entry, sentence):
            return
    _draw(ledger, entry, there, payload.litres, payload.refilled_l)


def _draw(
    ledger: Ledger, entry: Entry, culture: Culture, litres: float, refilled_l: float = 0.0
) -> None:
    left = max(0.0, culture.litres - litres)
    if left <= culture.litres * 1e-9 and refilled_l == 0.0:
        ledger.cultures.pop(culture.vessel, None)
        ledger.dirty.add(culture.vessel)
        return
    ledger.cultures[culture.vessel] = replace(
        culture, litres=left + refilled_l, harvested_l=culture.harvested_l + litres,
        last_harvest=entry.happened,
    )  # fmt: skip


def culture_counted(ledger: Ledger, entry: Entry, payload: CultureCounted) -> None:
    """The density with its limits; what should not be in it stays on the mark until it ends."""
    there = _culture(ledger, entry, say("counted"))
    if there is None:
        return
    try:
        density, limits = cell_density(payload)
    except BadInput as error:
        ledger.refuse(entry, str(error))
        return
    count = CultureCount(
        entry.id, entry.happened, density, limits.low, limits.high, payload.found
    )  # fmt: skip
    ledger.cultures[entry.where] = replace(
        there, counts=(*there.counts, count), found=payload.found or there.found
    )


def culture_ended(ledger: Ledger, entry: Entry, _payload: CultureEnded) -> None:
    """The vessel holds nothing and is dirty, even where the ledger knew of no culture."""
    ledger.cultures.pop(entry.where, None)
    ledger.dirty.add(entry.where)


def _culture(ledger: Ledger, entry: Entry, did: str) -> Culture | None:
    """The culture of the vessel; where there is none, a doubt that only a correction settles."""
    there = ledger.cultures.get(entry.where)
    if there is None:
        ledger.refuse(
            entry,
            say(
                "{where} was {did}, but the log has no culture in it; log its start.",
                where=entry.where,
                did=did,
            ),
        )
    return there
