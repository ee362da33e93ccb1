"""Months and weekdays as people write them: one, several, or from one to another."""

import re
from collections.abc import Iterable
from datetime import date

from protoconch.errors import UnknownName
from protoconch.sources.reading_toml import did_you_mean
from protoconch.words import day_text, phrase, say

MONTHS = {
    "en": "January February March April May June July August September October November December",
}
WEEKDAYS = {"en": "Monday Tuesday Wednesday Thursday Friday Saturday Sunday"}
"""Names by language, in order; a further language is a further entry."""

FROM_TO = re.compile(r"\s*(?:-|–|\bto\b|\bthrough\b)\s*", re.IGNORECASE)
LEAST_LETTERS = 3
"""A name may be cut to this many letters."""


def months(words: Iterable[str]) -> tuple[int, ...]:
    """Calendar months (1 to 12), in order and once each, from names, numbers and ranges.

    words: such as "April", "Apr to Sep", "11-2" or "4".
    Raises: UnknownName, naming the word.
    """
    return tuple(sorted({place + 1 for word in words for place in _places(word, MONTHS, "month")}))


def weekdays(word: str) -> tuple[int, ...]:
    """Weekdays (0 is Monday) from a name or a range, such as "monday-friday".

    Raises: UnknownName, naming the word.
    """
    return _places(word, WEEKDAYS, "weekday")


def _places(word: str, names: dict[str, str], kind: str) -> tuple[int, ...]:
    ends = FROM_TO.split(word.strip())
    if len(ends) > 2:
        said = {
            "month": phrase('"{word}" is not one range of months, such as {example}.'),
            "weekday": phrase('"{word}" is not one range of weekdays, such as {example}.'),
        }
        raise UnknownName(say(said[kind], word=word, example=_example(names)))
    first, last = (_place(end, names, kind) for end in (ends[0], ends[-1]))
    size = len(names["en"].split())
    return tuple((first + step) % size for step in range((last - first) % size + 1))


def _place(word: str, names: dict[str, str], kind: str) -> int:
    plain = word.strip().rstrip(".").casefold()
    listed = [text.casefold().split() for text in names.values()]
    if re.fullmatch(r"\d{1,2}", plain) and kind == "month" and 1 <= int(plain) <= len(listed[0]):
        return int(plain) - 1
    for language in listed:
        for place, name in enumerate(language):
            if plain == name or (len(plain) >= LEAST_LETTERS and name.startswith(plain)):
                return place
    known = [name for text in names.values() for name in text.split()]
    hint = did_you_mean(plain.capitalize(), known)
    said = {
        "month": phrase('"{word}" is not a month.{hint}'),
        "weekday": phrase('"{word}" is not a weekday.{hint}'),
    }
    raise UnknownName(say(said[kind], word=word.strip(), hint=hint))


def _example(names: dict[str, str]) -> str:
    first = names["en"].split()
    return f"{first[3]} to {first[5]}"


def month_text(month: int) -> str:
    """A month (1 to 12) in the reader's words."""
    return day_text(date(2000, month, 1), "%B")


def month_name(month: int) -> str:
    """The English name of a month (1 to 12)."""
    return MONTHS["en"].split()[month - 1]


def weekday_name(day: int) -> str:
    """The English name of a weekday (0 is Monday)."""
    return WEEKDAYS["en"].split()[day]
