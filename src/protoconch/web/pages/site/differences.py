"""What changed from one description to another, line by line."""

from difflib import unified_diff
from itertools import islice
from typing import NamedTuple


class Line(NamedTuple):
    """One line that was added or taken out. sign: "+" or "−"."""

    sign: str
    words: str


def differences(before: str, after: str) -> list[Line]:
    """The lines taken out of one text and added to make the other; blank ones are left out."""
    found = islice(unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm=""), 2, None)
    return [
        Line("+" if line[0] == "+" else "−", line[1:])
        for line in found
        if line[0] in "+-" and line[1:].strip()
    ]


def numbered_lines(text: str, wanted: dict[int, str]) -> list[tuple[int, str, str]]:
    """Line numbers with their text and what is wrong there. wanted: sentences by number."""
    lines = text.splitlines()
    return [
        (number, lines[number - 1] if 0 < number <= len(lines) else "", sentence)
        for number, sentence in sorted(wanted.items())
    ]
