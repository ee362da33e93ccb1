"""Entries about water and stores: readings, levels, jars."""

from protoconch.errors import BadInput
from protoconch.log.checking.eggs import month_c
from protoconch.log.checking.usual import read_range
from protoconch.log.checking.verdict import Case
from protoconch.log.payloads import stores
from protoconch.log.payloads import water as told
from protoconch.log.payloads.water import QUANTITIES
from protoconch.units import quantity


def read(case: Case, said: told.Read) -> None:
    """A value that an instrument shows, and that is usual."""
    unit, low, high = QUANTITIES[said.quantity]
    shown = "" if unit == "1" else f" {unit}"
    if not low <= said.value <= high:
        case.refuse(
            f"{said.quantity} of {said.value:g}{shown} is nothing that an instrument shows;"
            f" it lies between {low:g} and {high:,.10g}{shown}."
        )
        return
    usual = read_range(said.quantity, month_c(case))
    if usual is not None and not usual[0] <= said.value <= usual[1]:
        case.ask(
            f"{said.quantity} of {said.value:g}{shown}; usual are {usual[0]:g} to"
            f" {usual[1]:g}{shown}."
        )
    if said.quantity == "level" and case.kind_of_vessel == "reservoir":
        _over_full(case, said.value)


def _over_full(case: Case, litres: float) -> None:
    if case.size and litres > case.size:
        case.ask(f"{case.where} would hold {litres:,.0f} L; it is full at {case.size:,.0f} L.")


def pumped(case: Case, said: told.Pumped) -> None:
    """No more than there is room for."""
    level = case.state.levels.get(case.where)
    before = level.litres if level is not None and level.read is not None else 0.0
    _over_full(case, before + said.litres)


def drawn(case: Case, said: told.Drawn) -> None:
    """No more than there is."""
    level = case.state.levels.get(case.where)
    if level is not None and level.read is not None and said.litres > level.litres:
        case.ask(
            f"{said.litres:,.0f} L were drawn, but by the log {case.where} held"
            f" {level.litres:,.0f} L; read its level."
        )


def received(case: Case, said: stores.Received) -> None:
    """Something that has not expired, in a unit that fits what is there."""
    if said.expires is not None and said.expires < case.entry.happened.date():
        case.ask(f"{said.item} had expired on {said.expires:%d %B %Y}, before it came.")
    _amount(case, said)


def used(case: Case, said: stores.Used) -> None:
    """No more than there was."""
    amount, jar = _amount(case, said), case.state.jars.get(said.item)
    if jar is None:
        case.ask(f"The log has no {said.item} in store; is the name right?")
    elif amount is not None and amount > jar.amount * (1 + 1e-9):
        case.ask(f"Only {jar.amount:.6g} {jar.unit} of {said.item} are left by the log.")


def _amount(case: Case, said: stores.Received | stores.Used) -> float | None:
    jar = case.state.jars.get(said.item)
    if jar is None or said.unit == jar.unit:
        return said.amount
    try:
        return quantity(f"{said.amount!r} {said.unit}", jar.unit, said.item)
    except BadInput:
        sentence = f"{said.item} is kept in {jar.unit}; give its amount in {jar.unit}."
        case.refuse(sentence, by_log=True)
        return None
