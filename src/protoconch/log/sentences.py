"""Each entry in one plain sentence, and what a correction changed."""

from collections.abc import Callable, Mapping
from typing import Any

from protoconch.errors import BadInput
from protoconch.log.entry import Entry
from protoconch.log.fields import FIELDS, field_of
from protoconch.log.fold.corrections import as_corrected
from protoconch.log.numbers import animals_counted, cell_density, length_measured
from protoconch.log.payloads import algae, animals, care, water, words
from protoconch.log.payloads.payload import Payload
from protoconch.log.payloads.water import QUANTITIES
from protoconch.log.state import EMPTY, Clumping
from protoconch.log.templates import TEMPLATES
from protoconch.units import text
from protoconch.words import begun, day_text, joined, listed, say

Told = tuple[str, dict[str, Any]]
"""The key of a template, and what goes into its places."""


def sentence(entry: Entry, *, clumping: Clumping = EMPTY.clumping) -> str:
    """What was seen or done, by whom and where, in a sentence.

    clumping: of the counts before (`State.clumping`), for the limits of a count by aliquots.
    """
    key, places = _TOLD[entry.kind](entry, entry.payload, clumping)
    said = say(TEMPLATES[key], who=begun(entry.who), where=entry.where, **places)
    note = entry.payload.note
    return say(TEMPLATES["with note"], sentence=said, note=note) if note else said


def change_sentence(pointing: Entry, of: Entry) -> str:
    """What a correction or confirmation did to an entry.

    of: the entry that it points at, as it read before.
    Raises: BadInput, where the new content is none for the kind of that entry.
    """
    said = pointing.payload
    about = {"who": begun(pointing.who), "other": of.who, "when": _moment(of)}
    if isinstance(said, words.Confirmed):
        key = "change.confirmed" if said.stands else "change.not confirmed"
        return say(TEMPLATES[key], sentence=sentence(of), **about)
    if not isinstance(said, words.Correction):
        raise BadInput(say("An entry '{kind}' changes no other entry.", kind=say(pointing.kind)))
    if said.withdraw:
        return say(TEMPLATES["change.withdraw"], sentence=sentence(of), **about)
    return say(TEMPLATES["change"], changes=listed(_changes(of, as_corrected(of, said))), **about)


def _changes(before: Entry, after: Entry) -> list[str]:
    old = before.payload.model_dump(mode="json", exclude_defaults=True)
    new = after.payload.model_dump(mode="json", exclude_defaults=True)
    pairs: list[tuple[str, Any, Any]] = [
        ("happened", _moment(before), _moment(after)),
        ("where", before.where, after.where),
        *((name, old.get(name), new.get(name)) for name in type(before.payload).model_fields),
    ]
    told: list[str] = []
    for name, was, now in pairs:
        field = FIELDS[name] if name in ("happened", "where") else field_of(before.kind, name)
        earlier, later = (_shown(value, field.shown_unit) for value in (was, now))
        if earlier == later:
            continue
        key = "change.part" if earlier and later else f"change.part.{'new' if later else 'gone'}"
        called = say("the {field}", field=say(field.words))
        told.append(say(TEMPLATES[key], name=called, before=earlier, after=later))
    return told


def _moment(entry: Entry) -> str:
    return day_text(entry.happened, "%d %B %Y, %H:%M")


def _shown(value: Any, unit: str = "") -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return say("set") if value else say("not set")
    if isinstance(value, int | float):
        return text(value, unit, 6)
    if isinstance(value, list):
        shown = joined([_shown(part) for part in value], ", ")
        return joined([shown, unit]) if shown and unit else shown
    if isinstance(value, Mapping):
        return joined(_shown(part) for part in value.values())
    return value if isinstance(value, str) else str(value)


def _number(value: float | None, digits: int = 3, unit: str = "1") -> str:
    return "" if value is None else text(value, unit, digits)


