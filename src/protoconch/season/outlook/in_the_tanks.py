"""What may be done with larvae that are in their tanks: thin, wait, induce sooner."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.daily import LARVA
from protoconch.season.model.layout import Lot
from protoconch.season.outlook.candidate import Candidate, Room
from protoconch.season.outlook.changes import (
    with_part_in,
    with_part_moved,
    with_places,
    with_reserve,
)
from protoconch.season.plan.options import TRAY_STREAM
from protoconch.words import say

Numbers = NDArray[np.float64]
LONGER, SOONER = 7, 4
"""Days by which the inducer may come later, or sooner."""
UNEVEN = 1.3
"""Densities of two tanks of a batch whose ratio is above this are worth evening out."""


def thinned(room: Room) -> Iterator[Candidate]:
    """Part of the densest tank of a batch into a free tank, or into a thinner one of its own."""
    now = room.now
    for b in range(len(now.codes)):
        if now.stage[b] != LARVA:
            continue
        own = now.layout.lots_of(b)
        per_l = np.array([now.alive[i].mean() / now.layout.lots[i].litres
                          for i in range(own.start, own.stop)])  # fmt: skip
        if per_l.size and per_l.max() > 0:
            yield from _into_free_tanks(room, b, own.start + int(per_l.argmax()))
            yield from _evened(room, b, own.start, per_l)


def _into_free_tanks(room: Room, b: int, lot: int) -> Iterator[Candidate]:
    now, free = room.now, room.free
    batch, full = now.layout.batches[b], now.layout.lots[lot]
    number = sum(1 for other in now.layout.lots if other.batch == b)
    days = np.arange(room.rests_on.days + 1)
    held = (days > now.day) & (days <= batch.tank_until)
    for k, tank in enumerate(room.rests_on.plan.hatchery.larval_tanks):
        food = _ration_g(room, b, tank.litres, held)
        hours = np.where(held, room.labour.daily_hours("veliger", tank.litres, 0, 0.0), 0.0)
        hours[min(now.day + 1, days[-1])] += room.labour.event_hours("stock", tank.litres, 0, 0.0)
        hours[min(batch.tank_until, days[-1])] += room.labour.event_hours(
            "induce", tank.litres, 0, 0.0
        )
        if not (free.has_tanks(k, now.day + 1, batch.tank_until) and free.has_food(food)
                and free.has_hands(hours)):  # fmt: skip
            continue
        share = tank.litres / (tank.litres + full.litres)
        places, left, tray_hours = _places(room, b, full, share)
        new = Lot(b, k * TRAY_STREAM, number, tank.litres, places)
        season = with_part_in(now, room.rests_on, room.source, lot, new, share)
        season = with_places(season, lot, left)
        yield Candidate(
            "thin", f"thin {room.now.codes[b]} {lot - now.layout.lots_of(b).start} into {k}",
            _said(room, b, lot, k, share), season, room.rests_on,
            float(hours.sum()) + tray_hours, 0, room.now.codes[b], float(food.sum()),
        )  # fmt: skip


def _said(room: Room, b: int, lot: int, kind: int, share: float) -> str:
    """What to do, and what is done with the larvae otherwise."""
    now = room.now
    per_l = float(now.alive[lot].mean()) / now.layout.lots[lot].litres
    told = {"percent": 100 * share, "where": room.where(b, lot), "batch": now.codes[b],
            "per_l": per_l, **room.tank(kind)}  # fmt: skip
    age = now.day - int(now.hatch[b])
    later = [(from_age, dense) for from_age, dense in room.rests_on.beliefs.density
             if from_age > age]  # fmt: skip
    if later and per_l > later[0][1]:
        return say(
            "Move {percent:.0f} % of the larvae in {where}, batch {batch}, into a free {tank} tank "
            "of {litres:g} L: they stand at about {per_l:.0f} per litre, and on {day:%-d %b %Y} "
            "all above {most:g} per litre would be let go.",
            day=room.day(int(now.hatch[b]) + int(later[0][0])), most=later[0][1], **told,
        )  # fmt: skip
    return say(
        "Move {percent:.0f} % of the larvae in {where}, batch {batch}, into a free {tank} tank "
        "of {litres:g} L: they stand at about {per_l:.0f} per litre.", **told,
    )  # fmt: skip


def _places(room: Room, b: int, full: Lot, share: float) -> tuple[float, float, float]:
    """Places on trays for the new tank and for the old one, and hours of the trays taken.

    The new tank gets trays of its own where some are free, else its part of the old one's.
    """
    batch = room.now.layout.batches[b]
    if not np.isfinite(full.places):
        return full.places, full.places, 0.0
    for t, tray in enumerate(room.rests_on.plan.hatchery.trays):
        each = tray.area_cm2 * room.rests_on.beliefs.larvae_per_cm2
        wanted = max(int(np.ceil(full.places * share / (1 - share) / each)), 1)
        if room.free.has_trays(t, batch.tray_from, batch.tray_until, wanted):
            days = max(batch.tray_until - batch.tray_from, 0)
            hours = days * room.labour.daily_hours("post-larva", 0.0, wanted, 0.0)
            return wanted * each, full.places, hours
    return full.places * share, full.places * (1 - share), 0.0


def _ration_g(room: Room, b: int, litres: float, held: NDArray[np.bool_]) -> Numbers:
    """Dry algae that so many litres more of a batch ask for on each day [g], (days + 1,)."""
    grams = np.zeros(held.size)
    age = np.arange(held.size) - int(room.now.hatch[b])
    for from_age, per_l in room.rests_on.beliefs.ration_g_l:
        grams = np.where(held & (age >= from_age), per_l * litres, grams)
    return grams


def _evened(room: Room, b: int, first: int, per_l: Numbers) -> Iterator[Candidate]:
    """Larvae from the densest tank of a batch into its thinnest."""
    dense, thin = int(per_l.argmax()), int(per_l.argmin())
    if per_l[dense] <= UNEVEN * per_l[thin]:
        return
    lots = room.now.layout.lots
    a, b_litres = lots[first + dense].litres, lots[first + thin].litres
    together = (per_l[dense] * a + per_l[thin] * b_litres) / (a + b_litres)
    share = float(1.0 - together / per_l[dense])
    yield Candidate(
        "thin", f"even out {room.now.codes[b]} {dense} into {thin}",
        say("Move {percent:.0f} % of the larvae in {where} into {to}, both of batch {batch}: there "
            "are about {dense:.0f} per litre in one and {thin:.0f} in the other.",
            percent=100 * share, where=room.where(b, first + dense), to=room.where(b, first + thin),
            batch=room.now.codes[b], dense=per_l[dense], thin=per_l[thin]),
        with_part_moved(room.now, first + dense, first + thin, share), room.rests_on,
        room.labour.event_hours("thin", a, 0, 0.0), 0, room.now.codes[b],
    )  # fmt: skip


def waited(room: Room) -> Iterator[Candidate]:
    """A week longer in the larval tanks, where these and the trays are free then."""
    now = room.now
    for b, batch in enumerate(now.layout.batches):
        if now.stage[b] not in {0, 1}:
            continue
        own = now.layout.lots[now.layout.lots_of(b)]
        until = batch.tank_until + LONGER
        if until >= min(batch.tray_until, room.rests_on.days):
            continue
        kinds = [lot.kind // TRAY_STREAM for lot in own]
        if all(room.free.has_tanks(k, batch.tank_until + 1, until, kinds.count(k))
               for k in set(kinds)):  # fmt: skip
            hours = sum(room.labour.daily_hours("veliger", lot.litres, 0, 0.0) for lot in own)
            yield Candidate(
                "wait for the slow", f"wait {now.codes[b]}",
                say("Keep the slow larvae of batch {batch} in their tanks up to {days} days longer "
                    "before the inducer.", batch=now.codes[b], days=LONGER),
                with_reserve(now, b, tank_until=until), room.rests_on, 0.25 * hours * LONGER, 0,
                now.codes[b],
            )  # fmt: skip


def earlier(room: Room) -> Iterator[Candidate]:
    """The inducer some days sooner, where the trays are free by then."""
    now, plan = room.now, room.rests_on.plan
    kinds = {tray.name: t for t, tray in enumerate(plan.hatchery.trays)}
    told = {room.rests_on.code(batch.code): batch for batch in plan.batches}
    for b, batch in enumerate(now.layout.batches):
        if now.stage[b] != LARVA or now.codes[b] not in told:
            continue
        planned = told[now.codes[b]]
        late = int(now.hatch[b]) - room.rests_on.day(planned.dates.hatch)
        until = room.rests_on.day(planned.dates.induce) + late - SOONER
        if not now.day < until < batch.tank_until:
            continue
        first = min(batch.tray_from, until)
        if not all(room.free.has_trays(kinds[name], first, batch.tray_from - 1, count)
                   for name, count in planned.trays.items()):  # fmt: skip
            continue
        own = now.layout.lots[now.layout.lots_of(b)]
        saved = sum(room.labour.daily_hours("veliger", lot.litres, 0, 0.0) for lot in own)
        spent = room.labour.daily_hours("post-larva", 0.0, sum(planned.trays.values()), 0.0)
        yield Candidate(
            "move earlier", f"move earlier {now.codes[b]}",
            say("Give the inducer to batch {batch} by {day:%-d %b %Y}, {days} days sooner, and let "
                "go of those that are not competent then.", batch=now.codes[b],
                day=room.day(until), days=SOONER),
            with_reserve(now, b, tank_until=until, tray_from=first), room.rests_on,
            SOONER * (spent - saved), 0, now.codes[b],
        )  # fmt: skip
