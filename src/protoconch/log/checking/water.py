"""Entries about water and stores: readings, levels, jars."""

from protoconch.errors import BadInput
from protoconch.log.checking.eggs import month_c
from protoconch.log.checking.usual import read_range
from protoconch.log.checking.verdict import Case
from protoconch.log.payloads import stores
from protoconch.log.payloads import water as told
from protoconch.log.payloads.water import QUANTITIES
from protoconch.units import ends, quantity, text
from protoconch.words import say


def read(case: Case, said: told.Read) -> None:
    """A value that an instrument shows, and that is usual."""
    unit, low, high = QUANTITIES[said.quantity]
    if not low <= said.value <= high:
        lowest, highest = ends(low, high, unit, 6)
        case.refuse(
            say(
                "{quantity} of {value} is nothing that an instrument shows; it lies between {low}"
                " and {high}.",
                quantity=say(said.quantity),
                value=text(said.value, unit, 6),
                low=lowest,
                high=highest,
            )
        )
        return
    usual = read_range(said.quantity, month_c(case))
    if usual is not None and not usual[0] <= said.value <= usual[1]:
        lowest, highest = ends(*usual, unit, 6)
        case.ask(
            say(
                "{quantity} of {value}; usual are {low} to {high}.",
                quantity=say(said.quantity),
                value=text(said.value, unit, 6),
                low=lowest,
                high=highest,
            )
        )
    if said.quantity == "level" and case.kind_of_vessel == "reservoir":
        _over_full(case, said.value)


def _over_full(case: Case, litres: float) -> None:
    if case.size and litres > case.size:
        case.ask(
            say(
                "{where} would hold {litres}; it is full at {size}.",
                where=case.where,
                litres=text(round(litres), "L"),
                size=text(round(case.size), "L"),
            )
        )


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
            say(
                "{litres} were drawn, but by the log {where} held {before}; read its level.",
                litres=text(round(said.litres), "L"),
                where=case.where,
                before=text(round(level.litres), "L"),
            )
        )


def received(case: Case, said: stores.Received) -> None:
    """Something that has not expired, in a unit that fits what is there."""
    if said.expires is not None and said.expires < case.entry.happened.date():
        case.ask(
            say(
                "{item} had expired on {expires:%d %B %Y}, before it came.",
                item=said.item,
                expires=said.expires,
            )
        )
    _amount(case, said)


def used(case: Case, said: stores.Used) -> None:
    """No more than there was."""
    amount, jar = _amount(case, said), case.state.jars.get(said.item)
    if jar is None:
        case.ask(say("The log has no {item} in store; is the name right?", item=said.item))
    elif amount is not None and amount > jar.amount * (1 + 1e-9):
        case.ask(
            say(
                "Only {amount} of {item} are left by the log.",
                amount=text(jar.amount, jar.unit, 6),
                item=said.item,
            )
        )


def _amount(case: Case, said: stores.Received | stores.Used) -> float | None:
    jar = case.state.jars.get(said.item)
    if jar is None or said.unit == jar.unit:
        return said.amount
    try:
        return quantity(f"{said.amount!r} {said.unit}", jar.unit, said.item)
    except BadInput:
        sentence = say(
            "{item} is kept in {unit}; give its amount in {unit}.", item=said.item, unit=jar.unit
        )
        case.refuse(sentence, by_log=True)
        return None