def _plain(key: str, *names: str) -> Callable[..., Told]:
    """Told with the fields of those names, and with the longer sentence where the last is given."""

    def told(_entry: Entry, payload: Payload, _c: Clumping) -> Told:
        values = {name: getattr(payload, name) for name in names}
        longer = _LONGER.get(key)
        if longer is not None and values[longer[0]] not in (None, "", 0.0):
            return longer[1], _worded(values)
        return key, _worded(values)

    return told


_UNITS = {"litres": "L", "refilled_l": "L"}
"""Units of numbers that a reader may read in other ones."""


def _worded(values: Mapping[str, Any]) -> dict[str, str]:
    units = {"amount": values.get("unit", ""), **_UNITS}
    return {
        name: text(value, units.get(name, ""), 6) if isinstance(value, int | float) else str(value)
        for name, value in values.items()
    }


_LONGER = {
    "egg mass collected": ("site", "egg mass collected.site"),
    "hatched": ("veligers", "hatched.veligers"),
    "thinned": ("removed", "thinned.removed"),
    "settled": ("offered", "settled.offered"),
    "inoculated": ("source", "inoculated.source"),
    "harvested": ("refilled_l", "harvested.refilled"),
    "drawn": ("purpose", "drawn.purpose"),
    "cartridge changed": ("rating_um", "cartridge changed.rating"),
    "received": ("expires", "received.expires"),
    "photo": ("caption", "photo.caption"),
}
"""Kinds whose sentence is longer where a field is given: that field, and the longer template."""


def _loaded(_e: Entry, said: animals.IncubatorLoaded, _c: Clumping) -> Told:
    key = "incubator loaded" if said.eggs is None else "incubator loaded.eggs"
    return key, {"masses": listed(said.masses), "batch": said.batch, "eggs": _number(said.eggs)}


def _counted(_e: Entry, said: animals.Counted, clumping: Clumping) -> Told:
    if said.animals is not None:
        return "counted.all", {"animals": _number(said.animals)}
    try:
        value, low, high = animals_counted(said, clumping)
    except BadInput:
        return "counted.unsound", {}
    told = {"animals": _rounded(value), "low": _rounded(low), "high": _rounded(high)}
    return "counted.aliquots", told


def _rounded(value: float) -> float:
    """An estimate to three digits: more would look surer than it is."""
    return float(f"{value:.3g}")


def _measured(_e: Entry, said: animals.Measured, _c: Clumping) -> Told:
    number = len(said.lengths_mm) or said.animals
    told = {"mean": _number(length_measured(said)[0]), "number": _number(number)}
    return ("measured.number" if number else "measured"), told


def _moved(_e: Entry, said: animals.Moved, _c: Clumping) -> Told:
    told = {"to": listed(said.to), "animals": _number(said.animals)}
    return ("moved.all" if said.animals is None else "moved.number"), told


def _graded(_e: Entry, said: animals.Graded, _c: Clumping) -> Told:
    heaps = [
        say(
            TEMPLATES["graded.class.to" if heap.to else "graded.class"],
            animals=_number(heap.animals), from_mm=_number(heap.from_mm), to_mm=_number(heap.to_mm),
            to=heap.to,
        )
        for heap in said.classes
    ]  # fmt: skip
    return "graded", {"classes": listed(heaps)}


def _weighed(_e: Entry, said: animals.Weighed, _c: Clumping) -> Told:
    told = {"animals": _number(said.animals), "grams": _number(said.grams, 4, "g")}
    return "weighed", told | {"each": _number(said.grams / said.animals, 3, "g")}


def _lost(_e: Entry, said: animals.Lost, _c: Clumping) -> Told:
    key = "lost.all" if said.animals is None else "lost.number"
    told = {"animals": _number(said.animals), "cause": said.cause.rstrip(".")}
    return (f"{key}.cause" if said.cause else key), told


def _released(_e: Entry, said: animals.Released, _c: Clumping) -> Told:
    key = f"released.{said.purpose}"
    told = {"animals": _number(said.animals), "site": said.site}
    return (f"{key}.site" if said.site else key), told


