"""Entries about algae cultures and their medium."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from protoconch.log.payloads.payload import Litres, Name, Payload, Words
from protoconch.words import say

Squares = Annotated[tuple[Annotated[int, Field(ge=0, le=100_000)], ...], Field(max_length=50)]


class Inoculated(Payload):
    """A culture was started in the vessel of the entry.

    inoculum_l from the vessel `source`, made up to litres with medium.
    """

    species: Name
    litres: Litres
    inoculum_l: Annotated[float, Field(ge=0, le=100_000)] | None = None
    source: Annotated[str, Field(max_length=80)] = ""
    medium: Words = ""


class Harvested(Payload):
    """Culture was drawn from the vessel; refilled_l: fresh medium added afterwards."""

    litres: Litres
    purpose: Literal["feed", "inoculum", "flocculate", "film"] = "feed"
    refilled_l: Annotated[float, Field(ge=0, le=100_000)] = 0.0


class CultureCounted(Payload):
    """Cells of a culture: counted in a chamber (each loading), or read as a density.

    chamber: its name on the bench. squares: looked at in each loading, None for the chamber's usual
    number. dilution: volume after dilution over volume before, 1 or more.
    found: what is in it that should not be.
    """

    cells_per_ml: Annotated[float, Field(ge=0, le=1e9)] | None = None
    chamber: Words = ""
    loadings: Squares = ()
    squares: Annotated[float, Field(gt=0, le=10_000)] | None = None
    dilution: Annotated[float, Field(ge=1, le=10_000)] = 1.0
    colour: Words = ""
    found: Literal["", "bacteria", "other algae", "ciliates", "rotifers", "unknown"] = ""

    @model_validator(mode="after")
    def _one_way(self) -> "CultureCounted":
        if (self.cells_per_ml is None) == (not self.loadings):
            raise ValueError(
                say("Give either the counts of the chamber's loadings, or cells per mL.")
            )
        if self.loadings and not self.chamber:
            raise ValueError(
                say("Say which chamber was used: its volume makes the count a density.")
            )
        return self


class CultureEnded(Payload):
    """A culture was thrown away or crashed; its vessel is dirty until cleaned."""

    reason: Literal["used up", "too old", "crashed", "contaminated", "not needed"]


class MediumMade(Payload):
    """Culture medium or sterile seawater was made."""

    medium: Name
    litres: Litres
    sterilised_by: Literal["", "heat", "chlorine", "filter and UV"] = ""
