"""An entry judged beside the state: refused where it cannot be true, asked about where unlikely."""

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from typing import Any

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import Vessel, vessels
from protoconch.log.checking import animals, care, cultures, eggs, water
from protoconch.log.checking.verdict import Case, Known, Verdict
from protoconch.log.entry import Entry
from protoconch.log.kinds import kind
from protoconch.log.numbers import bound
from protoconch.log.payloads.words import Confirmed, Correction
from protoconch.log.reading.entries import named_vessels
from protoconch.log.reading.places import payload_place_faults, place_fault
from protoconch.log.state import EMPTY
from protoconch.words import say

RULES: Mapping[str, Callable[[Case, Any], None]] = {
    "egg mass collected": eggs.collected,
    "incubator loaded": eggs.loaded,
    "hatched": eggs.hatched,
    "stocked": animals.stocked,
    "counted": animals.counted,
    "measured": animals.measured,
    "competence checked": animals.competence_checked,
    "thinned": animals.thinned,
    "moved": animals.moved,
    "settled": animals.settled,
    "graded": animals.graded,
    "weighed": animals.weighed,
    "lost": animals.lost,
    "released": animals.released,
    "water changed": care.water_changed,
    "fed": care.fed,
    "inoculated": cultures.inoculated,
    "harvested": cultures.harvested,
    "culture counted": cultures.culture_counted,
    "culture ended": cultures.culture_ended,
    "pumped": water.pumped,
    "drawn": water.drawn,
    "read": water.read,
    "received": water.received,
    "used": water.used,
}
"""What is asked of each kind; the others can hardly be wrong."""


def judged(
    entry: Entry, state: Known, hatchery: Hatchery, species: Species, *, began: date | None = None
) -> Verdict:
    """What speaks against an entry, given all that is known.

    state: as of the moment of the entry, without it. species: profile of the animals.
    began: first day of the hatchery's log, where it is known.
    The clock is that of the entry's arrival. Confirming an entry that was asked about keeps it:
    write a `confirmed` entry beside it.
    """
    known = {vessel.name: vessel for vessel in vessels(hatchery)}
    case = Case(entry, state, hatchery, species, known)
    _time(case, began)
    found = kind(entry.kind)
    told = entry.payload.model_dump(mode="json", exclude_defaults=True)
    faults = payload_place_faults(found, named_vessels(found, told), known)
    for fault in (place_fault(found, entry.where, known), *faults):
        if fault:
            case.refuse(fault)
    payload = entry.payload
    if isinstance(payload, Correction | Confirmed) and payload.of == entry.id:
        case.refuse(
            say(
                "A {kind} cannot point at itself; name the entry that was meant.",
                kind=say(entry.kind),
            )
        )
    return _by_rule(case)


def alone(entry: Entry, hatchery: Hatchery, species: Species) -> tuple[str, ...]:
    """Why an entry cannot be true whatever else happened; empty where it can.

    For one that comes late from a phone: others that happened before it may still be on their way.
    """
    verdict = judged(entry, EMPTY, hatchery, species)
    return tuple(sentence for sentence in verdict.refused if sentence not in verdict.by_log)


def beside(entry: Entry, known: Known, hatchery: Hatchery, species: Species,
           holds: Mapping[str, Vessel]) -> Verdict:  # fmt: skip
    """What speaks against an entry beside all that happened before it, its time and place apart.

    known: as of just before the entry. holds: vessels by name.
    """
    return _by_rule(Case(entry, known, hatchery, species, holds))


def _by_rule(case: Case) -> Verdict:
    rule = RULES.get(case.entry.kind)
    if rule is not None:
        rule(case, case.entry.payload)
    found = case.refused, case.unlikely, case.by_log
    return Verdict(*(tuple(dict.fromkeys(sentences)) for sentences in found))


def _time(case: Case, began: date | None) -> None:
    entry = case.entry
    ahead = entry.happened - entry.arrived
    if ahead > timedelta(minutes=bound("time.ahead_min")):
        case.refuse(
            say(
                "The entry happened on {happened:%d %B %Y} at {happened:%H:%M}, which is still to"
                " come; now "
                "it is {now:%d %B %Y, %H:%M}.",
                happened=entry.happened,
                now=entry.arrived.astimezone(entry.happened.tzinfo),
            )
        )
    first = began or date(int(bound("time.first_year")), 1, 1)
    if entry.happened.date() < first:
        case.refuse(
            say(
                "The entry happened on {happened:%d %B %Y}, before the hatchery began on "
                "{first:%d %B %Y}.",
                happened=entry.happened,
                first=first,
            )
        )
    elif -ahead > timedelta(days=bound("time.late_d")):
        case.ask(say("The entry happened {days} days ago; is the date right?", days=-ahead.days))
