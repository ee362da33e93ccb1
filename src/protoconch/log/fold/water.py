"""Water: the reservoir's level, readings, cartridges, lamps, and the daily care of the tanks."""

from dataclasses import replace

from protoconch.log.entry import Entry
from protoconch.log.fold.ledger import Ledger
from protoconch.log.numbers import bound
from protoconch.log.payloads.algae import MediumMade
from protoconch.log.payloads.care import Cleaned, Fed, WaterChanged
from protoconch.log.payloads.water import CartridgeChanged, Drawn, LampChanged, Pumped, Read
from protoconch.log.state import Level, Part, Reading
from protoconch.words import say


def read(ledger: Ledger, entry: Entry, payload: Read) -> None:
    """The last value at the place; a level read in a reservoir is the level from now on."""
    ledger.readings[entry.where, payload.quantity] = Reading(
        entry.id, entry.where, payload.quantity, payload.value, entry.happened, entry.who
    )
    if payload.quantity == "level" and ledger.kind_of(entry.where) == "reservoir":
        ledger.levels[entry.where] = Level(
            entry.where, payload.value, entry.happened, entry.happened, 0.0, 0.0
        )


def flow(ledger: Ledger, entry: Entry, where: str, in_l: float = 0.0, out_l: float = 0.0) -> None:
    """Water into a reservoir or out of it. Its level stays between empty and full.

    Before any level was read, it counts from empty.
    """
    if not where:
        return
    old = ledger.levels.get(where) or Level(where, 0.0, entry.happened, None, 0.0, 0.0)
    known = ledger.vessels.get(where)
    full = known.size if known is not None and known.size > 0 else float("inf")
    ledger.levels[where] = replace(
        old, litres=min(full, max(0.0, old.litres + in_l - out_l)), when=entry.happened,
        in_l=old.in_l + in_l, out_l=old.out_l + out_l,
    )  # fmt: skip


def pumped(ledger: Ledger, entry: Entry, payload: Pumped) -> None:
    """Seawater came into the reservoir."""
    flow(ledger, entry, entry.where, in_l=payload.litres)


def drawn(ledger: Ledger, entry: Entry, payload: Drawn) -> None:
    """Seawater left the reservoir."""
    flow(ledger, entry, entry.where, out_l=payload.litres)


def water_changed(ledger: Ledger, entry: Entry, payload: WaterChanged) -> None:
    """New water for a tank, from the reservoir: the litres told, or its share of what it holds."""
    holding = ledger.holdings.get(entry.where)
    litres = payload.litres
    if litres is None:
        litres = payload.share * water_in(ledger, entry.where)
    flow(ledger, entry, ledger.reservoir, out_l=litres)
    if holding is not None:
        ledger.holdings[entry.where] = replace(holding, last_change=entry.happened)


def water_in(ledger: Ledger, vessel: str) -> float:
    """Water that a vessel holds [L]: as logged, by its size, or by its floor at a usual depth."""
    holding, known = ledger.holdings.get(vessel), ledger.vessels.get(vessel)
    if holding is not None and holding.litres:
        return holding.litres
    if known is None:
        return 0.0
    if known.unit == "cm2":
        return known.size * bound("water.tray_depth_cm") / 1000.0
    if known.unit == "m2":
        return known.size * bound("water.nursery_depth_cm") * 10.0
    return known.size


def medium_made(ledger: Ledger, entry: Entry, payload: MediumMade) -> None:
    """Medium is made of seawater from the reservoir."""
    flow(ledger, entry, ledger.reservoir, out_l=payload.litres)


def cartridge_changed(ledger: Ledger, entry: Entry, payload: CartridgeChanged) -> None:
    """A fresh cartridge; its rating is that of the one before where none is told."""
    before = ledger.cartridges.get(entry.where)
    rating = payload.rating_um or (before.rating_um if before else None)
    ledger.cartridges[entry.where] = Part(entry.where, entry.happened, rating)


def lamp_changed(ledger: Ledger, entry: Entry, _payload: LampChanged) -> None:
    """A fresh lamp."""
    ledger.lamps[entry.where] = Part(entry.where, entry.happened)


def fed(ledger: Ledger, entry: Entry, _payload: Fed) -> None:
    """Food for a vessel. A tray may be fed before it holds animals, to grow its film.

    The culture in it was drawn by a harvest of its own; feeding does not draw it again.
    """
    holding = ledger.holdings.get(entry.where)
    if holding is not None:
        ledger.holdings[entry.where] = replace(holding, last_fed=entry.happened)
    elif ledger.kind_of(entry.where) == "larval tank":
        ledger.at_odds(
            entry, say("{where} was fed, but the log has no animals in it.", where=entry.where)
        )


def cleaned(ledger: Ledger, entry: Entry, _payload: Cleaned) -> None:
    """A vessel is clean; an incubator that has hatched is empty as well."""
    ledger.dirty.discard(entry.where)
    holding = ledger.holdings.get(entry.where)
    if holding is not None and ledger.in_incubator(entry.where) and holding.stage != "egg":
        ledger.empty(entry.where, entry)
        ledger.dirty.discard(entry.where)
