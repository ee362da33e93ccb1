"""Warnings of the water: what was read, the reservoir, cartridges, lamps."""

from collections.abc import Iterator
from datetime import date

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.log.state import Reading, State
from protoconch.sources.reading import load_catalogue
from protoconch.sources.values import SourcedValue
from protoconch.units import quantity, text
from protoconch.words import begun, say
from protoconch.work.parameters import table_values
from protoconch.work.warned.warning import Urgency, Warned, caution

SEA = ("sea", "intake")
"""Places whose water is not the animals'."""


def water_warnings(
    state: State, hatchery: Hatchery, species: Species, day: date
) -> Iterator[Warned]:
    """All warnings of the water."""
    holds = table_values("warnings")["reading_holds"].number
    fresh = [r for r in state.readings.values() if 0 <= (day - r.when.date()).days <= holds]
    for reading in fresh:
        if reading.where.lower() not in SEA:
            yield from _read(reading, hatchery, species)
    yield from _reservoir(state, hatchery)
    yield from _cartridges(state)
    yield from _lamps(state, day)


def _read(reading: Reading, hatchery: Hatchery, species: Species) -> Iterator[Warned]:
    if reading.quantity == "temperature":
        limit = _own(hatchery, species, "limits.temperature_c")
        yield from _outside(reading, limit, "°C",
            say("Warm or cool it slowly, shade it, or change less"
                            " water at a time; larvae bear no sudden step."))  # fmt: skip
    elif reading.quantity == "salinity":
        limit = _own(hatchery, species, "limits.salinity")
        yield from _outside(reading, limit, "",
            say("Hold back water after rain; mix it slowly to the"
                            " usual salinity."))  # fmt: skip
    elif reading.quantity == "oxygen":
        yield from _oxygen(reading)


def _own(hatchery: Hatchery, species: Species, name: str) -> SourcedValue | None:
    return hatchery.own_values.get(name) or species.values.get(name)


def _outside(reading: Reading, limit: SourcedValue | None, unit: str, do: str) -> Iterator[Warned]:
    if limit is None or limit.low is None or limit.high is None:
        return
    if limit.low <= reading.value <= limit.high:
        return
    below = reading.value < limit.low
    parts = {
        "place": _place(reading),
        "quantity": say(reading.quantity),
        "value": text(reading.value, unit or "1", 3),
        "edge": text(limit.low if below else limit.high, unit or "1", 3),
    }
    sentence = (
        say("{place}: {quantity} {value}, below {edge}.", **parts)
        if below
        else say("{place}: {quantity} {value}, above {edge}.", **parts)
    )
    yield Warned("water", "now", reading.where, sentence, do, caution("electricity"), limit.source)


def _oxygen(reading: Reading) -> Iterator[Warned]:
    limits = table_values("water_limits")
    warn, act = limits["oxygen.warn"], limits["oxygen.act"]
    if reading.value >= warn.number:
        return
    urgent = reading.value < act.number
    sentence = say(
        "{place}: oxygen {value}, below {edge}.",
        place=_place(reading),
        value=text(reading.value, "mg/L", 2),
        edge=text((act if urgent else warn).number, "mg/L", 2),
    )
    do = say("Check air and flow now, feed nothing, and read it again within the hour.")
    yield Warned(
        "water",
        "now" if urgent else "soon",
        reading.where,
        sentence,
        do,
        caution("electricity"),
        warn.source,
    )


def _place(reading: Reading) -> str:
    return begun(reading.where) or say("Water")


def _reservoir(state: State, hatchery: Hatchery) -> Iterator[Warned]:
    keeping = hatchery.waterworks.keeping if hatchery.waterworks else None
    if keeping is None:
        return
    level = state.levels.get(keeping.place)
    if level is None or level.read is None:
        return
    left = max(0.0, level.litres - keeping.reserve_l)
    days = left / max(keeping.daily_use_l + keeping.store.loss_l_per_day, 1e-9)
    wanted = keeping.interval_days * (keeping.missed_fills + 1)
    if days >= wanted:
        return
    litres = text(round(level.litres, -1), "L")
    sentence = say(
        "The {place} holds {litres}: {days} days above its reserve.",
        place=keeping.place,
        litres=litres,
        days=text(int(days)),
    )
    if days < 1:
        sentence = say(
            "The {place} holds {litres}, near or under its reserve.",
            place=keeping.place,
            litres=litres,
        )
    when: Urgency = "now" if days < keeping.interval_days else "soon"
    yield Warned("water", when, keeping.place, sentence,
                  say("Fill it at the next good tide and weather; change the water of the youngest "
                  "tanks first."), caution("storms"), "own-log")  # fmt: skip


def _cartridges(state: State) -> Iterator[Warned]:
    table = load_catalogue("cartridges")
    change, most = table["change_drop"], table["most_drop"]
    for (where, what), before in state.readings.items():
        after = state.readings.get((where, "pressure after"))
        if what != "pressure before" or after is None:
            continue
        part = state.cartridges.get(where)
        if part is not None and part.changed > min(before.when, after.when):
            continue
        drop = before.value - after.value
        if drop >= _kpa(change.low or change.number):
            due = drop >= _kpa(change.number)
            sentence = say(
                "The {stage} takes {drop}; it is changed at {limit}.",
                stage=where,
                drop=text(drop, "kPa", 2),
                limit=text(_kpa(change.number), "kPa", 2),
            )
            do = (
                say("Change the cartridge today.")
                if due
                else say("Have a fresh cartridge at hand.")
            )
            if drop >= _kpa(most.low or most.number):
                do = say("Change it now: so much can make an element give way.")
            yield Warned(
                "water",
                "now" if due else "soon",
                where,
                sentence,
                do,
                caution("pressure"),
                change.source,
            )


def _kpa(psi: float) -> float:
    return quantity(f"{psi} psi", "kPa", "pressure")


def _lamps(state: State, day: date) -> Iterator[Warned]:
    life, share = load_catalogue("uv")["lamp_hours"], table_values("warnings")["lamp_share"].number
    for part in state.lamps.values():
        hours = 24.0 * (day - part.changed.date()).days
        if hours >= share * life.number:
            over = hours >= life.number
            sentence = say(
                "The lamp of the {where} has burned about {hours}.",
                where=part.where,
                hours=text(hours, "h"),
            )
            do = say("Put in a new lamp.") if over else say("Order a new lamp.")
            yield Warned("water", "now" if over else "soon", part.where, sentence, do,
                         caution("UV light"), life.source)  # fmt: skip
