"""A trade number with all that is needed to believe it."""

from dataclasses import dataclass
from typing import Literal

from protoconch.errors import MissingNumber
from protoconch.words import say

Confidence = Literal["read", "secondary", "memory", "derived", "practice", "assumption", "own"]
"""How a number is known: read in the source; read where another quotes it; from memory of the
source; worked out from sourced numbers; common practice, no source; assumed by the program, no
source; the hatchery's own log."""

Shape = Literal["fixed", "pert", "lognormal", "beta"]
"""How belief is spread between low and high; pert is the default where low and high are given."""


@dataclass(frozen=True, slots=True)
class SourcedValue:
    """One number of the trade.

    name: dotted, as in its file, e.g. "veliger.survival".
    value, low, high: the planning value and the plausible range [unit]; value is None where no
        source gives one, and then `missing` says so and `borrowed_from` may name the species whose
        number stands in.
    unit: what the numbers are in; "1" for a share or a ratio.
    conditions: temperature, density, food and the like under which the number holds.
    source: id in references.toml; place: table, page or how it was derived.
    shape: how belief is spread; beta: the two parameters where shape is "beta".
    """

    name: str
    value: float | None
    unit: str
    source: str
    confidence: Confidence
    low: float | None = None
    high: float | None = None
    conditions: str = ""
    place: str = ""
    shape: Shape = "fixed"
    beta: tuple[float, float] | None = None
    missing: str = ""
    borrowed_from: str = ""

    @property
    def number(self) -> float:
        """The planning value [unit].

        Raises: MissingNumber, where no source gives one and nothing stands in.
        """
        if self.value is None:
            raise MissingNumber(
                say("{name} is not known: {missing}", name=self.name, missing=self.missing)
            )
        return self.value
