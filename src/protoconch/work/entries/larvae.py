"""What is logged of eggs and larvae."""

from math import sqrt

from protoconch.units import text
from protoconch.words import english, say
from protoconch.work.entries.asked import Asked, Blank, Way, blank, just_done
from protoconch.work.entries.line import Line, last_count, last_length
from protoconch.work.parameters import table_values
from protoconch.work.task import about

MOST_ML = 5000.0
"""With so few larvae that an aliquot would be larger, all are counted; common practice."""
COUNTED, LENGTHS, UM = "counted", "lengths_mm", "µm"


MASS = "egg mass collected"


def collect(line: Line) -> tuple[Way, ...]:
    """One entry for each mass that a piece was taken of."""
    there = len([mass for mass in line.state.masses if mass.startswith(f"{line.task.batch}-")])
    told = english(line.task.amount).split(" ", 1)[0]
    number = int(told) if told.isdecimal() else 1
    asked = tuple(_mass(line, there + place + 1) for place in range(number))
    return (Way(say("a piece of each taken"), asked), Way(say("a piece of one taken"), asked[:1]))


def _mass(line: Line, number: int) -> Asked:
    eggs, permit = line.result("1"), line.hatchery.permit
    told = say("about {eggs} from each", eggs=about(eggs)) if eggs else ""
    fields = (
        blank(MASS, "mass", sort="text", value=f"{line.task.batch}-{number}"),
        blank(MASS, "site", sort="text", value=permit.area or None, needed=False),
        blank(MASS, "strand_m", step=0.1, needed=False),
        blank(MASS, "eggs", sort="whole", needed=False, expected=told),
        blank(MASS, "depth_m", step=0.5, needed=False),
        blank(MASS, "temperature_c", step=0.1, needed=False),
    )
    return Asked(MASS, "", {"permit": permit.number} if permit.number else {}, fields)


def incubate(line: Line) -> tuple[Way, ...]:
    """Care; but while its pieces are in no incubator, loading one; and hatching."""
    code, places = line.task.batch, tuple(line.held("incubator"))
    loose = [name for name, mass in line.state.masses.items() if not mass.batch]
    own = [name for name in loose if name.startswith(f"{code}-")] or ([] if places else loose)
    empty = tuple(line.free("incubator"))
    done = just_done("incubate", places[0] if places else "", places)
    if not own or not empty:
        return (done, *_hatched(code, places))
    fields = (
        blank("incubator loaded", "masses", sort="choice", times=0, choices=tuple(loose),
              value=", ".join(own)),
        blank("incubator loaded", "eggs", sort="whole", needed=False),
    )  # fmt: skip
    prefilled = {"batch": code, "masses": own}
    load = Asked("incubator loaded", empty[0], prefilled, fields, empty)
    return (Way(say("pieces put into an incubator"), (load,)), done, *_hatched(code, places))


def _hatched(code: str, places: tuple[str, ...]) -> tuple[Way, ...]:
    if not places:
        return ()
    veligers = blank("hatched", "veligers", sort="whole", needed=False)
    asked = tuple(Asked("hatched", place, {"batch": code}, (veligers,)) for place in places)
    return (Way(say("hatched"), asked),)


def stock(line: Line) -> tuple[Way, ...]:
    """Larvae into the tank."""
    where, expected = line.task.where, line.result("1")
    fields = (
        blank("stocked", "animals", sort="whole", step=100,
              expected=say("{animals} planned", animals=about(expected)) if expected else ""),
        blank("stocked", "litres", value=line.water_l(where) or None, needed=False),
    )  # fmt: skip
    return (Way(say("stocked"), (Asked("stocked", where, {"batch": line.task.batch}, fields),)),)


def count(line: Line) -> tuple[Way, ...]:
    """Aliquots, or all of them."""
    where = line.task.where
    there = line.holding(where)
    ml, litres = min(line.result("mL") or 100.0, MOST_ML), line.water_l(where)
    expected = line.result("1") or 0.0
    each = expected * ml / 1000 / litres if litres else 0.0
    clumping = table_values("outlook")["count.clumping_k"].number
    spread = 3 * sqrt(each + each**2 / clumping)
    aliquots = round(next((part.value for working in line.workings for part in working.inputs
                           if part.name == "aliquots"), 5))  # fmt: skip
    fields = (
        blank(COUNTED, "aliquots", sort="whole", times=aliquots, low=max(0.0, each - spread),
              high=each + spread, expected=say("about {each} in each by the last number",
              each=text(each, '1', 2)),
              last=last_count(there)),
        blank(COUNTED, "aliquot_ml", value=ml, step=10, needed=False),
        blank(COUNTED, "litres", value=litres or None, step=10, needed=not litres),
        blank(COUNTED, "dead", sort="whole", times=aliquots, needed=False),
    )  # fmt: skip
    ways = [
        Way(say("by aliquots"), (Asked(COUNTED, where, {}, fields),)),
        all_counted(where, expected),
    ]
    return (*(ways if ml < MOST_ML else ways[::-1]), dead_found(where))


