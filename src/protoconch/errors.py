"""The mistakes a person can put right, each told in one sentence."""

from dataclasses import dataclass
from math import inf

from protoconch.words import begun, joined, phrase, say

BELOW = phrase("{name} is {value:g} {unit}, below {low:g} {unit}, the least that makes sense.")
BELOW_BARE = phrase("{name} is {value:g}, below {low:g}, the least that makes sense.")
OUTSIDE = phrase("{name} is {value:g} {unit}, outside {low:g} to {high:g} {unit}.")
OUTSIDE_BARE = phrase("{name} is {value:g}, outside {low:g} to {high:g}.")


class ProtoconchError(Exception):
    """A problem a person can put right; its text is a whole sentence that says how."""

    @property
    def sentence(self) -> str:
        """The sentence as it was said, for whoever reads it later; `str` is for the reader now."""
        return self.args[0] if self.args and isinstance(self.args[0], str) else str(self)


class BadInput(ProtoconchError, ValueError):
    """A value that cannot be used as typed."""


class OutOfRange(BadInput):
    """A number outside the range in which a formula or a description makes sense."""

    def __init__(
        self, name: str, value: float, low: float, high: float, unit: str = "", hint: str = ""
    ) -> None:
        """Build the sentence from its parts, which stay readable as attributes.

        name, unit, hint: said texts, or phrases marked where they stand.
        """
        self.name, self.value, self.low, self.high, self.unit = name, value, low, high, unit
        if high == inf:
            template = BELOW if unit else BELOW_BARE
        else:
            template = OUTSIDE if unit else OUTSIDE_BARE
        told = say(
            template, name=begun(say(name)), value=value, low=low, high=high, unit=say(unit)
        )  # fmt: skip
        super().__init__(joined([told, say(hint)]) if hint else told)


class WrongUnit(BadInput):
    """A unit that is unknown or measures another kind of quantity."""


class MissingInput(BadInput):
    """A value that is needed and was not given."""


class UnknownName(BadInput):
    """A name that nothing here carries."""


class MissingNumber(ProtoconchError, LookupError):
    """A trade number that no source gives and that nothing may stand in for."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of a file: its line, and in a sentence what is wrong and what would be right."""

    line: int
    sentence: str


class BadFile(BadInput):
    """A file with one or more faults, all of them told at once."""

    def __init__(self, file: str, problems: "tuple[Problem, ...]") -> None:
        """Keep the faults in the order of the lines."""
        self.file = file
        self.problems = tuple(sorted(problems, key=lambda problem: problem.line))
        lines = [
            say("{file}, line {line}: {sentence}", file=file, line=p.line, sentence=p.sentence)
            for p in self.problems
        ]
        super().__init__(joined(lines, "\n"))


class BrokenRecords(ProtoconchError):
    """A database or a backup that cannot be used as it is."""
