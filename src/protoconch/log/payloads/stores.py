"""Entries about what is kept in jars, boxes and the cold."""

from datetime import date
from typing import Annotated

from pydantic import Field

from protoconch.log.payloads.payload import Name, Payload, Words

Amount = Annotated[float, Field(gt=0, le=10_000_000)]


class Received(Payload):
    """Something came in and was put away."""

    item: Name
    amount: Amount
    unit: Name
    expires: date | None = None
    lot: Words = ""
    cost: Annotated[float, Field(ge=0, le=100_000_000)] | None = None


class Used(Payload):
    """Something was taken out and used, or thrown away."""

    item: Name
    amount: Amount
    unit: Name
