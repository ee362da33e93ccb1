"""A calculation run on what was typed: every input read, every problem told, the answer."""

import importlib
import math
import pkgutil
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from protoconch.calculations.declaration import Calculation, Found, Given, Input, Needed
from protoconch.errors import BadInput, MissingInput, OutOfRange, UnknownName
from protoconch.units import quantity, read, text

Typed = str | float | Sequence[str | float]


@dataclass(frozen=True, slots=True)
class Answer:
    """What a calculation found.

    calculation: its name. result: by key, None where a result does not exist. units: by key.
    inputs: as used, in the units of the calculation. source: what it rests on.
    cautions: what to mind, and how inputs were read where there was a choice.
    """

    calculation: str
    result: dict[str, float | None]
    units: dict[str, str]
    inputs: dict[str, Given]
    source: tuple[str, ...]
    cautions: tuple[str, ...]


@cache
def known() -> dict[str, Calculation]:
    """Every calculation by name, in alphabetical order."""
    package = importlib.import_module("protoconch.calculations")
    found: dict[str, Calculation] = {}
    for module in pkgutil.iter_modules(package.__path__, "protoconch.calculations."):
        for one in getattr(importlib.import_module(module.name), "CALCULATIONS", ()):
            if one.name in found:
                raise ValueError(f"Two calculations are called {one.name}.")
            found[one.name] = one
    return dict(sorted(found.items()))


def calculation(name: str) -> Calculation:
    """The calculation of that name.

    Raises: UnknownName, with the nearest name.
    """
    if name not in known():
        near = _nearest(name, known())
        raise UnknownName(f"There is no calculation {name};{near} there are {_listed([*known()])}.")
    return known()[name]


def run(name: str, typed: Mapping[str, Typed]) -> Answer:
    """The answer of a calculation to what was typed for its inputs.

    typed: by key, a text with or without a unit, a number, or a list of these.
    Raises: UnknownName, MissingInput, WrongUnit, OutOfRange or BadInput; several problems come
        together as one BadInput.
    """
    asked = calculation(name)
    inputs, notes = _inputs(asked, {key.replace("-", "_"): value for key, value in typed.items()})
    found = asked.function(**inputs)
    if not isinstance(found, Found):
        found = Found(found)
    declared = {result.key: result.unit for result in asked.results}
    result = {key: _plain(value) for key, value in found.values.items()}
    return Answer(
        calculation=name,
        result=result,
        units={key: found.units.get(key) or declared[key] for key in result},
        inputs=inputs,
        source=asked.sources + found.sources,
        cautions=tuple(dict.fromkeys((*notes, *found.cautions, *asked.cautions))),
    )


def _inputs(asked: Calculation, typed: Mapping[str, Typed]) -> tuple[dict[str, Given], list[str]]:
    problems: list[BadInput] = []
    notes: list[str] = []
    values: dict[str, Given] = {}
    keys = [one.key for one in asked.inputs]
    for key in typed:
        if key not in keys:
            takes = f"{asked.name} takes {_listed(keys)}"
            problems.append(UnknownName(f"There is no input {key};{_nearest(key, keys)} {takes}."))
    missing = []
    for one in asked.inputs:
        if one.key not in typed:
            if isinstance(one.default, Needed):
                missing.append(one)
            else:
                values[one.key] = one.default
            continue
        try:
            values[one.key], said = _value(one, typed[one.key])
            notes.extend(said)
        except BadInput as problem:
            problems.append(problem)
    if missing:
        problems.append(MissingInput(_missing(asked, missing)))
    if len(problems) == 1:
        raise problems[0]
    if problems:
        raise BadInput(" ".join(str(problem) for problem in problems))
    return values, notes


def _value(one: Input, typed: Typed) -> tuple[Given, tuple[str, ...]]:
    """The value of one input, and notes on how it was read."""
    if one.kind == "choice":
        return _choice(one, typed), ()
    if one.kind == "number":
        if not isinstance(typed, str | float | int):
            raise BadInput(f"{_capital(one.called)} is a list; give one number.")
        reading = read(typed, one.units[0], one.called)
        return _in_range(one, reading.value), reading.notes
    if one.kind == "numbers":
        readings = [read(item, one.units[0], one.called) for item in _items(one, typed)]
        values = tuple(_in_range(one, reading.value) for reading in readings)
        return values, tuple(note for reading in readings for note in reading.notes)
    return tuple(_pair(one, item) for item in _items(one, typed)), ()


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


def _pair(one: Input, item: str | float | Sequence[float]) -> tuple[float, float]:
    parts: Sequence[str | float] = [item] if isinstance(item, float | int) else item
    if isinstance(item, str):
        parts = item.split(":")
    if len(parts) != 2:
        raise BadInput(f"{_capital(one.called)} has {item!r}; give pairs like 0:12, 60:8.")
    first, second = (
        _in_range(one, quantity(part, unit, one.called))
        for part, unit in zip(parts, one.units, strict=True)
    )
    return first, second


def _choice(one: Input, typed: Typed) -> str:
    word = typed.strip().lower() if isinstance(typed, str) else str(typed)
    by_lower = {known_word.lower(): known_word for known_word in one.choices}
    if word not in by_lower:
        raise UnknownName(
            f"{_capital(one.called)} {word!r} is not known;{_nearest(word, one.choices)}"
            f" it is one of {_listed(one.choices)}."
        )
    return by_lower[word]


def _in_range(one: Input, value: float) -> float:
    unit = "" if one.units[0] in {"1", ""} else one.units[0]
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


def _plain(value: float | None) -> float | None:
    if value is None:
        return None
    if not math.isfinite(value):
        raise BadInput(f"The inputs lead to {value}, which is no answer; check their units.")
    return value if isinstance(value, int) else float(value)


def _missing(asked: Calculation, missing: Sequence[Input]) -> str:
    described = [
        f"{one.key} ({' and '.join(one.units)})" if one.units[0] not in ("", "1") else one.key
        for one in missing
    ]
    return f"{asked.name} needs {_listed(described)} as well."


def _nearest(word: str, among: Sequence[str] | Mapping[str, object]) -> str:
    near = get_close_matches(word, list(among), n=1, cutoff=0.6)
    return f" did you mean {near[0]}?" if near else ""


def _listed(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
