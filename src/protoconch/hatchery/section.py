"""One table of a hatchery file, read value by value; what is wrong is noted and reading goes on."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cache
from importlib.resources import files
from math import pi
from typing import Any

from protoconch.errors import BadInput
from protoconch.sources.reading import load_values
from protoconch.sources.reading_lines import Path
from protoconch.sources.reading_toml import Document, did_you_mean, shown
from protoconch.sources.values import SourcedValue
from protoconch.units import quantity, text

YEARS = range(2000, 2101)
NO_DAY = date.min
"""Stands for a day that is missing or wrong, until the whole file is refused."""

SIDES = re.compile(r"([\d.,]+)\s*([^\d\sx×*.,]*)\s*[x×*]\s*([\d.,]+)\s*(\D*)")


@cache
def sensible() -> dict[str, SourcedValue]:
    """What makes sense in a hatchery file, by section and key, from limits.toml."""
    data = files("protoconch.hatchery").joinpath("limits.toml").read_text(encoding="utf-8")
    return load_values(data, "hatchery/limits.toml")


@dataclass(slots=True)
class Section:
    """A table of the file at `path`; `asked` gathers the keys that a reader looked for.

    absent: the file has no such table; that is one fault, and not one more for each of its keys.
    """

    document: Document
    path: Path
    table: dict[str, Any]
    absent: bool = False
    asked: set[str] = field(default_factory=set)

    @property
    def name(self) -> str:
        """The section's name as it stands in the file."""
        return ".".join(str(part) for part in self.path if isinstance(part, str))

    def has(self, key: str) -> bool:
        """Whether the key was given."""
        self.asked.add(key)
        return key in self.table

    def fault(self, key: str, sentence: str) -> None:
        """Note a fault at the line of that key."""
        if not self.absent:
            self.document.fault((*self.path, key), sentence)

    def words(self, key: str) -> str:
        """A text that must be there."""
        if not self.has(key):
            self.fault(key, f'{key} is missing in [{self.name}]; give it as {key} = "...".')
            return ""
        return self.document.words((*self.path, key), self.table[key], f"{self.name}: {key}") or ""

    def truth(self, key: str) -> bool:
        """Whether the key says true; not giving it says false."""
        if not self.has(key):
            return False
        if not isinstance(self.table[key], bool):
            self.fault(key, f"{key} must be true or false, not {shown(self.table[key])}.")
        return self.table[key] is True

    def measure(self, key: str) -> float:
        """A number in the unit that limits.toml gives for it; 0 with a fault where it is wrong."""
        limit = sensible()[f"{self.name}.{key}"]
        if not self.has(key):
            self.fault(
                key, f"{key} is missing in [{self.name}]; for example {key} = {_example(limit)}."
            )
            return 0.0
        number = self.amount((*self.path, key), self.table[key], limit)
        return 0.0 if number is None else number

    def whole(self, key: str) -> int:
        """A whole number within its limits; 0 with a fault where it is wrong."""
        number = self.measure(key)
        if number != int(number):
            what = sensible()[f"{self.name}.{key}"].conditions
            self.fault(key, f"{_capital(what)} must be a whole number, not {number:g}.")
        return int(number)

    def number(self, path: Path, typed: object, limit: SourcedValue) -> float | None:
        """What was typed, in the unit of its limits, or None with a fault."""
        if isinstance(typed, bool) or not isinstance(typed, str | int | float):
            self.document.fault(
                path,
                f"{_capital(limit.conditions)} must be a number, such as {_example(limit)}, "
                f"not {shown(typed)}.",
            )
            return None
        try:
            return quantity(_tame(typed), limit.unit, limit.conditions)
        except BadInput as error:
            self.document.fault(path, str(error))
            return None

    def amount(self, path: Path, typed: object, limit: SourcedValue) -> float | None:
        """What was typed, in the unit of its limits and inside them, or None with a fault."""
        number = self.number(path, typed, limit)
        low, high = limit.low or 0.0, limit.high or 0.0
        if number is None or low <= number <= high:
            return number
        self.document.fault(
            path,
            f"{_capital(limit.conditions)} is {_text(number, limit)}, outside "
            f"{text(low)} to {_text(high, limit)}{_slip(number, limit)}.",
        )
        return None

    def floor(self, unit_per_cm2: float) -> float:
        """The floor of one tank or tray: area, or size, or diameter; in the unit of its limits.

        unit_per_cm2: one square centimetre in that unit.
        """
        ways = [key for key in ("area", "size", "diameter") if self.has(key)]
        if len(ways) != 1:
            say = "is missing" if not ways else f"is given twice, by {' and '.join(ways)}"
            self.fault(
                ways[-1] if ways else "area",
                f"The floor {say} in [{self.name}]; give one of "
                'area = "0.36 m2", size = "60 x 60 cm" or diameter = "1.2 m".',
            )
            return 0.0
        if ways == ["area"]:
            return self.measure("area")
        way = ways[0]
        cm2 = self._sides() if way == "size" else self._round()
        if cm2 is None:
            return 0.0
        limit = sensible()[f"{self.name}.area"]
        return self.amount((*self.path, way), cm2 * unit_per_cm2, limit) or 0.0

    def _sides(self) -> float | None:
        typed = self.table["size"]
        match = SIDES.fullmatch(typed.strip()) if isinstance(typed, str) else None
        unit = (match[2] or match[4]).strip() if match else ""
        if match is None or not unit:
            self.fault("size", f'size must be two sides, as in "60 x 40 cm", not {shown(typed)}.')
            return None
        try:
            first = quantity(f"{match[1]} {unit}", "cm", "first side of size")
            second = quantity(f"{match[3]} {match[4].strip() or unit}", "cm", "second side of size")
        except BadInput as error:
            self.fault("size", str(error))
            return None
        return first * second

    def _round(self) -> float | None:
        typed = self.table["diameter"]
        if isinstance(typed, bool) or not isinstance(typed, str | int | float):
            self.fault("diameter", f'diameter must be as in "1.2 m", not {shown(typed)}.')
            return None
        try:
            diameter = quantity(_tame(typed), "cm", "diameter")
        except BadInput as error:
            self.fault("diameter", str(error))
            return None
        return pi / 4 * diameter * abs(diameter)

    def day(self, key: str) -> date:
        """A calendar day, or NO_DAY with a fault."""
        example = f"for example {key} = 2027-04-01"
        if not self.has(key):
            self.fault(key, f"{key} is missing in [{self.name}]; {example}.")
            return NO_DAY
        typed = self.table[key]
        found = typed if isinstance(typed, date) and not isinstance(typed, datetime) else None
        if isinstance(typed, str) and re.fullmatch(r"\d{4}-\d{2}-\d{2}", typed.strip()):
            try:
                found = date.fromisoformat(typed.strip())
            except ValueError:
                found = None
        if found is None:
            self.fault(
                key, f"{key} must be a day as year-month-day, {example}, not {shown(typed)}."
            )
        elif found.year not in YEARS:
            self.fault(
                key, f"{key} is in the year {found.year}, outside {YEARS[0]} to {YEARS[-1]}."
            )
            return NO_DAY
        return found or NO_DAY

    def close(self, also: Iterable[str] = ()) -> None:
        """Note a fault for each key that nobody looked for; `also`: keys that hints may offer."""
        known = sorted({*self.asked, *also})
        for key in self.table:
            if key not in self.asked:
                hint = did_you_mean(key, known) or f" It may hold {', '.join(known)}."
                self.fault(key, f"{key} is not known in [{self.name}].{hint}")


def _tame(typed: str | float) -> str | float:
    """A whole number beyond what a float holds becomes infinite, which is refused as such."""
    if isinstance(typed, int):
        return float(typed) if abs(typed) < 10**300 else float("inf")
    return typed


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _text(number: float, limit: SourcedValue) -> str:
    return text(number, limit.unit)


def _example(limit: SourcedValue) -> str:
    shown_value = text(limit.number).replace(",", "")
    return shown_value if limit.unit == "1" else f'"{shown_value} {limit.unit}"'


def _slip(number: float, limit: SourcedValue) -> str:
    """The likely slip behind an absurd number, as a question, or nothing."""
    low, high = limit.low or 0.0, limit.high or 0.0
    if limit.unit == "1" and high <= 1 < number <= 100:
        return f"; did you mean {number / 100:g}, which is {number:g} %"
    if limit.unit == "°C" and low <= number / 10 <= high:
        return f"; did you mean {number / 10:g} °C"
    return ""
