"""Animals moved, graded, thinned, lost and released."""

from protoconch.log.entry import Entry
from protoconch.log.fold.ledger import Ledger
from protoconch.log.fold.vessels import (
    add_to,
    holding_at,
    leave,
    missing,
    take_out,
    too_many,
)  # fmt: skip
from protoconch.log.numbers import whole_parts
from protoconch.log.payloads.animals import Graded, Lost, Moved, Released, Thinned
from protoconch.log.state import Holding
from protoconch.words import say


def thinned(ledger: Ledger, entry: Entry, payload: Thinned) -> None:
    """So many stay. Those taken out are removed; what neither stayed nor was taken is missing."""
    holding = holding_at(ledger, entry, say("thinned"))
    if holding is None:
        return
    there = payload.kept + (payload.removed or 0)
    if too_many(ledger, entry, holding, there, say("kept and taken out of")):
        return
    removed = payload.removed
    if removed is None:
        removed = max(0, holding.alive - payload.kept)
    missing(ledger, holding, holding.alive - payload.kept - removed)
    if removed and not ledger.in_incubator(holding.vessel):
        ledger.book(holding.batch, removed=removed)
    leave(ledger, entry, holding, payload.kept, seen=True)


def moved(ledger: Ledger, entry: Entry, payload: Moved) -> None:
    """Animals go to other vessels, whole ones, split by the size of the vessels."""
    holding = holding_at(ledger, entry, say("emptied into other vessels"))
    if holding is None:
        return
    number = holding.alive if payload.animals is None else payload.animals
    if too_many(ledger, entry, holding, number, say("moved out of")):
        return
    to = list(dict.fromkeys(payload.to))
    if other_batch(ledger, entry, holding, to):
        return
    take_out(ledger, entry, holding, number)
    for vessel, part in zip(to, whole_parts(number, _sizes(ledger, to)), strict=True):
        add_to(
            ledger, vessel, holding.batch, part, entry.happened,
            length_mm=holding.length_mm, length_seen=holding.length_seen,
        )  # fmt: skip


def _sizes(ledger: Ledger, names: list[str]) -> list[float]:
    """Sizes to split by; equal ones where they are not known or not in one unit."""
    found = [ledger.vessels.get(name) for name in names]
    units = {vessel.unit if vessel is not None else "" for vessel in found}
    if len(units) > 1 or "" in units:
        return [1.0] * len(names)
    return [vessel.size for vessel in found if vessel is not None]


def other_batch(ledger: Ledger, entry: Entry, holding: Holding, to: list[str]) -> bool:
    """True where a vessel that they go to holds another batch and nobody confirmed that."""
    for vessel in to:
        there = ledger.holdings.get(vessel)
        if there is not None and there.batch != holding.batch:
            sentence = say(
                "Animals of batch {batch} went from {where} to {vessel}, which holds batch "
                "{other}; confirmed, they count as batch {other}.",
                batch=holding.batch,
                where=entry.where,
                vessel=vessel,
                other=there.batch,
            )
            return ledger.at_odds(entry, sentence)
    return False


def graded(ledger: Ledger, entry: Entry, payload: Graded) -> None:
    """All animals of the vessel, by size; heaps without a vessel to go to stay where they were."""
    holding = holding_at(ledger, entry, say("graded"))
    if holding is None:
        return
    total = sum(heap.animals for heap in payload.classes)
    if too_many(ledger, entry, holding, total, say("graded in")):
        return
    going = [heap.to for heap in payload.classes if heap.to and heap.animals]
    if other_batch(ledger, entry, holding, going):
        return
    missing(ledger, holding, holding.alive - total)
    leave(ledger, entry, holding, 0, seen=True)
    for heap in payload.classes:
        add_to(
            ledger, heap.to or entry.where, holding.batch, heap.animals, entry.happened,
            length_mm=(heap.from_mm + heap.to_mm) / 2, length_seen=entry.happened,
        )  # fmt: skip


def lost(ledger: Ledger, entry: Entry, payload: Lost) -> None:
    """Animals died: so many, or all that there were."""
    holding = holding_at(ledger, entry, say("lost"))
    if holding is None:
        return
    number = holding.alive if payload.animals is None else payload.animals
    if too_many(ledger, entry, holding, number, say("lost in")):
        return
    take_out(ledger, entry, holding, number)
    if not ledger.in_incubator(entry.where):
        ledger.book(holding.batch, lost=number)


def released(ledger: Ledger, entry: Entry, payload: Released) -> None:
    """Animals left the hatchery."""
    holding = holding_at(ledger, entry, say("emptied for a release"))
    if holding is None:
        return
    if too_many(ledger, entry, holding, payload.animals, say("released from")):
        return
    take_out(ledger, entry, holding, payload.animals)
    ledger.book(holding.batch, released=payload.animals)
