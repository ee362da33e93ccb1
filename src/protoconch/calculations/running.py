"""A calculation run on what was typed: every input read, every problem told, the answer."""

import importlib
import math
import pkgutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from protoconch.calculations.declaration import Calculation, Found, Given, Input, Needed
from protoconch.calculations.typed import Typed, nearest, read_input
from protoconch.errors import BadInput, MissingInput, UnknownName
from protoconch.words import joined, listed, say

NO_ANSWER = say("The inputs lead to no finite answer; check their sizes and their units.")


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
        near = nearest(name, known())
        raise UnknownName(
            say(
                "There is no calculation {name};{hint} there are {names}.",
                name=name,
                hint=near,
                names=listed([*known()]),
            )
        )
    return known()[name]


def run(name: str, typed: Mapping[str, Typed]) -> Answer:
    """The answer of a calculation to what was typed for its inputs.

    typed: by key, a text with or without a unit, a number, or a list of these.
    Raises: UnknownName, MissingInput, WrongUnit, OutOfRange or BadInput; several problems come
        together as one BadInput.
    """
    asked = calculation(name)
    inputs, notes = _inputs(asked, {key.replace("-", "_"): value for key, value in typed.items()})
    try:
        found = asked.function(**inputs)
    except ArithmeticError:  # numbers so large or so small that a float cannot hold the answer
        raise BadInput(NO_ANSWER) from None
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
    notes: list[str] = []
    values: dict[str, Given] = {}
    keys = [one.key for one in asked.inputs]
    problems: list[BadInput] = [
        UnknownName(
            say(
                "There is no input {key};{hint} {name} takes {keys}.",
                key=key,
                hint=nearest(key, keys),
                name=asked.name,
                keys=listed(keys),
            )
        )
        for key in typed
        if key not in keys
    ]
    missing = []
    for one in asked.inputs:
        if one.key not in typed:
            if isinstance(one.default, Needed):
                missing.append(one)
            else:
                values[one.key] = one.default
            continue
        try:
            values[one.key], said = read_input(one, typed[one.key])
            notes.extend(said)
        except BadInput as problem:
            problems.append(problem)
    if missing:
        problems.append(MissingInput(_missing(asked, missing)))
    if len(problems) == 1:
        raise problems[0]
    if problems:
        raise BadInput(joined([problem.sentence for problem in problems]))
    return values, notes


def _plain(value: float | None) -> float | None:
    if value is None:
        return None
    if not math.isfinite(value):
        raise BadInput(NO_ANSWER)
    return value if isinstance(value, int) else float(value)


def _missing(asked: Calculation, missing: Sequence[Input]) -> str:
    described = [
        say("{key} ({unit})", key=one.key, unit=listed([say(unit) for unit in one.units]))
        if one.units[0] not in ("", "1")
        else one.key
        for one in missing
    ]
    return say("{name} needs {inputs} as well.", name=asked.name, inputs=listed(described))
