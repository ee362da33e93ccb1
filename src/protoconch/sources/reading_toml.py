"""A TOML text taken in with its lines, and a place to gather all of its faults."""

import difflib
import math
import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from protoconch.errors import BadFile, Problem
from protoconch.sources.reading_lines import Lines, Path, lines_of
from protoconch.words import say

AT_LINE = re.compile(r" \(at line (\d+), column (\d+)\)")


@dataclass(slots=True)
class Document:
    """One file as read: its content, where everything stands, and the faults found so far.

    file: name to show to a person. content: as the TOML reader gives it.
    """

    file: str
    content: dict[str, Any]
    lines: Lines
    problems: list[Problem] = field(default_factory=list)

    def fault(self, path: Path, sentence: str) -> None:
        """Note a fault at the line of that path."""
        problem = Problem(self.lines.line(path), sentence)
        if problem not in self.problems:
            self.problems.append(problem)

    def finish(self) -> None:
        """End the checks.

        Raises: BadFile, with every fault noted, if there is one.
        """
        if self.problems:
            raise BadFile(self.file, tuple(self.problems))

    def number(self, path: Path, value: object, name: str) -> float | None:
        """A finite number, or None with a fault noted."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fault(
                path, say("{name} must be a number, not {shown}.", name=name, shown=shown(value))
            )
            return None
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
        if not math.isfinite(number):
            self.fault(
                path,
                say("{name} must be a finite number, not {shown}.", name=name, shown=shown(value)),
            )
            return None
        return number

    def words(self, path: Path, value: object, name: str) -> str | None:
        """A text with something in it, or None with a fault noted."""
        if not isinstance(value, str):
            self.fault(
                path,
                say("{name} must be text in quotes, not {shown}.", name=name, shown=shown(value)),
            )
            return None
        if not value.strip():
            self.fault(path, say("{name} is empty.", name=name))
            return None
        return value.strip()


def parse(text: str, file: str) -> Document:
    """The text as a document without faults yet.

    Raises: BadFile with the line, where the text is not TOML.
    """
    try:
        content = tomllib.loads(text)
    except RecursionError:
        raise BadFile(file, (Problem(1, say("Brackets are nested too deeply.")),)) from None
    except ValueError as error:
        raise BadFile(file, (_syntax(text, str(error)),)) from None
    return Document(file, content, lines_of(text))


def _syntax(text: str, message: str) -> Problem:
    where = AT_LINE.search(message)
    line = int(where[1]) if where else max(1, text.count("\n") + (not text.endswith("\n")))
    what = AT_LINE.sub("", message).replace(" (at end of document)", ", at the end of the file")
    place = where[2] if where else ""
    return Problem(
        line,
        say(
            "This is not valid TOML: {what}, at character {place}."
            if place
            else "This is not valid TOML: {what}.",
            what=what[:1].lower() + what[1:120],
            place=place,
        ),
    )


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A question that offers the nearest known word, with a space before it, or nothing."""
    near = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return say(" Did you mean {near}?", near=near[0]) if near else ""


def shown(value: object) -> str:
    """A value as a person would recognise it in the file, cut short."""
    if isinstance(value, dict):
        return say("a table")
    if isinstance(value, list):
        return say("a list")
    if isinstance(value, bool):
        return "true" if value else "false"
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= 40 else f"{text[:37]}..."
