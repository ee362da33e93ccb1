"""One input of a calculation, from what was typed to the value that the calculation receives."""

import re
from collections.abc import Iterable, Sequence
from difflib import get_close_matches

from protoconch.calculations.declaration import Given, Input
from protoconch.errors import BadInput, OutOfRange, UnknownName
from protoconch.units import Reading, read, text
from protoconch.words import begun, listed, say

Typed = str | float | Sequence[str | float]
"""What people or programs give for an input: a text, a number, or a list of these."""


def read_input(one: Input, typed: Typed) -> tuple[Given, tuple[str, ...]]:
    """The value of one input, and notes on how it was read where there was a choice.

    Raises: BadInput, OutOfRange, UnknownName or WrongUnit, naming the input.
    """
    if one.kind == "choice":
        return _choice(one, typed), ()
    if one.kind == "number":
        if not isinstance(typed, str | float | int):
            raise BadInput(say("{name} is a list; give one number.", name=begun(one.called)))
        reading = read(typed, one.units[0], one.called)
        return _in_range(one, reading.value, one.units[0]), reading.notes
    items = _items(one, typed)
    if one.kind == "numbers":
        readings = [read(item, one.units[0], one.called) for item in items]
        values: Given = tuple(_in_range(one, reading.value, one.units[0]) for reading in readings)
    else:
        parted = [_pair(one, item) for item in items]
        readings = [reading for pair in parted for reading in pair]
        values = tuple(
            (_in_range(one, left.value, one.units[0]), _in_range(one, right.value, one.units[1]))
            for left, right in parted
        )
    return values, tuple(note for reading in readings for note in reading.notes)


def _items(one: Input, typed: Typed) -> list[str | float]:
    """The items of a list; a semicolon parts them where commas are decimal."""
    if isinstance(typed, str):
        items: list[str | float] = [*re.split(";" if ";" in typed else ",", typed)]
    else:
        items = [typed] if isinstance(typed, float | int) else [*typed]
    if any(isinstance(item, str) and not item.strip() for item in items) or not items:
        example = "0:12, 60:8" if one.kind == "pairs" else "18, 22, 20"
        raise BadInput(
            say(
                "{name} has an empty place; list them like {example}.",
                name=begun(one.called),
                example=example,
            )
        )
    return items


def _pair(one: Input, item: str | float | Sequence[float]) -> tuple[Reading, Reading]:
    parts: Sequence[str | float] = [item] if isinstance(item, float | int) else item
    if isinstance(item, str):
        parts = item.split(":")
    if len(parts) != 2:
        raise BadInput(
            say(
                "{name} has {item!r}; give pairs like 0:12, 60:8.",
                name=begun(one.called),
                item=item,
            )
        )
    first, second = one.units
    return read(parts[0], first, one.called), read(parts[1], second, one.called)


def _choice(one: Input, typed: Typed) -> str:
    word = typed.strip().lower() if isinstance(typed, str) else str(typed)
    by_lower = {known_word.lower(): known_word for known_word in one.choices}
    if word not in by_lower:
        raise UnknownName(
            say(
                "{name} {word!r} is not known;{hint} it is one of {choices}.",
                name=begun(one.called),
                word=word,
                hint=nearest(word, one.choices),
                choices=listed(one.choices),
            )
        )
    return by_lower[word]


def _in_range(one: Input, value: float, unit: str) -> float:
    unit = "" if unit == "1" else unit
    low = max(one.low, one.above)
    if not low <= value <= one.high:
        share = one.high == 1 and 1 < value <= 100
        hint = (
            say("Did you mean {share:g} or {percent:g} %?", share=value / 100, percent=value)
            if share
            else ""
        )
        raise OutOfRange(one.called, value, low, one.high, unit, hint)
    if value == one.above:
        limit = text(one.above, unit)
        raise BadInput(
            say(
                "{name} is {limit}; it must be more than {limit}.",
                name=begun(one.called),
                limit=limit,
            )
        )
    if one.whole and value != round(value):
        raise BadInput(
            say(
                "{name} has {value:g}; give whole numbers, as counted.",
                name=begun(one.called),
                value=value,
            )
        )
    return value


def nearest(word: str, among: Iterable[str]) -> str:
    """A question whether the nearest of these was meant; empty where none is near."""
    near = get_close_matches(word, [*among], n=1, cutoff=0.6)
    return say(" did you mean {near}?", near=near[0]) if near else ""
