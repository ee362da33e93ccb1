"""The entries that settle a line: what is known already, and the blanks that the crew fills."""

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from protoconch.errors import BadInput
from protoconch.log.fields import field_of
from protoconch.units import quantity
from protoconch.words import joined, say

Sort = Literal["number", "whole", "text", "choice"]


@dataclass(frozen=True, slots=True)
class Blank:
    """One thing that the crew fills in, in as many boxes as `times`.

    name: where it goes in the payload; "foods.0.litres" is litres of the first food.
    words: what it is called. sort: what is typed. unit: as typed, "" for a plain number; times_si:
    what one of it is in the payload's unit (0.001 for µm in a payload in mm).
    times: boxes; 0 for as many as there are. needed: whether it must be filled.
    value: what stands in it already; step: of a number. low, high: between which it is likely;
    beyond, the page asks. expected, last: sentences for beside the box, may be empty.
    choices: for sort "choice".
    """

    name: str
    words: str
    sort: Sort = "number"
    unit: str = ""
    times_si: float = 1.0
    times: int = 1
    needed: bool = True
    value: float | str | None = None
    step: float | None = None
    low: float | None = None
    high: float | None = None
    expected: str = ""
    last: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Asked:
    """One entry of the log that is asked for.

    kind: of the log. where: the vessel, prefilled; places: those to choose from where several are
    possible, empty where there is one or none. prefilled: payload so far. fields: what is missing
    or may be changed, the needed ones first.
    """

    kind: str
    where: str
    prefilled: dict[str, Any]
    fields: tuple[Blank, ...] = ()
    places: tuple[str, ...] = ()

    @property
    def touches(self) -> int:
        """Boxes that must be filled by hand, before it is saved."""
        return sum(max(blank.times, 1) for blank in self.fields
                   if blank.needed and blank.value is None)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Way:
    """One way to settle a line: all its entries are saved together, each with the line's key.

    They happen in this order, so each is given a moment after the one before it.
    words: what the crew chooses it by, such as "all of them counted".
    """

    words: str
    asked: tuple[Asked, ...]


def blank(kind: str, name: str, **more: Any) -> Blank:
    """A blank with the words and the unit that the log has for that field.

    name: dotted, as in Blank. more: any other part of a Blank.
    """
    field = field_of(kind, name.rsplit(".", 1)[-1])
    words, unit = more.pop("words", say(field.words)), more.pop("unit", field.shown_unit)
    return Blank(name, words, unit=unit, **more)


def filled(asked: Asked, typed: Mapping[str, Any]) -> dict[str, Any]:
    """The payload: what is known, with what was typed into the blanks, ready for `read_entry`.

    typed: by name of the blank: a text or number, or a list of them where it has several boxes.
        What was left empty keeps the value that stood there; an empty box of several is left out.
    Raises: BadInput, where a needed blank is empty or a number is none; every fault, one a line.
    """
    payload = copy.deepcopy(asked.prefilled)
    faults: list[str] = []
    for entry in asked.fields:
        given = typed.get(entry.name, "")
        values = list(given) if isinstance(given, list | tuple) else [given]
        values = [value for value in values if value not in ("", None)]
        if not values and entry.value is not None:
            _put(payload, entry.name, _plain(entry, entry.value))
            continue
        if not values:
            if entry.needed:
                faults.append(say("The {words} is still empty.", words=entry.words))
            continue
        try:
            read = [_plain(entry, value) for value in values]
        except BadInput as fault:
            faults.append(fault.sentence)
            continue
        _put(payload, entry.name, read if entry.times != 1 else read[0])
    if faults:
        raise BadInput(joined(faults, "\n"))
    return payload


def _plain(entry: Blank, value: Any) -> Any:
    """A typed value as the payload has it."""
    if entry.sort not in ("number", "whole"):
        return value
    number = quantity(value, "um" if entry.unit == "µm" else entry.unit or "1", entry.words)
    number *= entry.times_si
    if entry.sort == "number":
        return number
    if number != int(number):
        raise BadInput(
            say(
                "The {words} is {number:g}; it must be a whole number.",
                words=entry.words,
                number=number,
            )
        )
    return int(number)


def _put(payload: Any, name: str, value: Any) -> None:
    *way, last = name.split(".")
    part = payload
    for step in way:
        part = part[int(step)] if isinstance(part, list) else part[step]
    part[last] = value


def skipped(kind: str, where: str) -> Way:
    """The line was left out, on purpose or not: "done" with the mark that it was skipped."""
    return Way(say("not done"), (Asked("done", where, {"work": kind, "skipped": True},
                            (blank("done", "note", sort="text", needed=False),)),))  # fmt: skip


def just_done(kind: str, where: str, places: Sequence[str] = (), *fields: Blank) -> Way:
    """Work without numbers of its own: one touch says that it is done."""
    note = blank("done", "note", sort="text", needed=False)
    prefilled = {"work": kind}
    return Way(say("done"), (Asked("done", where, prefilled, (*fields, note), tuple(places)),))
