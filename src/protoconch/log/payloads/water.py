"""Entries about water and what moves and cleans it."""

from typing import Annotated, Literal

from pydantic import Field

from protoconch.log.payloads.payload import Litres, Payload, Words
from protoconch.words import phrase

QUANTITIES: dict[str, tuple[str, float, float]] = {
    phrase("temperature"): ("°C", -2.0, 45.0),
    phrase("salinity"): ("1", 0.0, 60.0),
    phrase("oxygen"): ("mg/L", 0.0, 30.0),
    phrase("pH"): ("1", 4.0, 11.0),
    phrase("ammonia as nitrogen"): ("mg/L", 0.0, 100.0),
    phrase("nitrite as nitrogen"): ("mg/L", 0.0, 100.0),
    phrase("nitrate as nitrogen"): ("mg/L", 0.0, 1000.0),
    phrase("alkalinity"): ("mmol/L", 0.0, 10.0),
    phrase("carbon dioxide"): ("mg/L", 0.0, 500.0),
    phrase("chlorine"): ("mg/L", 0.0, 200.0),
    phrase("turbidity"): ("NTU", 0.0, 1000.0),
    phrase("flow"): ("L/min", 0.0, 100_000.0),
    phrase("pressure before"): ("kPa", -100.0, 2000.0),
    phrase("pressure after"): ("kPa", -100.0, 2000.0),
    phrase("level"): ("L", 0.0, 10_000_000.0),
    phrase("UV intensity"): (phrase("percent"), 0.0, 200.0),
    phrase("light"): ("µmol/(m² s)", 0.0, 3000.0),
}
"""What can be read: its unit, and the bounds outside of which no instrument shows a number."""

Quantity = Literal[
    "temperature", "salinity", "oxygen", "pH", "ammonia as nitrogen", "nitrite as nitrogen",
    "nitrate as nitrogen", "alkalinity", "carbon dioxide", "chlorine", "turbidity", "flow",
    "pressure before", "pressure after", "level", "UV intensity", "light",
]  # fmt: skip


class Pumped(Payload):
    """Seawater was brought into the reservoir of the entry; source: where it came from."""

    litres: Litres
    source: Words = ""
    minutes: Annotated[float, Field(gt=0, le=100_000)] | None = None


class Drawn(Payload):
    """Water was taken from the reservoir of the entry, other than by a change of water."""

    litres: Litres
    purpose: Words = ""


class Read(Payload):
    """A probe or a test kit was read; the unit is that of QUANTITIES."""

    quantity: Quantity
    value: Annotated[float, Field(ge=-1000, le=10_000_000)]
    instrument: Words = ""


class CartridgeChanged(Payload):
    """A fresh cartridge went into the housing of the entry."""

    rating_um: Annotated[float, Field(gt=0, le=1000)] | None = None
    reused: bool = False


class LampChanged(Payload):
    """A fresh lamp went into the UV unit of the entry."""

    hours_of_old: Annotated[float, Field(ge=0, le=200_000)] | None = None
