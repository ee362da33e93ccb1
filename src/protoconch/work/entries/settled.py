"""What is logged of the trays and the nursery."""

from typing import Any

from protoconch.units import text
from protoconch.words import english, say
from protoconch.work.entries.asked import Asked, Blank, Way, blank, just_done
from protoconch.work.entries.larvae import all_counted, dead_found
from protoconch.work.entries.line import Line, last_count, last_length
from protoconch.work.task import about

TRAY, NURSERY_TANK, TANK = "tray", "nursery tank", "larval tank"


def _to(line: Line, kind: str, number: int) -> tuple[list[str], Blank]:
    """Vessels that they go to: chosen already, or by the crew."""
    free = line.free(kind)
    chosen = free[:number]
    said = blank("moved", "to", sort="choice", times=0, choices=tuple(free),
                 value=", ".join(chosen) or None)  # fmt: skip
    return chosen, said


def settle(line: Line) -> tuple[Way, ...]:
    """Larvae of the tank onto trays: the ready ones, the others culled; or all of them."""
    where, larvae = line.task.where, line.result("1")
    last = last_count(line.holding(where))
    told = say("about {number} expected", number=about(larvae)) if larvae else ""
    chosen, to = _to(line, TRAY, _planned_trays(line))
    moved = Asked("moved", where, {"to": chosen}, (to,))
    ready = blank("thinned", "kept", words=say("number moved"), sort="whole", step=100,
        expected=told,
                  last=last)  # fmt: skip
    every = blank("counted", "animals", words=say("number moved"), sort="whole", step=100,
                  expected=told, last=last)  # fmt: skip
    return (
        Way(say("the ready ones moved, the rest culled"),
            (Asked("thinned", where, {"note": str(say("moved onto trays"))}, (ready,)), moved)),
        Way(say("all of them moved"), (Asked("counted", where, {}, (every,)), moved)),
    )  # fmt: skip


def _planned_trays(line: Line) -> int:
    """Trays of the batch that the line speaks of."""
    told = english(line.task.amount).rsplit(" trays", 1)[0].rsplit(" ", 1)[-1]
    return int(told) if told.isdecimal() else 1


def induce(line: Line) -> tuple[Way, ...]:
    """The inducer given: what and how much, in words."""
    trays = line.held(TRAY)
    amount = blank("done", "amount", sort="text", needed=False)
    return (just_done("induce", trays[0] if trays else "trays", trays, amount),)


def tray_care(line: Line) -> tuple[Way, ...]:
    """Done; or with the dead, a count, or the settled of the first days."""
    trays = tuple(line.held(TRAY))
    first = trays[0] if trays else ""
    if not first:
        return (just_done("tray care", "trays"),)
    settled = blank("settled", "animals", sort="whole",
                    last=last_count(line.holding(first)))  # fmt: skip
    offered = line.holding(first)
    more = blank("settled", "offered", sort="whole", needed=False,
                 value=offered.alive if offered else None)  # fmt: skip
    return (
        just_done("tray care", first, trays),
        dead_found(first, trays),
        all_counted(first, line.result("1"), trays),
        Way(say("settled ones counted"), (Asked("settled", first, {}, (settled, more), trays),)),
    )


def split(line: Line) -> tuple[Way, ...]:
    """Some of a tray onto fresh trays."""
    trays = line.held(TRAY)
    chosen, to = _to(line, TRAY, max(1, round((line.result("1") or 0.0) + 0.5)))
    animals = blank("moved", "animals", sort="whole")
    asked = Asked("moved", trays[0] if trays else "", {"to": chosen}, (animals, to), tuple(trays))
    return (Way(say("moved onto more trays"), (asked,)),)


def move(line: Line) -> tuple[Way, ...]:
    """Every tray emptied into the nursery, each with its number."""
    own = line.held(NURSERY_TANK)
    free = own or line.free(NURSERY_TANK)
    asked = []
    for tray in line.held(TRAY):
        there = line.holding(tray)
        animals = blank("counted", "animals", words=say("animals of {tray}", tray=tray),
            sort="whole",
                        last=last_count(there))  # fmt: skip
        to = blank("moved", "to", sort="choice", times=0, choices=tuple(free),
                   value=free[0] if free else None)  # fmt: skip
        asked.append(Asked("counted", tray, {}, (animals,)))
        asked.append(Asked("moved", tray, {"to": free[:1]}, (to,)))
    return (Way(say("moved to the nursery"), tuple(asked)),) if asked else ()


