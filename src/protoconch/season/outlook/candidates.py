"""What may be done now: each thing that permit, room, algae and crew allow, as a season to try."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.draws import Streams, TankDraws
from protoconch.season.model.layout import Lot, ReservedBatch
from protoconch.season.outlook.ahead import standing
from protoconch.season.outlook.candidate import Candidate, Room
from protoconch.season.outlook.changes import (
    dice_of,
    some,
    with_algae,
    with_batch,
    with_reserve,
    with_tank,
    without_batch,
)
from protoconch.season.outlook.in_the_tanks import earlier, thinned, waited
from protoconch.season.outlook.room_left import room_left
from protoconch.season.outlook.screening import Begun, gains
from protoconch.season.outlook.water import water
from protoconch.season.plan.options import Option, reserved
from protoconch.words import counted, say

LATER = (14, 30)
LOOKED_INTO = 3
"""Batches more, of all days of collecting, that are simulated in full after a quick look."""


def candidates(
    room: Room, chosen: NDArray[np.intp], *, everything: bool = False
) -> Iterator[Candidate]:  # fmt: skip
    """Everything that may be done.

    chosen: the futures tried. everything: all days of collecting, not only those that a quick
    look prefers.
    """
    yield from _collect(room, everything=everything)
    yield from _stock_or_leave(room)
    yield from _shifted(room, everything=everything)
    yield from thinned(room)
    yield from waited(room)
    yield from earlier(room)
    yield from _culture(room)
    yield from _held(room, chosen)


def _collect(room: Room, *, everything: bool) -> Iterator[Candidate]:
    """One batch more from wild egg masses, on a day on which the permit allows it."""
    free, rests_on = room.free, room.rests_on
    starts = room.starts()
    if not starts or free.masses < 1:
        return
    trip = room.labour.event_hours("collect", 0.0, 0, 0.0)
    dice = dice_of(room.now, rests_on, room.source)
    found: list[tuple[Option, int, Begun]] = []
    for option in room.options(*starts):
        reserve = reserved(option.calendar, option.eggs)
        masses = max(1, int(np.ceil(option.eggs / rests_on.beliefs.eggs_per_mass)))
        start = option.calendar.start
        if masses > free.masses or not free.has_places(start, reserve.tank_from, masses):
            continue
        if free.crew_h[start] < trip or not free.has_room([(option, 1)], reserve):
            continue
        litres = rests_on.plan.hatchery.larval_tanks[option.tank_kind].litres
        lot = Lot(0, *option.stream(0), litres, option.places)
        found.append((option, masses, Begun(
            reserve, (lot,), dice.batch(start), (dice.tank(start, lot.kind, 0),)
        )))  # fmt: skip
    if len(found) > LOOKED_INTO and not everything:
        gained = gains(room, [begun for _, _, begun in found])
        rate = gained / np.array([option.hours.sum() + trip for option, _, _ in found])
        best = set(np.argsort(-rate)[:LOOKED_INTO]) | set(np.argsort(-gained)[:1])
        found = [one for place, one in enumerate(found) if place in best]
    for option, masses, begun in found:
        tray = rests_on.plan.hatchery.trays[option.tray_kind].name
        start = option.calendar.start
        yield Candidate(
            "collect", f"collect {start} {option.tank_kind} {option.tray_kind}",
            counted(
                masses,
                "Collect {number} egg mass on {day:%-d %b %Y} for one {tank} tank of {litres:g} L "
                "and {trays} × {tray}.",
                "Collect {number} egg masses on {day:%-d %b %Y} for one {tank} tank of {litres:g} "
                "L and {trays} × {tray}.",
                day=room.day(start), trays=option.trays, tray=tray, **room.tank(option.tank_kind),
            ),
            with_batch(room.now, rests_on, begun, f"new {start} {option.index}"),
            rests_on, float(option.hours.sum()) + trip, masses, "", float(option.algae_g.sum()),
            f"collect {option.tank_kind} {option.tray_kind}",
        )  # fmt: skip


def _stock_or_leave(room: Room) -> Iterator[Candidate]:
    """One tank more, or none at all, for batches that the plan has and that have not begun."""
    now, free, rests_on = room.now, room.free, room.rests_on
    waiting = [b for b in range(len(now.codes)) if now.stage[b] < 0]
    if not waiting:
        return
    made = room.options(*{now.layout.batches[b].start for b in waiting})
    told = room.known.posterior.history.masses + sum(room.pieces(b) for b in waiting)
    for b in waiting:
        batch, code = now.layout.batches[b], now.codes[b]
        mine = [o for o in made if o.calendar.start == batch.start]
        for option in mine:
            needed = int(np.ceil((batch.eggs + option.eggs) / rests_on.beliefs.eggs_per_mass))
            more = max(needed - max(room.pieces(b), 1), 0)
            if more > free.masses or not free.has_room([(option, 1)], batch):
                continue
            tray = rests_on.plan.hatchery.trays[option.tray_kind].name
            yield Candidate(
                "stock", f"stock {code} {option.tank_kind} {option.tray_kind}",
                say("Stock one {tank} tank of {litres:g} L more with batch {batch}, and keep "
                    "{trays} × {tray} for it.", batch=code, trays=option.trays, tray=tray,
                    **room.tank(option.tank_kind)),
                with_tank(now, rests_on, room.source, b, option), rests_on,
                float(option.hours.sum()), more, code, float(option.algae_g.sum()),
            )  # fmt: skip
        usual = usual_options(room, mine, b)
        least = rests_on.plan.hatchery.genetics.min_masses
        if usual and not told - room.pieces(b) < least <= told:
            hours = sum(count * float(option.hours.sum()) for option, count in usual)
            algae = sum(count * float(option.algae_g.sum()) for option, count in usual)
            yield Candidate(
                "leave out", f"leave out {code}", say("Leave out batch {batch}.", batch=code),
                without_batch(now, b), rests_on, -hours,
                -room.pieces(b), code, -algae,
            )  # fmt: skip


def usual_options(room: Room, made: list[Option], b: int) -> list[tuple[Option, int]]:
    """What the lots of a batch that has not begun take from the room: options and their number."""
    tanks = room.rests_on.plan.hatchery.larval_tanks
    own = room.now.layout.lots[room.now.layout.lots_of(b)]
    counts, found = Counter(lot.litres for lot in own), []
    for litres, count in counts.items():
        fit = [o for o in made if tanks[o.tank_kind].litres == litres]
        if not fit:
            return []
        found.append((fit[0], count))
    return found


def _shifted(room: Room, *, everything: bool) -> Iterator[Candidate]:
    """Another day of collecting for a batch that has not begun: one sooner, one later."""
    now, rests_on = room.now, room.rests_on
    starts = room.starts()
    for b in range(len(now.codes)):
        if now.stage[b] >= 0 or not starts:
            continue
        batch, code, own = now.layout.batches[b], now.codes[b], now.layout.lots_of(b)
        found = _other_days(room, b, starts)
        if len(found) > 1 and not everything:
            tanks = tuple(TankDraws(now.futures.stage[:, i], now.futures.lost_larval[i],
                                    now.futures.lost_nursery[i])
                          for i in range(own.start, own.stop))  # fmt: skip
            gained = gains(room, [Begun(reserve, now.layout.lots[own], now.futures.batches[b],
                                        tanks) for reserve in found], b)  # fmt: skip
            sooner = [i for i, reserve in enumerate(found) if reserve.start < batch.start]
            sides = sooner, [i for i in range(len(found)) if i not in sooner]
            found = [found[max(side, key=lambda i: gained[i])] for side in sides if side]
        for reserve in found:
            moved = {name: getattr(reserve, name) for name in
                     ("start", "tank_from", "tank_until", "tray_from", "tray_until")}  # fmt: skip
            when = {"batch": code, "day": room.day(reserve.start),
                    "planned": room.day(batch.start)}  # fmt: skip
            yield Candidate(
                "shift the date", f"shift {code} {reserve.start}",
                say("Collect the masses of batch {batch} on {day:%-d %b %Y}, sooner than "
                    "planned ({planned:%-d %b}).", **when) if reserve.start < batch.start
                else say("Collect the masses of batch {batch} on {day:%-d %b %Y}, later than "
                         "planned ({planned:%-d %b}).", **when),
                with_reserve(now, b, **moved), rests_on, 0.0, 0, code,
            )  # fmt: skip


def _other_days(room: Room, b: int, starts: list[int]) -> list[ReservedBatch]:
    """The reserved days of a batch for every other day of collecting on which it has room."""
    now, rests_on = room.now, room.rests_on
    batch = now.layout.batches[b]
    made = room.options(batch.start, *starts)
    own = usual_options(room, [o for o in made if o.calendar.start == batch.start], b)
    bare = room_left(without_batch(now, b), rests_on, room.known.posterior.history.masses)
    mine = sum((count * option.hours for option, count in own), np.zeros(rests_on.days + 1))
    bare = replace(bare, crew_h=bare.crew_h + mine)
    trip = room.labour.event_hours("collect", 0.0, 0, 0.0)
    found = []
    for day in starts:
        needs = usual_options(room, [o for o in made if o.calendar.start == day], b)
        if not needs:
            continue
        reserve = reserved(needs[0][0].calendar, batch.eggs)
        places = bare.has_places(day, reserve.tank_from, max(room.pieces(b), 1))
        if places and bare.crew_h[day] >= trip and bare.has_room(needs, reserve):
            found.append(reserve)
    return found


def _culture(room: Room) -> Iterator[Candidate]:
    """One culture of algae more, as long as larvae feed."""
    now, rests_on = room.now, room.rests_on
    open_ = [b for b in range(len(now.codes)) if now.stage[b] <= 1]
    if not open_ or not rests_on.beliefs.ration_g_l:
        return
    last = min(max(now.layout.batches[b].tank_until for b in open_), rests_on.days)
    days = max(last - now.day, 0)
    share = rests_on.measures.number("action.culture_share")
    yield Candidate(
        "extra culture", "extra culture",
        say("Run one algae culture more until {day:%-d %b %Y}: about {percent:.0f} % more food.",
            day=room.day(last), percent=100 * share),
        with_algae(now, share), rests_on, rests_on.measures.number("action.culture_hours") * days,
        algae_g=share * rests_on.plan.hatchery.algae_dry_g_per_day * days,
    )  # fmt: skip


def _held(room: Room, chosen: NDArray[np.intp]) -> Iterator[Candidate]:
    """Hold the release: the same animals, some days later; a matter for the partner to agree."""
    known, rests_on = room.known, room.rests_on
    plan = rests_on.plan
    tended = room.labour.daily_hours("juvenile", 0.0, 0, plan.nursery_m2)
    for days in LATER:
        target = replace(plan.target, by=plan.target.by + timedelta(days=days))
        longer = replace(rests_on, days=rests_on.days + days, plan=replace(plan, target=target))
        readings = known.posterior.history.readings
        further = water(rests_on.beliefs, readings, longer.days, rests_on.first_day_of_year)
        posterior = replace(known.posterior, water=further)
        season = standing(longer, posterior, Streams(posterior.seed))
        yield Candidate(
            "hold release", f"hold {days}",
            say("Hold the release until {day:%-d %b %Y}, {days} days later, if the release "
                "partner agrees.", day=target.by, days=days),
            some(season, chosen), longer, tended * days,
        )  # fmt: skip
