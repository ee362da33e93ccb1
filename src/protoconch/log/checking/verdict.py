"""What is said of an entry before it is kept, and what is known when it is said."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import Vessel
from protoconch.log.entry import Entry
from protoconch.log.state import Holding, State


@dataclass(frozen=True, slots=True)
class Verdict:
    """refused: why the entry cannot be true, each a sentence that says what would be right.

    unlikely: why somebody should be asked whether it is right; it may be kept if they say so.
    """

    refused: tuple[str, ...] = ()
    unlikely: tuple[str, ...] = ()


@dataclass(slots=True)
class Case:
    """One entry beside all that is known, and what was found against it so far."""

    entry: Entry
    state: State
    hatchery: Hatchery
    species: Species
    vessels: Mapping[str, Vessel]
    refused: list[str] = field(default_factory=list)
    unlikely: list[str] = field(default_factory=list)

    def refuse(self, sentence: str) -> None:
        """Note why it cannot be true."""
        self.refused.append(_begun(sentence))

    def ask(self, sentence: str) -> None:
        """Note why it is unlikely."""
        self.unlikely.append(_begun(sentence))

    @property
    def where(self) -> str:
        """The place of the entry."""
        return self.entry.where

    @property
    def holding(self) -> Holding | None:
        """The animals in the vessel of the entry."""
        return self.state.holdings.get(self.entry.where)

    @property
    def size(self) -> float:
        """Size of the vessel in its unit, 0 where it is not known."""
        vessel = self.vessels.get(self.entry.where)
        return vessel.size if vessel is not None else 0.0

    @property
    def kind_of_vessel(self) -> str:
        """Kind of the vessel of the entry, empty where there is none."""
        vessel = self.vessels.get(self.entry.where)
        return vessel.kind if vessel is not None else ""


def _begun(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]
