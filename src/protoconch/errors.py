"""The mistakes a person can put right, each told in one sentence."""

from dataclasses import dataclass


class ProtoconchError(Exception):
    """A problem a person can put right; its text is a whole sentence that says how."""


class BadInput(ProtoconchError, ValueError):
    """A value that cannot be used as typed."""


class OutOfRange(BadInput):
    """A number outside the range in which a formula or a description makes sense."""

    def __init__(
        self, name: str, value: float, low: float, high: float, unit: str = "", hint: str = ""
    ) -> None:
        """Build the sentence from its parts, which stay readable as attributes."""
        self.name, self.value, self.low, self.high, self.unit = name, value, low, high, unit
        shown = f" {unit}" if unit else ""
        range_text = (
            f"below {low:g}{shown}, the least that makes sense"
            if high == float("inf")
            else f"outside {low:g} to {high:g}{shown}"
        )
        super().__init__(
            f"{name[:1].upper() + name[1:]} is {value:g}{shown}, {range_text}."
            + (f" {hint}" if hint else "")
        )


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
        lines = [f"{file}, line {p.line}: {p.sentence}" for p in self.problems]
        super().__init__("\n".join(lines))


class BrokenRecords(ProtoconchError):
    """A database or a backup that cannot be used as it is."""