def feed_pellets(line: Line) -> tuple[Way, ...]:
    """The pellets, shared among the batch's nursery tanks by their animals."""
    tanks, grams = line.held(NURSERY_TANK), line.result("g") or 0.0
    alive = {tank: line.state.holdings[tank].alive for tank in tanks}
    total = sum(alive.values()) or 1
    asked = []
    for tank in tanks:
        share = max(round(grams * alive[tank] / total, 2), 0.01)
        fields = (
            blank("fed", "foods.0.grams", words=say("pellets in {tank}", tank=tank), value=share,
            step=0.1,
                  needed=False),
            blank("fed", "left", needed=False, low=0.0, high=1.0),
        )  # fmt: skip
        food: dict[str, Any] = {"foods": [{"food": "pellets", "grams": share}]}
        asked.append(Asked("fed", tank, food, fields))
    return (Way(say("fed"), tuple(asked)),) if asked else (just_done("feed pellets", "nursery"),)


def siphon(line: Line) -> tuple[Way, ...]:
    """Done, or with the dead."""
    tanks = tuple(line.held(NURSERY_TANK))
    if not tanks:
        return (just_done("siphon", "nursery"),)
    return just_done("siphon", tanks[0], tanks), dead_found(tanks[0], tanks)


def grade(line: Line) -> tuple[Way, ...]:
    """Two heaps, small and large, of every nursery tank of the batch."""
    told = english(line.task.amount).partition("split at ")[2].partition(" mm")[0]
    size = float(told) if told.replace(".", "").isdecimal() else 20.0
    tanks = tuple(line.held(NURSERY_TANK))
    if not tanks:
        return (just_done("grade", "nursery"),)
    free = tuple(line.free(NURSERY_TANK))
    classes = [{"from_mm": 0.0, "to_mm": size, "animals": 0},
               {"from_mm": size, "to_mm": 4 * size, "animals": 0}]  # fmt: skip
    fields = (
        blank("graded", "classes.0.animals", words=say("under {size}", size=text(size, 'mm')),
        sort="whole"),
        blank("graded", "classes.1.animals", words=say("{size} and over", size=text(size, 'mm')),
        sort="whole"),
        blank("graded", "classes.1.to_mm", words=say("the longest"), value=4 * size, needed=False),
        blank("graded", "classes.1.to", words=say("the large ones go to"), sort="choice",
        needed=False,
              choices=(*tanks, *free)),
    )  # fmt: skip
    return (Way(say("graded"), (Asked("graded", tanks[0], {"classes": classes}, fields, tanks),)),)


def weigh_and_measure(line: Line) -> tuple[Way, ...]:
    """Lengths and the weight of one sample."""
    kind = TRAY if line.task.where == "trays" else NURSERY_TANK
    places = tuple(line.held(kind))
    if not places:
        return (just_done("weigh and measure", line.task.where),)
    there, size = line.holding(places[0]), _sample(line)
    told = english(line.task.amount).partition("about ")[2].partition(" expected")[0]
    expected = say("about {number} expected", number=told) if told else ""
    of_one = {"expected": expected, "last": last_length(there)}
    each = blank("measured", "lengths_mm", times=0, step=0.1, **of_one)
    mean = blank("measured", "mean_mm", step=0.1, **of_one)
    number = blank("measured", "animals", sort="whole", value=size, needed=False)
    grams = blank("weighed", "grams", words=say("mass of them all"), step=0.01)
    weighed = Asked("weighed", places[0], {"animals": size}, (grams,), places)
    return (
        Way(say("each length, and their mass"),
            (Asked("measured", places[0], {}, (each,), places), weighed)),
        Way(say("each length"), (Asked("measured", places[0], {}, (each,), places),)),
        Way(say("their mean"), (Asked("measured", places[0], {}, (mean, number), places),)),
    )  # fmt: skip


def _sample(line: Line) -> int:
    inputs = (part for working in line.workings for part in working.inputs)
    return round(next((part.value for part in inputs if part.name == "animals"), 30))


def release(line: Line) -> tuple[Way, ...]:
    """Animals out of every nursery tank of the batch."""
    permit = line.hatchery.permit.number
    asked = []
    for tank in line.held(NURSERY_TANK):
        there = line.holding(tank)
        fields = (
            blank("released", "animals", words=say("animals of {tank}", tank=tank), sort="whole",
                  last=last_count(there)),
            blank("released", "mean_mm", step=0.5, needed=False, last=last_length(there)),
            blank("released", "site", sort="text", needed=False),
            blank("released", "permit", sort="text", needed=False, value=permit or None),
        )  # fmt: skip
        asked.append(Asked("released", tank, {}, fields))
    return (Way(say("released"), tuple(asked)),) if asked else ()
