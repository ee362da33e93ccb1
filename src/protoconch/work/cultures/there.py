"""Each culture by the log: its step, age and density, and whether it may be used."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from protoconch.algae.chain.culture_curve import CultureCurve, LoggedCount, culture_curve
from protoconch.algae.chain.description import Room, Step
from protoconch.algae.chain.lines import usual_and_peak_per_ml
from protoconch.algae.chain.logged_room import STANDING_LEAST, PresentCulture
from protoconch.algae.species import alga, known_algae
from protoconch.errors import BadInput
from protoconch.hatchery.algae_vessels import AlgaeRoom
from protoconch.log.state import Culture, CultureCount, State
from protoconch.words import begun, say

Standing = Literal["ready", "growing", "count it", "too old", "contaminated", "no line", "dying"]
NOT_FED = ("contaminated", "too old", "dying")


@dataclass(frozen=True, slots=True)
class CultureNow:
    """A culture as it stands.

    species: key, or as it was typed where the room does not know it; name: in full.
    kind, number: of its vessel; step: place in its line, None where it has no line through it.
    size_l: of the vessel. age_d: since it was started [d]; last_d: last age for use, None without
    a line. usual_per_ml: density at which it is used [cells/mL].
    counts: each with its limits. curve: None for one that was drawn from, or cannot be drawn.
    standing: in a word; why: in a sentence.
    """

    vessel: str
    kind: str
    number: int
    species: str
    name: str
    step: int | None
    litres: float
    size_l: float
    started: datetime
    age_d: float
    last_d: float | None
    usual_per_ml: float | None
    counts: tuple[CultureCount, ...]
    curve: CultureCurve | None
    standing: Standing
    why: str
    source: str
    medium: str
    last_harvest: datetime | None
    harvested_l: float

    @property
    def feeds(self) -> bool:
        """Whether larvae may be fed with it now, as far as the log knows."""
        return self.standing == "ready"


def cultures_there(state: State, room: AlgaeRoom, now: datetime) -> tuple[CultureNow, ...]:
    """All cultures, by step from small to large, then by species and number.

    now: with a zone, not before the last entry.
    """
    found = [_culture(culture, room, now) for culture in state.cultures.values()]
    kinds = [kind.name for kind in room.room.kinds]

    def order(one: CultureNow) -> tuple[int, str, int]:
        place = kinds.index(one.kind) if one.kind in kinds else len(kinds)
        return place, one.species, one.number

    return tuple(sorted(found, key=order))


def present_cultures(
    state: State, room: AlgaeRoom, now: datetime
) -> tuple[tuple[PresentCulture, ...], tuple[tuple[str, int], ...]]:
    """The cultures for a schedule that begins today, and the vessels that are dirty.

    Those without a line through their vessel are left out: their vessels count as dirty.
    """
    there, dirty = [], [_place(name) for name in state.dirty]
    kinds = {kind.name: kind.count for kind in room.room.kinds}
    for one in cultures_there(state, room, now):
        if one.step is None:
            dirty.append((one.kind, one.number))
            continue
        last = one.counts[-1] if one.counts else None
        there.append(PresentCulture(
            one.species, one.kind, one.number, one.started.date(), one.litres,
            last.cells_per_ml if last else None, last.when.date() if last else None,
            contaminated=bool(state.cultures[one.vessel].found),
        ))  # fmt: skip
    inside = [place for place in dirty if 1 <= place[1] <= kinds.get(place[0], 0)]
    return tuple(there), tuple(sorted(set(inside)))


def species_key(words: str) -> str:
    """The key of a species by its key or its name; the words themselves where it is not known."""
    said = words.strip().lower()
    for key in known_algae():
        if said in (key, alga(key).name.lower()):
            return key
    return words


def _place(vessel: str) -> tuple[str, int]:
    """Kind and number of a vessel by its name: "flask 3"."""
    kind, _, number = vessel.rpartition(" ")
    return (kind, int(number)) if number.isdecimal() else (vessel, 0)


def _step(room: Room, species: str, kind: str) -> tuple[int, Step] | None:
    for line in room.lines:
        if line.species == species:
            for place, step in enumerate(line.steps):
                if step.kind == kind:
                    return place, step
    return None


def _culture(culture: Culture, room: AlgaeRoom, now: datetime) -> CultureNow:
    kind, number = _place(culture.vessel)
    species = species_key(culture.species)
    found = _step(room.room, species, kind)
    name = alga(species).name if species in known_algae() else culture.species
    age = max(0.0, (now - culture.started).total_seconds() / 86400)
    vessel = next((one for one in room.room.kinds if one.name == kind), None)
    usual = last = curve = None
    if found is not None and vessel is not None:
        usual, _peak = usual_and_peak_per_ml(species, vessel)
        last = float(found[1].grow_days + found[1].use_days - 1)
        curve = _curve(culture, room, species, kind, now)
    standing, why = _standing(culture, found[1] if found else None, usual, age, last, curve)
    return CultureNow(
        culture.vessel, kind, number, species, name, found[0] if found else None, culture.litres,
        vessel.litres if vessel else 0.0, culture.started, age, last, usual, culture.counts, curve,
        standing, why, culture.source, culture.medium, culture.last_harvest, culture.harvested_l,
    )  # fmt: skip


def _curve(
    culture: Culture, room: AlgaeRoom, species: str, kind: str, now: datetime
) -> CultureCurve | None:
    """The curve of a culture by its counts until it was first drawn from."""
    if culture.last_harvest is not None:
        return None
    counts = tuple(_counts(culture))
    try:
        return culture_curve(
            room.room, species, kind, culture.started, counts, now=max(now, culture.started),
            temperature_c=room.temperature_c,
        )  # fmt: skip
    except BadInput:
        return None


def _counts(culture: Culture) -> Iterator[LoggedCount]:
    for count in culture.counts:
        if count.cells_per_ml > 0 and count.when >= culture.started:
            yield LoggedCount(count.when, count.cells_per_ml, count.low, count.high)


def _standing(
    culture: Culture, step: Step | None, usual: float | None, age: float, last: float | None,
    curve: CultureCurve | None,
) -> tuple[Standing, str]:  # fmt: skip
    if culture.found:
        found = say("something unknown" if culture.found == "unknown" else culture.found)
        return "contaminated", say(
            "{found} found in it: feed and pour nothing from it.", found=begun(found)
        )
    if step is None or last is None or usual is None:
        return "no line", say("The room as described has no line of it through this vessel.")
    if age >= last + 1:
        return "too old", say(
            "It is {age:.0f} days old; the last day for use is day {last:.0f}.", age=age, last=last
        )
    if curve is not None:
        words: dict[str, Standing] = {"use": "ready", "wait": "growing", "count": "count it",
                                      "discard": "dying"}  # fmt: skip
        return words[curve.advice], curve.sentence
    return _drawn(culture, step, usual, age)


def _drawn(culture: Culture, step: Step, usual: float, age: float) -> tuple[Standing, str]:
    """A culture that is drawn from: dense enough by its last count, or rest it."""
    if not culture.counts:
        if age >= step.grow_days:
            return "ready", say("It is drawn from and was never counted: count it before feeding.")
        return "growing", say("It was drawn from before its days of growth were over.")
    seen = culture.counts[-1].cells_per_ml
    least = STANDING_LEAST * usual
    if seen >= least:
        return "ready", say(
            "Last counted at {seen:.3g} million/mL; it is drawn from.", seen=seen / 1000000.0
        )
    return "growing", (
        say(
            "Last counted at {seen:.3g} million/mL, below half of its usual {usual:.3g}: let "
            "it rest.",
            seen=seen / 1000000.0,
            usual=usual / 1000000.0,
        )
    )
