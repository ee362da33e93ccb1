"""The room as it was logged: which cultures can be used, from when to when, and which not."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil

from protoconch.algae.chain.description import Culture, Present, Room, Step
from protoconch.algae.chain.lines import (
    ML_PER_L,
    REFERENCE_C,
    growth_in_room_per_d,
    usual_and_peak_per_ml,
)
from protoconch.algae.growth import days_to_reach
from protoconch.algae.species import alga
from protoconch.errors import BadInput
from protoconch.units import not_negative
from protoconch.words import joined, say

POURED_LEAST = 0.8
"""Share of its volume that a culture must still have to be poured on; assumption."""
STANDING_LEAST = 0.5
"""Share of its usual density below which nothing is drawn; common practice, no source."""
NEVER_D = 1000
"""Days until a culture without cells is dense enough."""


@dataclass(frozen=True, slots=True)
class PresentCulture:
    """A culture as it was logged.

    species: key. kind, number: of its vessel. inoculated: the day. litres: in it now.
    per_ml, counted: the latest count [cells/mL] and its day, both None where it was never counted.
    lost, contaminated: found dead; something in it that may not be fed to larvae.
    """

    species: str
    kind: str
    number: int
    inoculated: date
    litres: float
    per_ml: float | None = None
    counted: date | None = None
    lost: bool = False
    contaminated: bool = False

    @property
    def vessel(self) -> tuple[str, int]:
        """Kind and number."""
        return self.kind, self.number


@dataclass(frozen=True, slots=True)
class LoggedRoom:
    """The room on a morning, day 0. notes: cultures to be emptied and why, each a sentence."""

    present: Present
    notes: tuple[str, ...]


def logged_room(
    room: Room, today: date, cultures: Sequence[PresentCulture], *,
    dirty: Sequence[tuple[str, int]] = (), missing: Sequence[tuple[str, int]] = (),
    temperature_c: float = REFERENCE_C,
) -> LoggedRoom:  # fmt: skip
    """What the log's cultures are worth to a schedule that begins today.

    dirty: vessels that were emptied and are not clean yet. missing: vessels out of use.
    temperature_c: of the room. A culture that was counted is ready when its count has grown to the
    usual density, at the growth rate of the species; one that was not, after the usual days.
    Raises: BadInput, with every culture that cannot be: no such vessel or line, two in one vessel,
        started or counted after today, or counted before it was started, or a number below 0.
    """
    faults = tuple(_faults(room, today, cultures, (*dirty, *missing)))
    if faults:
        raise BadInput(joined(faults))
    usable: list[Culture] = []
    notes: list[str] = []
    cleaning = {(kind, number): room.kind(kind).clean_days for kind, number in dirty}
    for logged in cultures:
        why = _unusable(room, today, logged, temperature_c)
        if why:
            notes.append(
                say(
                    "{vessel}, {species}: {why}.",
                    vessel=f"{logged.kind} {logged.number}",
                    species=alga(logged.species).name,
                    why=why,
                )
            )
            cleaning[logged.vessel] = 1 + room.kind(logged.kind).clean_days
        else:
            usable.append(_culture(room, today, logged, temperature_c))
    return LoggedRoom(Present(tuple(usable), cleaning, frozenset(missing)), tuple(notes))


def _place(room: Room, logged: PresentCulture) -> tuple[int, Step, bool]:
    """Place in its line, the step, and whether it is the one that feeds."""
    line = next(line for line in room.lines if line.species == logged.species)
    place = [step.kind for step in line.steps].index(logged.kind)
    return place, line.steps[place], place == len(line.steps) - 1


def _faults(
    room: Room, today: date, cultures: Sequence[PresentCulture], others: Sequence[tuple[str, int]]
) -> Iterator[str]:
    steps = {line.species: [step.kind for step in line.steps] for line in room.lines}
    counts = {kind.name: kind.count for kind in room.kinds}
    seen: set[tuple[str, int]] = set()
    for vessel in (*others, *(logged.vessel for logged in cultures)):
        if not 1 <= vessel[1] <= counts.get(vessel[0], 0):
            yield say("There is no {kind} {number}.", kind=vessel[0], number=vessel[1])
    for logged in cultures:
        name = f"{logged.kind} {logged.number}"
        if logged.kind not in steps.get(logged.species, ()):
            yield say(
                "{name} holds {species}, which has no line through such vessels.",
                name=name,
                species=logged.species,
            )
        if logged.vessel in seen:
            yield say("{name} holds two cultures.", name=name)
        seen.add(logged.vessel)
        if logged.inoculated > today or (logged.counted or today) > today:
            yield say("{name} was started or counted after {today}.", name=name, today=today)
        if (logged.per_ml is None) != (logged.counted is None):
            yield say("{name} has a count without a day, or a day without a count.", name=name)
        elif logged.counted is not None and logged.counted < logged.inoculated:
            yield say("{name} was counted before it was started.", name=name)
        not_negative(logged.litres, "L", name)
        not_negative(logged.per_ml or 0.0, "cells/mL", name)


def _unusable(room: Room, today: date, logged: PresentCulture, temperature_c: float) -> str:
    """Why a culture must be emptied, or empty where it can be used."""
    if logged.lost:
        return say("it is dead; empty and clean it")
    if logged.contaminated:
        return say("something else swims in it; do not feed larvae from it, empty and clean it")
    _, _, feeds = _place(room, logged)
    culture = _culture(room, today, logged, temperature_c)
    if culture.last < 0:
        return say("it is past its age limit; empty and clean it")
    if culture.ready > culture.last:
        return say("by its count it will be too old before it is dense enough; empty and clean it")
    if not feeds and logged.litres < POURED_LEAST * room.kind(logged.kind).litres:
        return say("too little is left of it to be poured on; empty and clean it")
    return say("it is empty; clean it") if culture.left <= 0 else ""


def _culture(room: Room, today: date, logged: PresentCulture, temperature_c: float) -> Culture:
    place, step, feeds = _place(room, logged)
    started = (logged.inoculated - today).days
    ready = started + step.grow_days
    last = ready + step.use_days - 1
    left = min(1.0, logged.litres / room.kind(logged.kind).litres)
    if logged.per_ml is not None and logged.counted is not None:
        counted = (logged.counted - today).days
        usual, peak = usual_and_peak_per_ml(logged.species, room.kind(logged.kind))
        if logged.per_ml >= usual:
            ready = min(ready, max(started, counted))
            left = min(1.0, left * logged.per_ml / usual)
        elif not (counted >= ready and _stands(step, logged.per_ml)):
            ready = counted + _wait_d(logged, usual, peak, temperature_c)
    if not feeds or step.drawn:
        left = 1.0 if left > 0 else 0.0
    return Culture(logged.species, place, logged.number, started, ready, last, left)


def _stands(step: Step, per_ml: float) -> bool:
    """Whether a culture that is drawn from, and so stands lower, is still dense enough for it."""
    return step.drawn and per_ml >= STANDING_LEAST * step.cells / step.taken_l / ML_PER_L


def _wait_d(logged: PresentCulture, usual: float, peak: float, temperature_c: float) -> int:
    """Days from the count to the usual density; longer than any culture lives without cells."""
    if not logged.per_ml:
        return NEVER_D
    growth = growth_in_room_per_d(alga(logged.species), temperature_c)
    days = days_to_reach(usual, start_per_ml=logged.per_ml, growth_per_d=growth, peak_per_ml=peak)
    return ceil(days - 1e-9)