def all_counted(where: str, expected: float | None = None, places: tuple[str, ...] = ()) -> Way:
    """A count of every animal."""
    told = say("about {number} expected", number=about(expected)) if expected else ""
    animals = blank(COUNTED, "animals", sort="whole", expected=told)
    return Way(say("all of them counted"), (Asked(COUNTED, where, {}, (animals,), places),))


def dead_found(where: str, places: tuple[str, ...] = ()) -> Way:
    """Dead animals taken out."""
    fields = (
        blank("lost", "animals", sort="whole"),
        blank("lost", "cause", sort="text", needed=False),
    )
    return Way(say("dead ones found"), (Asked("lost", where, {}, fields, places),))


def thin(line: Line) -> tuple[Way, ...]:
    """How many stay and how many go."""
    kept = line.result("1")
    fields = (
        blank("thinned", "kept", sort="whole", step=100, high=kept,
              expected=say("at most {number}", number=about(kept)) if kept else "",
              last=last_count(line.holding(line.task.where))),
        blank("thinned", "removed", sort="whole", step=100, needed=False),
    )  # fmt: skip
    return (Way(say("thinned"), (Asked("thinned", line.task.where, {}, fields),)),)


def change_water(line: Line) -> tuple[Way, ...]:
    """The whole water by the sieve of the line, as one touch."""
    litres, mesh = line.water_l(line.task.where), line.result("um")
    fields: list[Blank] = []
    if litres:
        fields.append(blank("water changed", "litres", value=litres, step=10, needed=False))
    fields.append(blank("water changed", "sieve_um", unit=UM, value=mesh, step=10, needed=False,
                        high=mesh))  # fmt: skip
    asked = Asked("water changed", line.task.where, {"share": 1.0}, tuple(fields))
    return (Way(say("changed"), (asked,)), dead_found(line.task.where))


def measure(line: Line) -> tuple[Way, ...]:
    """Shell lengths of larvae, typed in µm."""
    where, expected = line.task.where, line.result("um")
    there = line.holding(where)
    told = say("about {number} expected", number=text(expected, UM, 3)) if expected else ""
    of_one = {"unit": UM, "times_si": 0.001, "step": 5, "expected": told,
              "last": last_length(there, UM)}  # fmt: skip
    if expected:
        of_one |= {"low": expected * 0.5, "high": expected * 1.5}
    each = blank("measured", LENGTHS, times=0, **of_one)
    mean = (
        blank("measured", "mean_mm", **of_one),
        blank("measured", "sd_mm", unit=UM, times_si=0.001, needed=False),
        blank("measured", "animals", sort="whole", value=30, needed=False),
    )
    return (
        Way(say("each length"), (Asked("measured", where, {}, (each,)),)),
        Way(say("their mean"), (Asked("measured", where, {}, mean),)),
    )


def competence(line: Line) -> tuple[Way, ...]:
    """Of those in the inducer, how many settled."""
    tested = next((part.value for working in line.workings for part in working.inputs
                   if part.name == "larvae"), 0.0)  # fmt: skip
    go = line.result("1")
    fields = (
        blank("competence checked", "competent", sort="whole",
              expected=say("go on from {number} of them",
              number=text(round(go + 0.5))) if go else ""),
        blank("competence checked", "looked_at", sort="whole", value=round(tested / 2) or None),
    )  # fmt: skip
    return (Way(say("looked at"), (Asked("competence checked", line.task.where, {}, fields),)),)


def feed(line: Line) -> tuple[Way, ...]:
    """Litres of each culture, as the line says them; one touch where they are right."""
    foods, fields = [], []
    litres = [working for working in line.workings if working.unit == "L"]
    for place, working in enumerate(litres):
        of = {part.name: part for part in working.inputs}
        density, mass = of["harvest_density"], of["cell_mass"]
        vessel = next((c.vessel for c in line.state.cultures.values()
                       if f"{c.vessel} counted" in english(density.source)), "")  # fmt: skip
        culture = line.state.cultures.get(vessel)
        names = {table_values("algae")[key].number: word for key, word in (
            ("flagellate.isochrysis.dry_mass_pg", "flagellate"),
            ("diatom.chaetoceros_gracilis.dry_mass_pg", "diatom"))}  # fmt: skip
        food = culture.species if culture else names.get(mass.value, "algae")
        told = {"food": food, "litres": round(working.result, 3),
                "cells_per_ml": round(density.value)}  # fmt: skip
        foods.append(told | ({"culture": vessel} if culture else {}))
        fields.append(blank("fed", f"foods.{place}.litres", words=say("litres of {food}",
        food=say(food)), step=0.05,
                            value=round(working.result, 3), needed=False))  # fmt: skip
    left = blank("fed", "left", needed=False, low=0.0, high=1.0)
    asked = Asked("fed", line.task.where, {"foods": foods}, (*fields, left))
    return (Way(say("fed"), (asked,)),)
