"""What may stand in an entry at all: text that can be written, finite numbers, lists and maps."""

import math
import re
from collections.abc import Iterator, Mapping
from typing import Any

from protoconch.words import phrase, say

CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")
LARGEST = 10**15
DEEPEST, MOST_PARTS = 8, 20_000


def faults_of(value: Any, called: str) -> list[str]:
    """Why a value cannot be kept, each a sentence; empty where it can.

    value: as it came from JSON, a form or a table. called: what it is, to begin the sentences.
    """
    found: list[str] = []
    for parts, (depth, part) in enumerate(_parts(value)):
        if depth > DEEPEST or parts > MOST_PARTS:
            found.append(
                say(
                    "{called} holds more than an entry can: lists in lists, or too many parts.",
                    called=called,
                )
            )
            break
        fault = _fault(part)
        if fault:
            found.append(say(fault, called=called))
    return list(dict.fromkeys(found))


def _fault(part: Any) -> str:
    if isinstance(part, str):
        bad = CONTROL.search(part)
        return (
            phrase("{called} holds a character that cannot be written; type it anew.")
            if bad
            else ""
        )
    if isinstance(part, bool) or part is None:
        return ""
    if isinstance(part, int) and abs(part) > LARGEST:
        return phrase("{called} holds a number that is larger than anything in a hatchery.")
    if isinstance(part, float) and not math.isfinite(part):
        return phrase("{called} holds a number that is not finite.")
    return ""


def _parts(value: Any) -> Iterator[tuple[int, Any]]:
    waiting: list[tuple[int, Any]] = [(0, value)]
    while waiting:
        depth, part = waiting.pop()
        yield depth, part
        if isinstance(part, Mapping):
            waiting += [(depth + 1, inner) for pair in part.items() for inner in pair]
        elif isinstance(part, list | tuple):
            waiting += [(depth + 1, inner) for inner in part]
