"""One input of a calculation, from what was typed to the value that the calculation receives."""

import re
from collections.abc import Iterable, Sequence
from difflib import get_close_matches

from protoconch.calculations.declaration import Given, Input
from protoconch.errors import BadInput, OutOfRange, UnknownName
from protoconch.units import Reading, read, text

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
            raise BadInput(f"{_capital(one.called)} is a list; give one number.")
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
        raise BadInput(f"{_capital(one.called)} has an empty place; list them like {example}.")
    return items


def _pair(one: Input, item: str | float | Sequence[float]) -> tuple[Reading, Reading]:
    parts: Sequence[str | float] = [item] if isinstance(item, float | int) else item
    if isinstance(item, str):
        parts = item.split(":")
    if len(parts) != 2:
        raise BadInput(f"{_capital(one.called)} has {item!r}; give pairs like 0:12, 60:8.")
    first, second = one.units
    return read(parts[0], first, one.called), read(parts[1], second, one.called)


def _choice(one: Input, typed: Typed) -> str:
    word = typed.strip().lower() if isinstance(typed, str) else str(typed)
    by_lower = {known_word.lower(): known_word for known_word in one.choices}
    if word not in by_lower:
        raise UnknownName(
            f"{_capital(one.called)} {word!r} is not known;{nearest(word, one.choices)}"
            f" it is one of {listed(one.choices)}."
        )
    return by_lower[word]


def _in_range(one: Input, value: float, unit: str) -> float:
    unit = "" if unit == "1" else unit
    low = max(one.low, one.above)
    if not low <= value <= one.high:
        share = one.high == 1 and 1 < value <= 100
        hint = f"Did you mean {value / 100:g} or {value:g} %?" if share else ""
        raise OutOfRange(one.called, value, low, one.high, unit, hint)
    if value == one.above:
        limit = text(one.above, unit)
        raise BadInput(f"{_capital(one.called)} is {limit}; it must be more than {limit}.")
    if one.whole and value != round(value):
        raise BadInput(f"{_capital(one.called)} has {value:g}; give whole numbers, as counted.")
    return value


def nearest(word: str, among: Iterable[str]) -> str:
    """A question whether the nearest of these was meant; empty where none is near."""
    near = get_close_matches(word, [*among], n=1, cutoff=0.6)
    return f" did you mean {near[0]}?" if near else ""


def listed(words: Sequence[str]) -> str:
    """Words in a row: "tank, wanted and culture"."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
