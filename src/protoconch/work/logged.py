"""Numbers of the log as they stand in the working of an amount, with their day."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from protoconch.words import phrase, say
from protoconch.work.task import Given

THE_LOG = phrase("this hatchery's log")


@dataclass(frozen=True, slots=True)
class InVessel:
    """Animals of a batch in one vessel, by the log.

    alive: as last known; alive_on: the day of that; counted: whether they were counted then.
    length_mm: mean as last measured, None before. last_change: day of the last change of water.
    """

    alive: int
    alive_on: date
    counted: bool
    since: date
    length_mm: float | None = None
    length_on: date | None = None
    last_change: date | None = None


@dataclass(frozen=True, slots=True)
class CultureAtHand:
    """A culture that can be fed today: its vessel, species, what is left [L], cells per mL."""

    vessel: str
    species: str
    litres: float
    cells_per_ml: Given


def last_seen(did: str, on: date) -> str:
    """The source of a number that the log gives: "this hatchery's log, counted 14 July"."""
    if not did:
        return say("{log}, {day:%-d %B}", log=say(THE_LOG), day=on)
    return say("{log}, {did} {day:%-d %B}", log=say(THE_LOG), did=did, day=on)


def together(seen: Sequence[InVessel]) -> str:
    """The source of a number that several vessels give; told by the latest day."""
    last = max(seen, key=lambda there: there.alive_on)
    did = say("counted") if last.counted else ""
    return last_seen(did, last.alive_on)
