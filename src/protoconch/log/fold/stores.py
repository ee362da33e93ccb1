"""Jars and boxes: what came in and what is left, the first to expire used first."""

from collections.abc import Iterable
from datetime import date

from protoconch.errors import BadInput
from protoconch.log.entry import Entry
from protoconch.log.fold.ledger import Ledger
from protoconch.log.payloads.stores import Received, Used
from protoconch.log.state import Jar, Lot
from protoconch.units import quantity, text
from protoconch.words import say

ROUNDING = 1e-9


def received(ledger: Ledger, entry: Entry, payload: Received) -> None:
    """One more lot of an item, in the unit that the item is kept in."""
    jar = ledger.jars.get(payload.item)
    amount = _in_unit(ledger, entry, payload, jar)
    if amount is None:
        return
    lots = (*(jar.lots if jar else ()), Lot(amount, payload.expires, payload.lot))
    ledger.jars[payload.item] = _jar(payload.item, jar.unit if jar else payload.unit, lots, entry)


def used(ledger: Ledger, entry: Entry, payload: Used) -> None:
    """Out of the lot that expires first. What never came in by the log is not kept track of."""
    jar = ledger.jars.get(payload.item)
    if jar is None:
        return
    amount = _in_unit(ledger, entry, payload, jar)
    if amount is None:
        return
    if amount > jar.amount * (1 + ROUNDING):
        ledger.wonder(
            entry,
            say(
                "{amount} of {item} were used, but only {left} were left.",
                amount=text(payload.amount, payload.unit, 6),
                item=payload.item,
                left=text(jar.amount, jar.unit, 6),
            ),
        )
    ledger.jars[payload.item] = _jar(payload.item, jar.unit, _without(jar.lots, amount), entry)


def _without(lots: Iterable[Lot], amount: float) -> tuple[Lot, ...]:
    kept = []
    for lot in lots:
        taken = min(lot.amount, amount)
        amount -= taken
        left = lot.amount - taken
        if left > lot.amount * ROUNDING:
            kept.append(Lot(left, lot.expires, lot.lot))
    return tuple(kept)


def _jar(item: str, unit: str, lots: Iterable[Lot], entry: Entry) -> Jar:
    ordered = tuple(sorted(lots, key=lambda lot: lot.expires or date.max))
    expires = next((lot.expires for lot in ordered if lot.expires), None)
    return Jar(item, unit, sum(lot.amount for lot in ordered), expires, entry.happened, ordered)


def _in_unit(
    ledger: Ledger, entry: Entry, payload: Received | Used, jar: Jar | None
) -> float | None:
    """The amount in the unit of the jar; None with a doubt where the units do not fit."""
    if jar is None or payload.unit == jar.unit:
        return payload.amount
    try:
        return quantity(f"{payload.amount!r} {payload.unit}", jar.unit, payload.item)
    except BadInput:
        ledger.refuse(
            entry,
            say(
                "{item} is kept in {unit}, and {given} is no such measure; give the "
                "amount in {unit}.",
                item=payload.item,
                unit=jar.unit,
                given=payload.unit,
            ),
        )
        return None
