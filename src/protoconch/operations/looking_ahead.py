"""From a plan and a log to the outlook, as the web program and the command line both ask for it."""

from collections.abc import Sequence, Set
from datetime import date
from uuid import UUID

import numpy as np

from protoconch.animals.profiles import species
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.entry import Entry
from protoconch.log.payloads.animals import IncubatorLoaded, Moved, Stocked
from protoconch.log.payloads.water import Read
from protoconch.log.payloads.words import Confirmed
from protoconch.log.state import EMPTY, State
from protoconch.season.answer import SeasonPlan
from protoconch.season.outlook.counting_again import CountAgain, counts_that_pay
from protoconch.season.outlook.next_action import Choices, next_actions
from protoconch.season.outlook.outlook import Known, outlook
from protoconch.season.outlook.update import PARTICLES
from protoconch.sources.reading import load_table
from protoconch.work import hours

SEED = 1
"""The same plan, log and day have the same outlook."""


def bearing_on(
    entries: Sequence[Entry], here: Hatchery, before: State = EMPTY
) -> list[Entry]:  # fmt: skip
    """Those entries of a season that bear on its animals, in the order in which they happened.

    Temperatures of culture vessels and cold places are left out, which are not the animals' water;
    and so is what was seen and done in vessels that still held animals of an earlier season.
    before: the state as the season began.
    """
    kinds = {vessel.name: vessel.kind for vessel in vessels(here)}
    works = here.waterworks
    loops = {loop.name for loop in works.loops} if works is not None else set()
    water = loops | {name for name, kind in kinds.items() if kind != "algae vessel"}
    older, kept = set(before.holdings), []
    for entry in sorted(entries, key=lambda one: one.order):
        what = entry.payload
        if isinstance(what, Read):
            if entry.where in water:
                kept.append(entry)
            continue
        if isinstance(what, Stocked | IncubatorLoaded):
            older.discard(entry.where)
        if isinstance(what, Moved):
            older = older | set(what.to) if entry.where in older else older - set(what.to)
        if entry.where not in older:
            kept.append(entry)
    return kept


def doubted(there: State, arrived: Sequence[Entry] = (), by: date | None = None) -> set[UUID]:
    """Entries that are left out until a person confirms them.

    arrived, by: with them also those that a person confirmed only after that day.
    """
    out = {doubt.entries[0] for doubt in there.doubts if doubt.entries and not doubt.counted}
    if by is not None:
        out |= {entry.payload.of for entry in arrived
                if isinstance(entry.payload, Confirmed) and entry.arrived.date() > by}  # fmt: skip
    return out


def looked_from(
    plan: SeasonPlan, log: Sequence[Entry], as_of: date, left_out: Set[UUID] = frozenset(),
    before: Known | None = None,
) -> Known:  # fmt: skip
    """The outlook of a plan after a log, on a day; the last morning looked at is that of the date.

    before: an earlier outlook of this plan, to go on from.
    """
    snail = species(plan.hatchery.species)
    return outlook(plan, snail, log, min(as_of, plan.target.by), SEED, load_table("season"),
                   load_table("outlook"), left_out=left_out, before=before,
                   particles=PARTICLES)  # fmt: skip


def what_helps(known: Known) -> tuple[Choices, tuple[CountAgain, ...]]:
    """What may be done now, the best first, and counts that would pay."""
    choices = next_actions(known, hours)
    dice = np.random.Generator(np.random.SFC64(SEED))
    return choices, counts_that_pay(known, choices, dice)
