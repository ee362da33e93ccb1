"""What is said of an entry before it is kept, and what is known when it is said."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from typing import Protocol

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import Vessel
from protoconch.log.entry import Entry
from protoconch.log.state import (
    BatchState,
    Clumping,
    Culture,
    EggMass,
    Holding,
    Jar,
    Level,
)  # fmt: skip
from protoconch.words import begun


@dataclass(frozen=True, slots=True)
class Verdict:
    """refused: why the entry cannot be true, each a sentence that says what would be right.

    by_log: those of the refused that another log might allow. unlikely: why somebody should be
    asked whether it is right; it may be kept if they say so.
    """

    refused: tuple[str, ...] = ()
    unlikely: tuple[str, ...] = ()
    by_log: tuple[str, ...] = ()


class Known(Protocol):
    """What is known beside an entry: a state, or the open books of one."""

    @property
    def holdings(self) -> Mapping[str, Holding]:
        """Animals by vessel."""

    @property
    def batches(self) -> Mapping[str, BatchState]:
        """Batches by code."""

    @property
    def masses(self) -> Mapping[str, EggMass]:
        """Egg masses by label."""

    @property
    def cultures(self) -> Mapping[str, Culture]:
        """Cultures by vessel."""

    @property
    def levels(self) -> Mapping[str, Level]:
        """Water by reservoir."""

    @property
    def jars(self) -> Mapping[str, Jar]:
        """Stores by item."""

    @property
    def dirty(self) -> Collection[str]:
        """Vessels not cleaned since they were emptied."""

    @property
    def clumping(self) -> Clumping:
        """How the site's animals clump."""


@dataclass(slots=True)
class Case:
    """One entry beside all that is known, and what was found against it so far."""

    entry: Entry
    state: Known
    hatchery: Hatchery
    species: Species
    vessels: Mapping[str, Vessel]
    refused: list[str] = field(default_factory=list)
    unlikely: list[str] = field(default_factory=list)
    by_log: list[str] = field(default_factory=list)

    def refuse(self, sentence: str, *, by_log: bool = False) -> None:
        """Note why it cannot be true. by_log: it could be, if the log read otherwise."""
        self.refused.append(begun(sentence))
        if by_log:
            self.by_log.append(begun(sentence))

    def ask(self, sentence: str) -> None:
        """Note why it is unlikely."""
        self.unlikely.append(begun(sentence))

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
