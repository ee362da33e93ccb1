"""What people type and what models use: "18 US gal/min" in, 68.1 L/min out, and back to words."""

import math
import re
from dataclasses import dataclass
from functools import cache
from numbers import Real
from typing import TYPE_CHECKING, Any

from protoconch.errors import BadInput, WrongUnit
from protoconch.units.numerals import numeral
from protoconch.units.words import UnknownUnit, library_unit
from protoconch.words import Amount, Reader, begun, phrase, say
from protoconch.words.said import number_text

if TYPE_CHECKING:
    import pint

__all__ = ["Reading", "ends", "not_negative", "positive", "quantity", "read", "text"]

LARGEST = 1e30
LONGEST = 60
US_UNLESS_SAID = {
    "gallon": phrase("gallon"), "quart": phrase("quart"), "pint": phrase("pint"),
    "fluid_ounce": phrase("fluid ounce"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reading:
    """A value in the unit asked for, and how it was understood where there was a choice."""

    value: float
    notes: tuple[str, ...] = ()


def quantity(value: str | float, unit: str, name: str) -> float:
    """The number that was typed, in `unit`.

    value: a number, or a text such as "75 mm", "18 US gal/min", "1,5 L" or "3/4"; without a unit
        of its own it is in `unit`.
    unit: "L/min", "mm", "°C", "1" for a share or a number, "psu" for practical salinity,
        "% w/v" for the strength of a stock, "cells/mL" and so on.
    name: what the number is, in words, for the sentence that refuses it.
    Raises: BadInput where it is no finite number; WrongUnit where the unit is unknown or measures
        something else.
    """
    return read(value, unit, name).value


def read(value: str | float, unit: str, name: str) -> Reading:
    """As `quantity`, with a note where something typed can be meant in two ways."""
    called = begun(say(name))
    if isinstance(value, bool) or not isinstance(value, str | Real):
        raise BadInput(
            say(
                "{name} is {typed}; give a number, {example}.",
                name=called,
                typed=repr(value),
                example=_example(unit),
            )
        )
    if isinstance(value, Real):
        return Reading(_sound(_as_float(value), f"{value!r:.{LONGEST}}", called, unit))
    shown = f"'{value.strip()[:LONGEST]}'"
    if not value.strip():
        raise BadInput(
            say("{name} is empty; give a number, {example}.", name=called, example=_example(unit))
        )
    found = numeral(value) if len(value.strip()) <= LONGEST else None
    if found is None:
        raise BadInput(
            say(
                "{name} is {typed}, which is not a number; write {example}.",
                name=called,
                typed=shown,
                example=_example(unit),
            )
        )
    if re.match(r"[\d.,^+-]", found.rest):
        raise BadInput(
            say(
                "{name} is {typed}, which is not one number; write {example}.",
                name=called,
                typed=shown,
                example=_example(unit),
            )
        )
    notes: list[str] = []
    if found.chosen:
        notes.append(
            say(
                "{name}: {digits} is read as {number}, the comma parting thousands.",
                name=called,
                digits=found.chosen,
                number=f"{found.value:g}",
            )
        )
    number = found.value
    if found.rest:
        number, note = _converted(number, found.rest, unit, called)
        notes += [note] if note else []
    return Reading(_sound(number, shown, called, unit), tuple(notes))


def text(value: float, unit: str = "1", digits: int = 4) -> str:
    """A number for people: at least `digits` significant digits, thousands apart, and its unit.

    A reader who prefers other units reads it in those. Whole thousands are never cut: 29,891
    stays 29,891. From 1e15 on and under 1e-6 with a power of ten.
    """
    return Amount.of(value, unit, digits)


class _Low(Amount):
    """The lower end of a range whose upper end tells the unit."""

    __slots__ = ("high",)
    high: float

    def spoken(self, reader: Reader) -> str:
        """Without a unit, unless the upper end is read in another one."""
        value = self.value
        if reader.measured:
            value, unit = reader.measured(value, self.unit, self.digits)
            if unit != reader.measured(self.high, self.unit, self.digits)[1]:
                return super().spoken(reader)
        return reader.number(number_text(value, self.digits))

    def __reduce__(self) -> tuple[Any, ...]:
        """As its parts, for copies."""
        return (_low, (self.value, self.high, self.unit, self.digits))


def _low(value: float, high: float, unit: str, digits: int) -> _Low:
    made = _Low(number_text(value, digits))
    made.value, made.unit, made.digits, made.high = value, unit, digits, high
    return made


def ends(low: float, high: float, unit: str = "1", digits: int = 4) -> tuple[str, str]:
    """Both ends of a range for people, the second with the unit: "26" and "30 °C"."""
    return _low(low, high, unit, digits), text(high, unit, digits)


def positive(value: float, unit: str, name: str) -> float:
    """The value itself.

    Raises: BadInput unless it is finite and more than 0.
    """
    if not 0 < value < math.inf:
        raise BadInput(
            say(
                "{name} is {value}; it must be more than 0.",
                name=begun(say(name)),
                value=text(value, unit),
            )
        )
    return value


def not_negative(value: float, unit: str, name: str) -> float:
    """The value itself.

    Raises: BadInput unless it is finite and 0 or more.
    """
    if not 0 <= value < math.inf:
        raise BadInput(
            say(
                "{name} is {value}; it must be 0 or more.",
                name=begun(say(name)),
                value=text(value, unit),
            )
        )
    return value


def _as_float(value: Real) -> float:
    try:
        return float(value)
    except OverflowError:
        return math.inf


def _example(unit: str) -> str:
    if unit in ("1", ""):
        return say("for example 12")
    return say("for example 12 {unit}", unit=say(unit.removeprefix("/")))


def _sound(number: float, shown: str, called: str, unit: str) -> float:
    if not math.isfinite(number):
        raise BadInput(
            say(
                "{name} is {typed}, which is not finite; write {example}.",
                name=called,
                typed=shown,
                example=_example(unit),
            )
        )
    if abs(number) > LARGEST:
        raise BadInput(
            say(
                "{name} is {typed}, more than there is in any sea; write {example}.",
                name=called,
                typed=shown,
                example=_example(unit),
            )
        )
    return number


def _converted(number: float, typed: str, unit: str, called: str) -> tuple[float, str]:
    """The number in `unit`, and a note where the unit typed can be meant in two ways."""
    asked = library_unit(unit)
    wanted = (
        say("give it without a unit")
        if unit in ("1", "")
        else say("give it in {unit}", unit=say(unit))
    )
    try:
        given = library_unit(typed, asked)
    except UnknownUnit as unknown:
        hint = say(" Did you mean {near}?", near=unknown.near) if unknown.near else ""
        raise WrongUnit(
            say(
                "{name} is in '{typed}', and that unit is not known here; {wanted}.{hint}",
                name=called,
                typed=typed,
                wanted=wanted,
                hint=hint,
            )
        ) from None
    if given == asked:
        return number, _note(typed, given) if typed != unit else ""
    registry = _registry()
    here, there = registry.Quantity(number, given), registry.Quantity(1, asked)
    if here.dimensionality != there.dimensionality:
        raise WrongUnit(
            say(
                "{name} is in {typed}, which measures something else; {wanted}.",
                name=called,
                typed=typed,
                wanted=wanted,
            )
        )
    return float(here.to(asked).magnitude), _note(typed, given)


@cache
def _registry() -> "pint.UnitRegistry[Any]":
    import pint  # a third of a second: only where a unit was typed that is not the unit asked for

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry()
    registry.define("psu = [salinity]")
    return registry


def _note(typed: str, given: str) -> str:
    if typed.lower() == "ppm" and given == "milligram/liter":
        return say("ppm is read as mg/L.")
    country = re.search(r"\b(u\.?s\b|american|imp|u\.?k\b|british)", typed, re.IGNORECASE)
    for library_name, word in US_UNLESS_SAID.items():
        if not country and re.search(rf"\b{library_name}\b", given):
            return say(
                "A bare {unit} is read as the US {unit}; write 'imp' before an imperial one.",
                unit=say(word),
            )
    return ""
