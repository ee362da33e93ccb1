"""Texts that know how they were made."""

import math
from collections.abc import Mapping
from datetime import date, time
from typing import Any, Self

from protoconch.words.reader import ENGLISH, Reader, reader_now

HELD_AS_TEXT = (
    "__getitem__", "__len__", "capitalize", "casefold", "center", "encode", "expandtabs", "ljust",
    "lower", "lstrip", "partition", "removeprefix", "removesuffix", "replace", "rjust",
    "rpartition", "rsplit", "rstrip", "split", "splitlines", "strip", "title", "translate",
    "upper",
)  # fmt: skip
"""What a text does with itself: done with the words that the reader of now reads."""


class Spoken(str):
    """A text that reads in the words of whoever reads it.

    As bytes, compared or as a key it is the English; `str`, `format` and what cuts or changes it
    work with the reader's words. str.join takes the English: use `joined`.
    """

    __slots__ = ()

    def spoken(self, reader: Reader) -> str:
        """The text in a reader's words, as a plain string."""
        raise NotImplementedError

    @property
    def english(self) -> str:
        """The text as it was written, a plain string."""
        return str.__str__(self)

    def __str__(self) -> str:
        """The text in the words of the reader of now."""
        reader = reader_now()
        return self.english if reader.english else self.spoken(reader)

    def __format__(self, form: str) -> str:
        """As `str`, laid out."""
        return format(str(self), form)

    def __add__(self, after: str) -> "Said":
        """Both texts, one after the other."""
        return say("{first}{after}", first=self, after=after)

    def __radd__(self, before: str) -> "Said":
        """Both texts, one after the other."""
        return say("{before}{last}", before=before, last=self)


def _of_words(name: str) -> Any:
    done = getattr(str, name)

    def of_words(self: Spoken, *given: Any, **named: Any) -> Any:
        return done(str(self), *given, **named)

    of_words.__name__ = name
    return of_words


for _name in HELD_AS_TEXT:
    setattr(Spoken, _name, _of_words(_name))


class Said(Spoken):
    """A template with the values in its holes."""

    __slots__ = ("many", "number", "template", "values")
    template: str
    values: Mapping[str, Any]
    many: str
    number: float | None

    @classmethod
    def of(
        cls, template: str, values: Mapping[str, Any], many: str = "", number: float | None = None
    ) -> Self:
        """A template with its values; `many` where number is given, and it is not 1."""
        chosen = many if number is not None and number != 1 else template
        made = cls(_filled(chosen, values, ENGLISH))
        made.template, made.values, made.many, made.number = template, values, many, number
        return made

    def spoken(self, reader: Reader) -> str:
        """The text in a reader's words."""
        if self.number is not None:
            template = reader.counted(self.template, self.many, self.number)
        else:
            template = reader.translated(self.template)
        return _filled(template, self.values, reader)

    def __reduce__(self) -> tuple[Any, ...]:
        """As its parts, for copies."""
        return (Said.of, (self.template, self.values, self.many, self.number))


class Amount(Spoken):
    """A number and its unit."""

    __slots__ = ("digits", "unit", "value")
    value: float
    unit: str
    digits: int

    @classmethod
    def of(cls, value: float, unit: str, digits: int) -> Self:
        """An amount to at least so many digits."""
        made = cls(_amount(value, unit, digits))
        made.value, made.unit, made.digits = value, unit, digits
        return made

    def spoken(self, reader: Reader) -> str:
        """The amount in the units and with the marks of a reader."""
        value, unit = self.value, self.unit
        if reader.measured:
            value, unit = reader.measured(value, unit, self.digits)
        unit = reader.translated(unit) if unit else unit
        return reader.number(number_text(value, self.digits)) + _unit_shown(unit)

    def __reduce__(self) -> tuple[Any, ...]:
        """As its parts, for copies."""
        return (Amount.of, (self.value, self.unit, self.digits))


def say(template: str, /, **values: Any) -> Said:
    """A text for people: a template with a name in braces for each value.

    values: numbers, texts, said texts, days (`{day:%d %B}`); formats stand in the template.
    What is said already stays as it is.
    A text that is said already, with no values, stays what it is.
    """
    if isinstance(template, Spoken) and not values:
        return template if isinstance(template, Said) else Said.of("{text}", {"text": template})
    if isinstance(template, Said) and not values:
        return template
    return Said.of(template, values)


def counted(number: float, one: str, many: str, /, **values: Any) -> Said:
    """A text that hangs on a number: "{number} tank", "{number} tanks".

    `number` is among the values; another format is written "{number:,}".
    """
    return Said.of(one, {"number": number, **values}, many, number)


def phrase(template: str) -> str:
    """A template that is filled elsewhere: marked for those who translate, otherwise as it is."""
    return template


def english(text: str) -> str:
    """A text as it was written, whoever reads now: to compare, to cut, to look something up."""
    return text.english if isinstance(text, Spoken) else text


def number_text(value: float, digits: int = 4) -> str:
    """A number with at least `digits` significant digits and its thousands apart.

    Whole thousands are never cut: 29,891 stays 29,891. From 1e15 on and under 1e-6 with a power
    of ten.
    """
    size = abs(value)
    if size and not 1e-6 <= size < 1e15:
        return f"{value:.{digits - 1}e}"
    places = 0
    if size:
        places = max(0, digits - 1 - math.floor(math.log10(size)))
    number = f"{value:,.{places}f}"
    return number.rstrip("0").rstrip(".") if "." in number else number


def _unit_shown(unit: str) -> str:
    return "" if unit in ("1", "") else f" {unit}"


def _amount(value: float, unit: str, digits: int) -> str:
    return number_text(value, digits) + _unit_shown(unit)


def _filled(template: str, values: Mapping[str, Any], reader: Reader) -> str:
    if not values:
        return template
    return template.format(**{name: _told(value, reader) for name, value in values.items()})


def _told(value: Any, reader: Reader) -> Any:
    if isinstance(value, Spoken):
        return value.english if reader.english else value.spoken(reader)
    if reader.english or isinstance(value, str | bool):
        return value
    if isinstance(value, int | float):
        return _Number(value, reader)
    if isinstance(value, date | time):
        return _Moment(value, reader)
    return value


class _Number:
    """A number that is written with a reader's marks, in any format."""

    def __init__(self, value: float, reader: Reader) -> None:
        self.value, self.reader = value, reader

    def __format__(self, form: str) -> str:
        return self.reader.number(format(self.value, form))

    def __str__(self) -> str:
        return self.reader.number(str(self.value))

    __repr__ = __str__


class _Moment:
    """A day or time that is written with a reader's names."""

    def __init__(self, value: date | time, reader: Reader) -> None:
        self.value, self.reader = value, reader

    def __format__(self, form: str) -> str:
        return self.reader.moment(self.value, form) if form else str(self.value)

    def __str__(self) -> str:
        return str(self.value)
