"""Entries about the daily care of animals."""

from typing import Annotated

from pydantic import Field, model_validator

from protoconch.log.payloads.payload import Litres, Name, Payload, Share, Words
from protoconch.words import say


class WaterChanged(Payload):
    """The vessel's water was changed, all of it or a share; sieve_um: mesh that held the larvae."""

    share: Share = 1.0
    litres: Litres | None = None
    sieve_um: Annotated[float, Field(gt=0, le=5000)] | None = None


class Food(Payload):
    """One food of a feeding: litres of a culture at its density, or grams.

    food: the alga's or the feed's name. culture: the vessel it was drawn from.
    """

    food: Name
    culture: Annotated[str, Field(max_length=80)] = ""
    litres: Litres | None = None
    cells_per_ml: Annotated[float, Field(gt=0, le=1e9)] | None = None
    grams: Annotated[float, Field(gt=0, le=1_000_000)] | None = None

    @model_validator(mode="after")
    def _amount(self) -> "Food":
        if self.litres is None and self.grams is None:
            raise ValueError(say("Say how much of it was fed: in L or in g."))
        return self


class Fed(Payload):
    """The animals of the vessel were fed; left: share of the last food still there."""

    foods: Annotated[tuple[Food, ...], Field(min_length=1, max_length=12)]
    left: Share | None = None


class Cleaned(Payload):
    """Something was cleaned or disinfected."""

    with_what: Words = ""


class Done(Payload):
    """A piece of work was done that has no numbers of its own; work: its kind on the work list."""

    work: Name
    skipped: bool = False
    amount: Words = ""
