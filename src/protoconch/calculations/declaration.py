"""What a calculation says about itself: its name, its inputs, its results, its sources."""

import math
from collections.abc import Callable, Mapping
from dataclasses import KW_ONLY, dataclass, field
from enum import Enum
from functools import partial
from typing import Literal

from protoconch.words import phrase

UNITS = (
    phrase("animals"), phrase("animals/L"), phrase("cells"), phrase("cells/mL"), phrase("years"),
    phrase("per day"), phrase("per year"), phrase("% w/v"), phrase("in"),
)  # fmt: skip
"""The units with words in them."""

Pair = tuple[float, float]
Given = float | str | tuple[float, ...] | tuple[Pair, ...] | None
"""An input as a calculation receives it; None for one that was left out and may be."""


class Needed(Enum):
    """The default of an input that has none."""

    NEEDED = "needed"


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a calculation.

    key: as typed before the "=". unit: of a bare number; for pairs both, ("L/min", "m").
    sentence: what it is, a whole sentence.
    default: stands in where the input is left out; None arrives as None, and `default_says`
        tells people what the calculation does then.
    low, high: the range that makes sense, both ends allowed; above: it must be more than this.
    whole: a count, without a fraction. choices: the words allowed.
    """

    kind: Literal["number", "numbers", "pairs", "choice"]
    key: str
    unit: str | tuple[str, str]
    sentence: str
    _: KW_ONLY
    default: Given | Needed = Needed.NEEDED
    default_says: str = ""
    low: float = -math.inf
    high: float = math.inf
    above: float = -math.inf
    whole: bool = False
    choices: tuple[str, ...] = ()

    @property
    def called(self) -> str:
        """The input in words: "shell length"."""
        return self.key.replace("_", " ")

    @property
    def units(self) -> tuple[str, ...]:
        """The unit, or both units of a pair."""
        return (self.unit,) if isinstance(self.unit, str) else self.unit


number = partial(Input, "number")
"""An input that is one number: number(key, unit, sentence, ...)."""
numbers = partial(Input, "numbers")
"""An input that is a list of numbers, at least one: "18, 22, 20"."""
pairs = partial(Input, "pairs")
"""An input that is a list of pairs, "0:12, 60:8"; both numbers keep to the range."""


def choice(
    key: str,
    choices: tuple[str, ...],
    sentence: str,
    *,
    default: str | Needed | None = Needed.NEEDED,
    default_says: str = "",
) -> Input:
    """An input that is one of a few words."""
    return Input(
        "choice", key, "", sentence, choices=choices, default=default, default_says=default_says
    )


@dataclass(frozen=True, slots=True)
class Result:
    """One result: its key, its unit ("1" for a share or a number) and what it is, in a sentence."""

    key: str
    unit: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Found:
    """What a calculation found, where a plain mapping from key to value does not say all of it.

    values: by result key, None where a result does not exist. units: of keys that are not
    declared. cautions, sources: of this very answer, besides those of the calculation.
    """

    values: Mapping[str, float | None]
    units: Mapping[str, str] = field(default_factory=dict)
    cautions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Calculation:
    """A calculation that stands alone; the package's docstring shows one.

    name: as typed, words joined by "-". purpose: a whole sentence. function: takes one keyword
    argument for each input and returns the results by key. sources: what it rests on.
    cautions: said with every answer.
    """

    name: str
    purpose: str
    inputs: tuple[Input, ...]
    results: tuple[Result, ...]
    function: Callable[..., Mapping[str, float | None] | Mapping[str, float] | Found]
    sources: tuple[str, ...]
    cautions: tuple[str, ...] = ()
