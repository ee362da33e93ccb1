"""What is logged in the algae room."""

from protoconch.algae.chain.plan import Life
from protoconch.algae.species import alga
from protoconch.log.chambers import chambers
from protoconch.units import text
from protoconch.words import english, say
from protoconch.work.entries.asked import Asked, Way, blank, just_done
from protoconch.work.entries.line import Line, last_told
from protoconch.work.task import Given

FOUND = ("", "bacteria", "other algae", "ciliates", "rotifers", "unknown")
STERILISED = ("", "heat", "chlorine", "filter and UV")
ENDED = ("used up", "too old", "crashed", "contaminated", "not needed")


def _input(line: Line, name: str) -> Given | None:
    inputs = (part for working in line.workings for part in working.inputs)
    return next((part for part in inputs if part.name == name), None)


def _life(line: Line, *, ended: bool = False) -> Life | None:
    """The culture of the schedule that the line is about."""
    if line.algae is None:
        return None
    number = (line.task.day - line.algae.first).days
    for life in line.algae.plan.lives:
        here = f"{life.vessel[0]} {life.vessel[1]}" == line.task.where
        if here and number == (life.ended if ended else life.started):
            return life
    return None


def look_at_cultures(line: Line) -> tuple[Way, ...]:
    """All looked at; or one of them counted, in a chamber or by its density."""
    vessels = tuple(line.state.cultures)
    seen = just_done("look at cultures", line.task.where)
    return (seen, *counted(line, vessels)) if vessels else (seen,)


def counted(line: Line, vessels: tuple[str, ...]) -> tuple[Way, ...]:
    """A count of one of these cultures."""
    counts = line.state.cultures[vessels[0]].counts
    last = (
        last_told(say("{number} million", number=text(counts[-1].cells_per_ml / 1e6, "1", 3)),
        counts[-1].when.date())
        if counts else ""
    )  # fmt: skip
    kind = "culture counted"
    more = (
        blank(kind, "found", sort="choice", choices=FOUND, needed=False),
        blank(kind, "colour", sort="text", needed=False),
    )
    loadings = (
        blank(kind, "loadings", sort="whole", times=2, last=last),
        blank(kind, "chamber", sort="choice", choices=tuple(chambers()),
              value=next(iter(chambers()))),
        blank(kind, "dilution", value=1.0, needed=False),
        *more,
    )  # fmt: skip
    million = blank(kind, "cells_per_ml", unit="", words=say("million cells in a mL"), times_si=1e6,
                    step=0.1, last=last)  # fmt: skip
    return (
        Way(say("cells counted in a chamber"), (Asked(kind, vessels[0], {}, loadings, vessels),)),
        Way(say("density known"), (Asked(kind, vessels[0], {}, (million, *more), vessels),)),
    )


def make_medium(line: Line) -> tuple[Way, ...]:
    """So many litres of it."""
    name = english(line.task.what).removeprefix("Make ").removesuffix(" for tomorrow")
    litres = _input(line, "litres")
    value = round(litres.value, 3) if litres else None
    fields = (
        blank("medium made", "litres", value=value, needed=value is None),
        blank("medium made", "sterilised_by", sort="choice", choices=STERILISED, needed=False),
    )
    return (Way(say("made"), (Asked("medium made", "", {"medium": name}, fields),)),)


def inoculate(line: Line) -> tuple[Way, ...]:
    """The inoculum into its medium, as one touch where it went as written."""
    life, volume = _life(line), _input(line, "volume")
    names = {alga(key).name: key for key in _species(line)}
    told = english(line.task.what).removeprefix("Inoculate ")
    species = life.species if life else names.get(told, told)
    donors = [f"{kind} {number}" for kind, number in life.donors] if life else []
    donors = [name for name in donors if name in line.state.cultures]
    prefilled, fields = {"species": species}, []
    if donors:
        inoculum = line.result("L")
        prefilled["source"] = donors[0]
        fields.append(blank("inoculated", "inoculum_l", step=0.01, needed=False,
                            value=round(inoculum, 4) if inoculum else None))  # fmt: skip
        fields.append(blank("inoculated", "source", sort="choice", value=donors[0], needed=False,
                            choices=tuple(line.state.cultures)))  # fmt: skip
    value = round(volume.value, 4) if volume else None
    fields.append(blank("inoculated", "litres", value=value, needed=value is None))
    if species in _species(line):
        prefilled["medium"] = alga(species).medium
    asked = Asked("inoculated", line.task.where, prefilled, tuple(fields))
    return (Way(say("inoculated"), (asked,)),)


def _species(line: Line) -> tuple[str, ...]:
    """Keys of the species that the room grows."""
    room = line.hatchery.algae_room
    return tuple(one.species for one in room.room.lines) if room else ()


def harvest(line: Line) -> tuple[Way, ...]:
    """Litres drawn, and filled up again where the culture goes on; or a count first."""
    where, litres = line.task.where, line.result("L")
    there = line.state.cultures.get(where)
    purpose = "feed"
    if there is not None and there.species in _species(line):
        purpose = "film" if alga(there.species).kind == "film diatom" else "feed"
    drawn = round(litres, 3) if litres else None
    fields = [blank("harvested", "litres", value=drawn, step=0.05, needed=drawn is None,
                    high=there.litres if there else None)]  # fmt: skip
    if any("Fill up" in step for step in line.task.steps):
        fields.append(blank("harvested", "refilled_l", value=drawn, step=0.05, needed=False))
    asked = Asked("harvested", where, {"purpose": purpose}, tuple(fields))
    return (Way(say("drawn"), (asked,)), *(counted(line, (where,)) if there else ()))


def empty_a_vessel(line: Line) -> tuple[Way, ...]:
    """The culture ended and the vessel cleaned, as one touch."""
    where, life = line.task.where, _life(line, ended=True)
    reasons = {"poured": "used up", "used up": "used up", "thrown away": "too old"}
    usual = reasons.get(life.ending, "used up") if life else "used up"
    reason = blank("culture ended", "reason", sort="choice", choices=ENDED, value=usual)
    cleaned = Asked("cleaned", where, {}, (blank("cleaned", "with_what", sort="text",
                                                 value="chlorine", needed=False),))  # fmt: skip
    if where not in line.state.cultures:
        return (Way(say("cleaned"), (cleaned,)),)
    ended = Asked("culture ended", where, {"reason": usual}, (reason,))
    return (Way(say("emptied and cleaned"), (ended, cleaned)), Way(say("emptied"), (ended,)))
