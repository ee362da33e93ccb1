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
from protoconch.words import Amount, Reader
from protoconch.words.said import number_text

if TYPE_CHECKING:
    import pint

__all__ = ["Reading", "ends", "not_negative", "positive", "quantity", "read", "text"]

LARGEST = 1e30
LONGEST = 60
US_UNLESS_SAID = {
    "gallon": "gallon", "quart": "quart", "pint": "pint", "fluid_ounce": "fluid ounce",
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
    called = name[:1].upper() + name[1:]
    if isinstance(value, bool) or not isinstance(value, str | Real):
        raise BadInput(f"{called} is {value!r}; give a number, {_example(unit)}.")
    if isinstance(value, Real):
        return Reading(_sound(_as_float(value), f"{value!r:.{LONGEST}}", called, unit))
    shown = f"'{value.strip()[:LONGEST]}'"
    if not value.strip():
        raise BadInput(f"{called} is empty; give a number, {_example(unit)}.")
    found = numeral(value) if len(value.strip()) <= LONGEST else None
    if found is None:
        raise BadInput(f"{called} is {shown}, which is not a number; write {_example(unit)}.")
    if re.match(r"[\d.,^+-]", found.rest):
        raise BadInput(f"{called} is {shown}, which is not one number; write {_example(unit)}.")
    notes = [f"{called}: {found.remark}, the comma parting thousands."] if found.remark else []
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
            f"{name[:1].upper() + name[1:]} is {text(value, unit)}; it must be more than 0."
        )
    return value


def not_negative(value: float, unit: str, name: str) -> float:
    """The value itself.

    Raises: BadInput unless it is finite and 0 or more.
    """
    if not 0 <= value < math.inf:
        raise BadInput(
            f"{name[:1].upper() + name[1:]} is {text(value, unit)}; it must be 0 or more."
        )
    return value


def _as_float(value: Real) -> float:
    try:
        return float(value)
    except OverflowError:
        return math.inf


def _example(unit: str) -> str:
    return "for example 12" if unit in ("1", "") else f"for example 12 {unit.removeprefix('/')}"


def _sound(number: float, shown: str, called: str, unit: str) -> float:
    if not math.isfinite(number):
        raise BadInput(f"{called} is {shown}, which is not finite; write {_example(unit)}.")
    if abs(number) > LARGEST:
        raise BadInput(
            f"{called} is {shown}, more than there is in any sea; write {_example(unit)}."
        )
    return number


def _converted(number: float, typed: str, unit: str, called: str) -> tuple[float, str]:
    """The number in `unit`, and a note where the unit typed can be meant in two ways."""
    asked = library_unit(unit)
    wanted = "give it without a unit" if unit in ("1", "") else f"give it in {unit}"
    try:
        given = library_unit(typed, asked)
    except UnknownUnit as unknown:
        hint = f" Did you mean {unknown.near}?" if unknown.near else ""
        raise WrongUnit(
            f"{called} is in '{typed}', and that unit is not known here; {wanted}.{hint}"
        ) from None
    if given == asked:
        return number, _note(typed, given) if typed != unit else ""
    registry = _registry()
    here, there = registry.Quantity(number, given), registry.Quantity(1, asked)
    if here.dimensionality != there.dimensionality:
        raise WrongUnit(f"{called} is in {typed}, which measures something else; {wanted}.")
    return float(here.to(asked).magnitude), _note(typed, given)


@cache
def _registry() -> "pint.UnitRegistry[Any]":
    import pint  # a third of a second: only where a unit was typed that is not the unit asked for

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry()
    registry.define("psu = [salinity]")
    return registry


def _note(typed: str, given: str) -> str:
    if typed.lower() == "ppm" and given == "milligram/liter":
        return "ppm is read as mg/L."
    country = re.search(r"\b(u\.?s\b|american|imp|u\.?k\b|british)", typed, re.IGNORECASE)
    for library_name, word in US_UNLESS_SAID.items():
        if not country and re.search(rf"\b{library_name}\b", given):
            return f"A bare {word} is read as the US {word}; write 'imp' before an imperial one."
    return ""
