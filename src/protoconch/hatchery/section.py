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
from protoconch.units import ends, quantity, text
from protoconch.words import begun, listed, phrase, say

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
            self.fault(
                key,
                say(
                    '{key} is missing in [{name}]; give it as {key} = "...".',
                    key=key,
                    name=self.name,
                ),
            )
            return ""
        return self.document.words((*self.path, key), self.table[key], f"{self.name}: {key}") or ""

    def truth(self, key: str) -> bool:
        """Whether the key says true; not giving it says false."""
        if not self.has(key):
            return False
        if not isinstance(self.table[key], bool):
            self.fault(
                key,
                say(
                    "{key} must be true or false, not {typed}.",
                    key=key,
                    typed=shown(self.table[key]),
                ),
            )
        return self.table[key] is True

    def measure(self, key: str) -> float:
        """A number in the unit that limits.toml gives for it; 0 with a fault where it is wrong."""
        limit = sensible()[f"{self.name}.{key}"]
        if not self.has(key):
            self.fault(
                key,
                say(
                    "{key} is missing in [{name}]; for example {key} = {example}.",
                    key=key,
                    name=self.name,
                    example=_example(limit),
                ),
            )
            return 0.0
        number = self.amount((*self.path, key), self.table[key], limit)
        return 0.0 if number is None else number

    def whole(self, key: str) -> int:
        """A whole number within its limits; 0 with a fault where it is wrong."""
        number = self.measure(key)
        if number != int(number):
            what = sensible()[f"{self.name}.{key}"].conditions
            self.fault(
                key,
                say(
                    "{name} must be a whole number, not {number:g}.",
                    name=_capital(what),
                    number=number,
                ),
            )
        return int(number)

    def number(self, path: Path, typed: object, limit: SourcedValue) -> float | None:
        """What was typed, in the unit of its limits, or None with a fault."""
        if isinstance(typed, bool) or not isinstance(typed, str | int | float):
            self.document.fault(
                path,
                say(
                    "{name} must be a number, such as {example}, not {typed}.",
                    name=_capital(limit.conditions),
                    example=_example(limit),
                    typed=shown(typed),
                ),
            )
            return None
        try:
            return quantity(_tame(typed), limit.unit, say(limit.conditions))
        except BadInput as error:
            self.document.fault(path, error.sentence)
            return None

    def amount(self, path: Path, typed: object, limit: SourcedValue) -> float | None:
        """What was typed, in the unit of its limits and inside them, or None with a fault."""
        number = self.number(path, typed, limit)
        low, high = limit.low or 0.0, limit.high or 0.0
        if number is None or low <= number <= high:
            return number
        low_text, high_text = ends(low, high, limit.unit)
        self.document.fault(
            path,
            say(
                "{name} is {value}, outside {low} to {high}{slip}.",
                name=_capital(limit.conditions),
                value=_text(number, limit),
                low=low_text,
                high=high_text,
                slip=_slip(number, limit),
            ),
        )
        return None

    def floor(self, unit_per_cm2: float) -> float:
        """The floor of one tank or tray: area, or size, or diameter; in the unit of its limits.

        unit_per_cm2: one square centimetre in that unit.
        """
        ways = [key for key in ("area", "size", "diameter") if self.has(key)]
        if len(ways) != 1:
            ask = phrase(
                'The floor is missing in [{name}]; give one of area = "0.36 m2",'
                ' size = "60 x 60 cm" or diameter = "1.2 m".'
            )
            if ways:
                ask = phrase(
                    "The floor is given twice, by {ways} in [{name}]; give one of"
                    ' area = "0.36 m2", size = "60 x 60 cm" or diameter = "1.2 m".'
                )
            self.fault(
                ways[-1] if ways else "area",
                say(ask, ways=listed(ways), name=self.name),
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
            self.fault(
                "size",
                say('size must be two sides, as in "60 x 40 cm", not {typed}.', typed=shown(typed)),
            )
            return None
        try:
            first = quantity(f"{match[1]} {unit}", "cm", say("first side of size"))
            second = quantity(
                f"{match[3]} {match[4].strip() or unit}", "cm", say("second side of size")
            )
        except BadInput as error:
            self.fault("size", error.sentence)
            return None
        return first * second

    def _round(self) -> float | None:
        typed = self.table["diameter"]
        if isinstance(typed, bool) or not isinstance(typed, str | int | float):
            self.fault(
                "diameter", say('diameter must be as in "1.2 m", not {typed}.', typed=shown(typed))
            )
            return None
        try:
            diameter = quantity(_tame(typed), "cm", "diameter")
        except BadInput as error:
            self.fault("diameter", error.sentence)
            return None
        return pi / 4 * diameter * abs(diameter)

    def day(self, key: str) -> date:
        """A calendar day, or NO_DAY with a fault."""
        example = say("for example {key} = 2027-04-01", key=key)
        if not self.has(key):
            self.fault(
                key,
                say(
                    "{key} is missing in [{name}]; {example}.",
                    key=key,
                    name=self.name,
                    example=example,
                ),
            )
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
                key,
                say(
                    "{key} must be a day as year-month-day, {example}, not {typed}.",
                    key=key,
                    example=example,
                    typed=shown(typed),
                ),
            )
        elif found.year not in YEARS:
            self.fault(
                key,
                say(
                    "{key} is in the year {year}, outside {first} to {last}.",
                    key=key,
                    year=found.year,
                    first=YEARS[0],
                    last=YEARS[-1],
                ),
            )
            return NO_DAY
        return found or NO_DAY

    def close(self, also: Iterable[str] = ()) -> None:
        """Note a fault for each key that nobody looked for; `also`: keys that hints may offer."""
        known = sorted({*self.asked, *also})
        for key in self.table:
            if key not in self.asked:
                hint = did_you_mean(key, known) or say(
                    " It may hold {known}.", known=", ".join(known)
                )
                self.fault(
                    key,
                    say(
                        "{key} is not known in [{name}].{hint}", key=key, name=self.name, hint=hint
                    ),
                )


def _tame(typed: str | float) -> str | float:
    """A whole number beyond what a float holds becomes infinite, which is refused as such."""
    if isinstance(typed, int):
        return float(typed) if abs(typed) < 10**300 else float("inf")
    return typed


def _capital(words: str) -> str:
    return begun(say(words))


def _text(number: float, limit: SourcedValue) -> str:
    return text(number, limit.unit)


def _example(limit: SourcedValue) -> str:
    shown_value = text(limit.number).replace(",", "")
    return shown_value if limit.unit == "1" else f'"{shown_value} {limit.unit}"'


def _slip(number: float, limit: SourcedValue) -> str:
    """The likely slip behind an absurd number, as a question, or nothing."""
    low, high = limit.low or 0.0, limit.high or 0.0
    if limit.unit == "1" and high <= 1 < number <= 100:
        return say(
            "; did you mean {share:g}, which is {percent:g} %", share=number / 100, percent=number
        )
    if limit.unit == "°C" and low <= number / 10 <= high:
        return say("; did you mean {number}", number=text(number / 10, "°C", 6))
    return ""
