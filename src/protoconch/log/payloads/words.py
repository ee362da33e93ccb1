"""Entries that are words or pictures, and those that put another entry right."""

from typing import Annotated, Any
from uuid import UUID

from pydantic import AwareDatetime, Field, model_validator

from protoconch.log.payloads.payload import Name, Payload, Words
from protoconch.words import say


class Note(Payload):
    """Something worth keeping in words."""

    text: Annotated[str, Field(min_length=1, max_length=4000)]


class Photo(Payload):
    """A picture, kept by its name (a hash of its content); of: the entry it belongs to."""

    photo: Name
    caption: Words = ""
    of: UUID | None = None


class Correction(Payload):
    """Another entry was wrong: it is taken back, or these parts of it read otherwise.

    of: the entry that was wrong, which may itself be a correction; taking a correction back
    restores what it changed. payload: the whole payload as it should have been.
    """

    of: UUID
    withdraw: bool = False
    happened: AwareDatetime | None = None
    where: Annotated[str, Field(max_length=80)] | None = None
    payload: dict[str, Any] | None = None
    why: Words = ""

    @model_validator(mode="after")
    def _something(self) -> "Correction":
        changes = (self.happened, self.where, self.payload)
        if self.withdraw == any(part is not None for part in changes):
            raise ValueError(
                say("A correction either takes an entry back or says what it should read.")
            )
        return self


class Confirmed(Payload):
    """A person has looked at an entry that was unlikely or at odds with another, and says so.

    of: that entry; stands: whether it holds.
    """

    of: UUID
    stands: bool = True
    by_whom: Name | None = None
