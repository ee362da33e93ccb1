"""Entries about animals: from the egg mass to the release."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from protoconch.log.payloads.payload import Animals, Litres, Name, Payload, Share, Words
from protoconch.words import say

Length = Annotated[float, Field(gt=0, le=400)]
"""A shell length [mm]; larvae are 0.2 to 1.3 mm."""


class EggMassCollected(Payload):
    """A piece of a wild egg mass was taken; `mass` is the label it goes by."""

    mass: Name
    site: Words = ""
    depth_m: Annotated[float, Field(ge=0, le=200)] | None = None
    temperature_c: Annotated[float, Field(ge=-2, le=45)] | None = None
    share_taken: Share | None = None
    strand_m: Annotated[float, Field(gt=0, le=1000)] | None = None
    eggs: Animals | None = None
    permit: Words = ""


class IncubatorLoaded(Payload):
    """Pieces went into an incubator place; from here on they belong to a batch."""

    batch: Name
    masses: Annotated[tuple[Name, ...], Field(min_length=1, max_length=100)]
    eggs: Animals | None = None


class Hatched(Payload):
    """A batch hatched; veligers is the number drawn off, where it was counted."""

    batch: Name
    veligers: Animals | None = None


class Stocked(Payload):
    """Larvae of a batch went into the vessel of the entry."""

    batch: Name
    animals: Animals
    litres: Litres | None = None


class Counted(Payload):
    """Animals of the vessel were counted: in aliquots of its water, or all of them.

    aliquots: living animals in each; dead: the same for dead ones, where they were counted apart.
    litres: water in the vessel when the aliquots were taken.
    """

    aliquots: Annotated[tuple[Animals, ...], Field(max_length=200)] = ()
    dead: Annotated[tuple[Animals, ...], Field(max_length=200)] = ()
    aliquot_ml: Annotated[float, Field(gt=0, le=100_000)] | None = None
    litres: Litres | None = None
    animals: Animals | None = None

    @model_validator(mode="after")
    def _one_way(self) -> "Counted":
        if (self.animals is None) == (not self.aliquots):
            raise ValueError(
                say("A count is either a list of aliquots or the number of all animals.")
            )
        if self.aliquots and (self.aliquot_ml is None or self.litres is None):
            raise ValueError(
                say("Aliquots need their volume in mL and the water in the vessel in L.")
            )
        if self.dead and len(self.dead) != len(self.aliquots):
            raise ValueError(say("Give the dead of every aliquot or of none."))
        return self


class Measured(Payload):
    """Shell lengths of animals of the vessel [mm]: each of them, or their mean and spread."""

    lengths_mm: Annotated[tuple[Length, ...], Field(max_length=2000)] = ()
    mean_mm: Length | None = None
    sd_mm: Annotated[float, Field(ge=0, le=200)] | None = None
    animals: Animals | None = None

    @model_validator(mode="after")
    def _one_way(self) -> "Measured":
        if (self.mean_mm is None) == (not self.lengths_mm):
            raise ValueError(say("Give either the lengths one by one, or their mean."))
        return self


class CompetenceChecked(Payload):
    """So many larvae were looked at, and so many of them were ready to settle."""

    looked_at: Annotated[int, Field(ge=1, le=100_000)]
    competent: Annotated[int, Field(ge=0, le=100_000)]

    @model_validator(mode="after")
    def _part(self) -> "CompetenceChecked":
        if self.competent > self.looked_at:
            raise ValueError(say("More animals are ready than were looked at."))
        return self


class Thinned(Payload):
    """Animals were taken out of the vessel to give the others room; `kept` stay."""

    kept: Animals
    removed: Animals | None = None


class Moved(Payload):
    """Animals went from the vessel of the entry to others; animals None means all of them."""

    to: Annotated[tuple[Name, ...], Field(min_length=1, max_length=200)]
    animals: Animals | None = None


class Settled(Payload):
    """Animals counted as settled (metamorphosed) in the vessel, of those offered it."""

    animals: Animals
    offered: Animals | None = None


class SizeClass(Payload):
    """One heap of a grading: its shell lengths from and up to [mm], its number, where it goes."""

    from_mm: Annotated[float, Field(ge=0, le=400)]
    to_mm: Length
    animals: Animals
    to: Annotated[str, Field(max_length=80)] = ""


class Graded(Payload):
    """The animals of the vessel were sorted by size."""

    classes: Annotated[tuple[SizeClass, ...], Field(min_length=1, max_length=20)]


class Weighed(Payload):
    """So many animals together weigh so much."""

    animals: Annotated[int, Field(ge=1, le=1_000_000)]
    grams: Annotated[float, Field(gt=0, le=10_000_000)]


class Lost(Payload):
    """Animals died or went missing; animals None means all that the vessel held."""

    animals: Animals | None = None
    cause: Words = ""


class Released(Payload):
    """Animals left the hatchery for the sea or for a partner."""

    animals: Animals
    site: Words = ""
    mean_mm: Length | None = None
    permit: Words = ""
    purpose: Literal["release", "handed over", "kept as parents", "research"] = "release"