def _water_changed(_e: Entry, said: care.WaterChanged, _c: Clumping) -> Told:
    if said.litres is not None:
        return "water changed.litres", {"litres": _number(said.litres, 3, "L")}
    return "water changed", {"percent": _number(said.share * 100)}


def _fed(_e: Entry, said: care.Fed, _c: Clumping) -> Told:
    foods = [
        say(TEMPLATES["fed.litres"], litres=_number(food.litres, 3, "L"), food=food.food)
        if food.litres is not None
        else say(TEMPLATES["fed.grams"], grams=_number(food.grams, 3, "g"), food=food.food)
        for food in said.foods
    ]
    return "fed", {"foods": listed(foods)}


def _cleaned(entry: Entry, said: care.Cleaned, _c: Clumping) -> Told:
    if not entry.where:
        return "cleaned.nowhere", {}
    return ("cleaned.with" if said.with_what else "cleaned"), {"with_what": said.with_what}


def _done(entry: Entry, said: care.Done, _c: Clumping) -> Told:
    key = "done.skipped" if said.skipped else "done"
    return (f"{key}.where" if entry.where else key), {"work": say(said.work)}


def _culture_counted(_e: Entry, said: algae.CultureCounted, _c: Clumping) -> Told:
    try:
        density, limits = cell_density(said)
    except BadInput:
        return "culture counted.unsound", {}
    told = {"cells": _rounded(density), "low": _rounded(limits.low), "high": _rounded(limits.high)}
    if said.found:
        return "culture counted.found", told | {"found": say(said.found)}
    return ("culture counted.chamber" if said.loadings else "culture counted"), told


def _culture_ended(_e: Entry, said: algae.CultureEnded, _c: Clumping) -> Told:
    return "culture ended", {"reason": say(said.reason)}


def _read(entry: Entry, said: water.Read, _c: Clumping) -> Told:
    unit = QUANTITIES[said.quantity][0]
    told = {"quantity": say(said.quantity), "value": text(said.value, unit, 3)}
    return ("read.where" if entry.where else "read"), told


def _corrected(_e: Entry, said: words.Correction, _c: Clumping) -> Told:
    key = "correction.withdraw" if said.withdraw else "correction"
    return (f"{key}.why" if said.why else key), {"why": said.why.rstrip(".")}


def _confirmed(_e: Entry, said: words.Confirmed, _c: Clumping) -> Told:
    return ("confirmed" if said.stands else "confirmed.not"), {}


_TOLD: Mapping[str, Callable[[Entry, Any, Clumping], Told]] = {
    "egg mass collected": _plain("egg mass collected", "mass", "site"),
    "incubator loaded": _loaded,
    "hatched": _plain("hatched", "batch", "veligers"),
    "stocked": _plain("stocked", "animals", "batch"),
    "counted": _counted,
    "measured": _measured,
    "competence checked": _plain("competence checked", "looked_at", "competent"),
    "thinned": _plain("thinned", "kept", "removed"),
    "moved": _moved,
    "settled": _plain("settled", "animals", "offered"),
    "graded": _graded,
    "weighed": _weighed,
    "lost": _lost,
    "released": _released,
    "water changed": _water_changed,
    "fed": _fed,
    "cleaned": _cleaned,
    "done": _done,
    "inoculated": _plain("inoculated", "litres", "species", "source"),
    "harvested": _plain("harvested", "litres", "refilled_l"),
    "culture counted": _culture_counted,
    "culture ended": _culture_ended,
    "medium made": _plain("medium made", "litres", "medium"),
    "pumped": _plain("pumped", "litres"),
    "drawn": _plain("drawn", "litres", "purpose"),
    "read": _read,
    "cartridge changed": _plain("cartridge changed", "rating_um"),
    "lamp changed": _plain("lamp changed"),
    "received": _plain("received", "amount", "unit", "item", "expires"),
    "used": _plain("used", "amount", "unit", "item"),
    "note": _plain("note", "text"),
    "photo": _plain("photo", "caption"),
    "correction": _corrected,
    "confirmed": _confirmed,
}
