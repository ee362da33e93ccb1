"""From the state to the batches as they are: by stage, with the numbers and dates of the log."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from protoconch.algae.species import alga, known_algae
from protoconch.animals.species import Species
from protoconch.hatchery.vessels import Vessel, vessels
from protoconch.log.state import BatchState, Culture, Holding, State
from protoconch.season.answer import Batch, BatchDates, SeasonPlan, TankUse
from protoconch.words import say
from protoconch.work.expected import ExpectedBatch, expected_batches
from protoconch.work.logged import CultureAtHand, InVessel, last_seen
from protoconch.work.names import code_in_log
from protoconch.work.task import Given

FRESH = timedelta(days=3)
"""For so long a count of a culture is used for its harvest; assumption."""
DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Lots:
    """The batches of a log by what is to be done with them.

    waiting: batches of the plan that the log knows nothing of. eggs: in incubators or just hatched
    and not all stocked. larvae, trays, nursery: those of a batch in such vessels; one batch may be
    in several of them. planned: all batches of the plan, as planned. free_trays: empty ones.
    """

    waiting: tuple[ExpectedBatch, ...]
    eggs: tuple[ExpectedBatch, ...]
    larvae: tuple[ExpectedBatch, ...]
    trays: tuple[ExpectedBatch, ...]
    nursery: tuple[ExpectedBatch, ...]
    planned: tuple[ExpectedBatch, ...]
    free_trays: int


def coded(plan: SeasonPlan, species: Species) -> tuple[ExpectedBatch, ...]:
    """The batches of the plan by the names that the log has for them."""
    return tuple(
        replace(entry, batch=replace(entry.batch, code=code_in_log(plan, entry.batch.code)))
        for entry in expected_batches(plan, species)
    )


def lots(state: State, plan: SeasonPlan, species: Species, day: date) -> Lots:
    """What there is of every batch. A batch that the plan lacks follows the one nearest in time."""
    known = {vessel.name: vessel for vessel in vessels(plan.hatchery)}
    planned = coded(plan, species)
    cultures = at_hand(state, day)
    found: dict[str, list[ExpectedBatch]] = {"egg": [], "veliger": [], "tray": [], "nursery": []}
    for code, batch in state.batches.items():
        held = [state.holdings[name] for name in batch.vessels]
        if not held:
            continue
        model = _model(planned, code, _began(state, batch, held))
        if model is None:
            continue
        for sort, holdings in _by_sort(held, known).items():
            lot = _lot(batch, model, sort, holdings, known)
            found[sort].append(replace(lot, cultures=cultures))
    waiting = tuple(b for b in planned if b.batch.code not in state.batches)
    trays = [vessel.name for vessel in known.values() if vessel.kind == "tray"]
    free = sum(name not in state.holdings for name in trays)
    eggs, larvae, on_trays, nursery = (
        tuple(sorted(group, key=lambda b: b.batch.code)) for group in found.values()
    )
    return Lots(waiting, eggs, larvae, on_trays, nursery, planned, free)


def at_hand(state: State, day: date) -> dict[str, CultureAtHand]:
    """For flagellates and for diatoms the densest culture that was counted lately and is clean."""
    found: dict[str, CultureAtHand] = {}
    for culture in state.cultures.values():
        kind = _sort_of(culture)
        if not kind or not culture.counts or culture.found or culture.litres <= 0:
            continue
        last = culture.counts[-1]
        if last.cells_per_ml <= 0 or day - last.when.date() > FRESH:
            continue
        counted = Given("harvest_density", last.cells_per_ml, "cells/mL",
                        last_seen(say("{vessel} counted", vessel=culture.vessel),
                        last.when.date()))  # fmt: skip
        one = CultureAtHand(culture.vessel, culture.species, culture.litres, counted)
        best = found.get(kind)
        if best is None or one.litres * counted.value > best.litres * best.cells_per_ml.value:
            found[kind] = one
    return found


def _sort_of(culture: Culture) -> str:
    """Its kind, "flagellate" or "diatom", where larvae eat it; else empty."""
    if culture.species not in known_algae():
        return ""
    kind = alga(culture.species).kind
    return kind if kind in ("flagellate", "diatom") else ""


def _by_sort(held: list[Holding], known: Mapping[str, Vessel]) -> dict[str, list[Holding]]:
    sorts = {"incubator": "egg", "larval tank": "veliger", "tray": "tray",
             "nursery tank": "nursery"}  # fmt: skip
    found: dict[str, list[Holding]] = {}
    for holding in held:
        vessel = known.get(holding.vessel)
        if vessel is not None and vessel.kind in sorts:
            found.setdefault(sorts[vessel.kind], []).append(holding)
    return found


def _began(state: State, batch: BatchState, held: list[Holding]) -> date:
    """The first day that the log has of a batch."""
    masses = [state.masses[name].collected for name in batch.masses if name in state.masses]
    dates = [*masses, *(when for when in (batch.loaded, batch.hatched) if when is not None)]
    return min([*dates, *(holding.since for holding in held)]).date()


def _model(planned: tuple[ExpectedBatch, ...], code: str, began: date) -> ExpectedBatch | None:
    """The batch of the plan that a logged one follows."""
    for entry in planned:
        if entry.batch.code == code:
            return entry
    near = min(planned, key=lambda b: abs((b.batch.dates.collect - began).days), default=None)
    return None if near is None else replace(near, batch=replace(near.batch, code=code))


def _lot(
    batch: BatchState, model: ExpectedBatch, sort: str, held: list[Holding],
    known: Mapping[str, Vessel],
) -> ExpectedBatch:  # fmt: skip
    """Those animals of a batch that are in one sort of vessel."""
    dates = model.batch.dates
    first = _first_day(batch, held, known)
    hatched = batch.hatched.date() if batch.hatched else None
    if sort == "egg":
        began = batch.loaded.date() if batch.loaded else first
        anchor, until = (began, dates.collect), dates.hatch
        moved = _moved(dates, began - dates.collect)
        if hatched:
            moved = replace(moved, hatch=hatched)
    elif sort == "veliger":
        anchor, until = (hatched or first, dates.hatch), dates.induce - DAY
        moved = _moved(dates, anchor[0] - dates.hatch)
    elif sort == "tray":
        anchor, until = (first, dates.induce), dates.to_nursery
        moved = _moved(dates, first - dates.induce)
        moved = replace(moved, hatch=hatched or moved.hatch)
    else:
        anchor, until = (first, dates.to_nursery), dates.release
        moved = replace(_moved(dates, first - dates.to_nursery), to_nursery=first)
        moved = replace(moved, hatch=hatched or moved.hatch)
    shaped = _in_its_vessels(replace(model.batch, dates=moved), sort, held, known, batch)
    seen = {} if sort == "egg" else {h.vessel: _in_vessel(h) for h in held}
    return replace(
        model, batch=shaped, vessels=seen, anchor=anchor, until=until, water_l=model.batch.litres,
        larvae=_larvae(held) if sort == "egg" else None,
    )  # fmt: skip


def _first_day(batch: BatchState, held: list[Holding], known: Mapping[str, Vessel]) -> date:
    """The first day on which the batch was in such a vessel, as far as the log still tells."""
    kind = known[held[0].vessel].kind
    seen = [s.when for s in batch.sightings if s.where in known and known[s.where].kind == kind]
    if kind == "tray" and batch.settled is not None:
        seen.append(batch.settled)
    return min([*seen, *(holding.since for holding in held)]).date()


def _in_its_vessels(
    shaped: Batch, sort: str, held: list[Holding], known: Mapping[str, Vessel], batch: BatchState
) -> Batch:
    """The batch with the vessels that it is in, not those that were planned."""
    if sort == "egg":
        return replace(shaped, egg_masses=len(batch.masses) or shaped.egg_masses)
    if sort == "veliger":
        tanks = sorted(_tanks(held, known), key=lambda tank: (tank.kind, tank.number))
        return replace(shaped, tanks=tuple(tanks))
    if sort == "tray":
        groups = [known[holding.vessel].group for holding in held]
        return replace(shaped, trays={g: groups.count(g) for g in dict.fromkeys(groups)})
    return shaped


def _tanks(held: list[Holding], known: Mapping[str, Vessel]) -> Iterator[TankUse]:
    for holding in held:
        vessel = known[holding.vessel]
        number = int(holding.vessel.rsplit(" ", 1)[-1])
        yield TankUse(vessel.group, number, holding.litres or vessel.size)


def _moved(dates: BatchDates, by: timedelta) -> BatchDates:
    """The dates so much later; the release stays, since it is the target's."""
    last = dates.release
    return BatchDates(
        collect=dates.collect + by, hatch=dates.hatch + by,
        thin=tuple(thin + by for thin in dates.thin), induce=dates.induce + by,
        tank_until=dates.tank_until + by, to_nursery=min(dates.to_nursery + by, last),
        tray_until=dates.tray_until + by, ready=dates.ready + by, release=last,
    )  # fmt: skip


def _in_vessel(holding: Holding) -> InVessel:
    counted = holding.last_count is not None and holding.last_count.when == holding.alive_seen
    return InVessel(
        holding.alive, holding.alive_seen.date(), counted, holding.since.date(), holding.length_mm,
        _day(holding.length_seen), _day(holding.last_change),
    )  # fmt: skip


def _day(when: datetime | None) -> date | None:
    return when.date() if when is not None else None


def _larvae(held: list[Holding]) -> Given | None:
    """Hatched larvae that are still in the incubators, where they were counted."""
    there = [holding for holding in held if holding.stage != "egg" and holding.alive > 0]
    if not there:
        return None
    when = max(holding.alive_seen for holding in there).date()
    number = float(sum(holding.alive for holding in there))
    return Given("hatched", number, "1", last_seen(say("hatched"), when))
