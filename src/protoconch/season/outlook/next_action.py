"""What would help most now: each thing that may be done, tried on the same futures.

Every candidate is simulated on the very futures of the season as it stands (common random
numbers), so that a difference of one in a hundred shows. Nothing is offered that the permit, the
room, the algae, the crew or the genetics rule does not allow.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from protoconch.season.model.draws import Streams
from protoconch.season.outlook.ahead import Standing, onward, standing, totals
from protoconch.season.outlook.basis import Basis, plan_streams
from protoconch.season.outlook.changes import (
    some,
    with_algae,
    with_batch,
    with_reserve,
    with_tank,
    without_batch,
)
from protoconch.season.outlook.outlook import Known
from protoconch.season.outlook.room_left import RoomLeft, room_left
from protoconch.season.outlook.water import water
from protoconch.season.plan.calendar import batch_calendars
from protoconch.season.plan.options import (
    Labour,
    Option,
    Setting,
    collecting_days,
    options,
    reserved,
)

Numbers = NDArray[np.float64]
Kind = Literal["collect", "stock", "leave out", "wait for the slow", "extra culture",
               "shift the date", "count again"]  # fmt: skip
TRIED = 500
"""Futures in which candidates are tried."""
SMOOTH = 0.12
"""Width in ln(animals) over which "met" is smoothed for the ranking; the odds shown are not."""
LONGER = 7
LATER = (14, 30)
LEAST_HOURS = 0.5
"""Hours that any action takes at least: somebody must decide and tell the others."""
SAVING = 0.02
"""Odds that leaving a batch out may cost and still be offered to save its hours."""
COLLECTING = 2
"""Days of collecting looked at: the first ones still open, since later ones have less time."""


@dataclass(frozen=True, slots=True)
class Action:
    """One thing that could be done, and what it does to the odds.

    gain: change of the odds; error: its standard error on common futures; low, high: 95 % of it.
    rank_gain: the same, smoothed, by which actions are ranked. hours: of work it adds (below
    zero: saves). masses: egg masses it takes. worth: rank_gain less hours at the plan's own price.
    helps: whether rank_gain is beyond its error. per_hour: rank_gain for each hour it adds.
    changes_target: whether the date asked is another. independent_error: what the error would be
    without common futures. more: animals more at the date, mean.
    """

    kind: Kind
    sentence: str
    gain: float
    error: float
    low: float
    high: float
    rank_gain: float
    hours: float
    masses: int
    worth: float
    helps: bool
    per_hour: float
    changes_target: bool
    independent_error: float
    more: float
    met: Numbers
    batch: str = ""


@dataclass(frozen=True, slots=True)
class Choices:
    """All actions, the best first; base: odds as things stand; hour: odds that an hour is worth.

    met: by future, smoothed, as things stand, (n,).
    """

    base: float
    hour: float
    actions: tuple[Action, ...]
    met: Numbers
    silent: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Candidate:
    kind: Kind
    sentence: str
    season: Standing
    rests_on: Basis
    hours: float
    masses: int = 0
    batch: str = ""


def next_actions(known: Known, labour: Labour, tried: int = TRIED) -> Choices:
    """Everything that may be done now, ranked by what it is worth.

    labour: hours of work that a lot needs. tried: futures; the same seed gives the same answer.
    """
    now, rests_on = known.standing, known.basis
    chosen = np.arange(min(tried, now.futures.n), dtype=np.intp)
    now = some(now, chosen)
    source = Streams(known.posterior.seed)
    base = _total(now, rests_on)
    animals = rests_on.plan.target.animals
    met, smooth = base >= animals, _smooth(base, animals)
    hour = rests_on.plan.target.confidence / max(rests_on.plan.work_hours, 100.0)
    free = room_left(now, rests_on, known.posterior.history.masses)
    found = []
    for candidate in _candidates(known, labour, now, free, source, chosen):
        total = _total(candidate.season, candidate.rests_on)
        found.append(_judged(candidate, total, base, met, smooth, animals, hour))
    sure = rests_on.plan.target.confidence
    found = [a for a in found if a.kind != "leave out" or a.helps
             or (a.rank_gain > -SAVING and float(met.mean()) + a.low >= sure)]  # fmt: skip
    found.sort(key=_order)
    return Choices(float(met.mean()), hour, tuple(found), smooth, SILENT)


SILENT = (
    (
        "Thinning more is not offered: the stage model knows no harm of crowding below the "
        "densities it thins to, so it would see only the loss."
    ),
    ("A fresh cartridge is not tried on the futures: no number links water clarity to survival."),
)


def _order(action: Action) -> tuple[bool, bool, float]:
    """What helps first, by odds gained per hour; then what saves hours; other dates last."""
    return (action.changes_target, not action.helps,
            -action.per_hour if action.helps else -action.worth)  # fmt: skip


def _total(season: Standing, rests_on: Basis) -> Numbers:
    outcome = onward(season, rests_on)
    return np.asarray(totals(season, rests_on, outcome).sum(axis=0) + season.released)


def _smooth(total: Numbers, animals: float) -> Numbers:
    """Chance that the target is met, smoothed about it, (n,)."""
    return np.asarray(ndtr(np.log(np.maximum(total, 1e-9) / animals) / SMOOTH))


def _judged(
    candidate: _Candidate, total: Numbers, base: Numbers, met: NDArray[np.bool_], smooth: Numbers,
    animals: float, hour: float,
) -> Action:  # fmt: skip
    then, now = (total >= animals).astype(float), met.astype(float)
    n = total.size
    gain, error = float((then - now).mean()), float((then - now).std(ddof=1) / np.sqrt(n))
    error = max(error, 1.0 / n)
    alone = float(np.sqrt((then.var() + now.var()) / n))
    after = _smooth(total, animals)
    rank_gain = float((after - smooth).mean())
    return Action(
        kind=candidate.kind, sentence=candidate.sentence, gain=gain, error=error,
        low=gain - 1.96 * error, high=gain + 1.96 * error, rank_gain=rank_gain,
        hours=candidate.hours, masses=candidate.masses, worth=rank_gain - hour * candidate.hours,
        helps=rank_gain > 2 * float((after - smooth).std(ddof=1) / np.sqrt(n)) + 1.0 / n**2,
        per_hour=rank_gain / max(candidate.hours, LEAST_HOURS),
        changes_target=candidate.kind == "shift the date", independent_error=alone,
        more=float((total - base).mean()), met=after, batch=candidate.batch,
    )  # fmt: skip


def _candidates(
    known: Known, labour: Labour, now: Standing, free: RoomLeft, source: Streams,
    chosen: NDArray[np.intp],
) -> Iterator[_Candidate]:  # fmt: skip
    rests_on = known.basis
    setting = Setting(
        rests_on.plan.hatchery, rests_on.beliefs, plan_streams(rests_on.plan.seed),
        rests_on.first_day, rests_on.days, rests_on.size_days, rests_on.plan.target.size_mm, labour,
    )  # fmt: skip
    yield from _collect(rests_on, setting, now, free, source, labour)
    yield from _stock_or_leave(rests_on, setting, now, free, source)
    yield from _wait(rests_on, now, free, labour)
    yield from _culture(rests_on, now)
    yield from _later(known, chosen, labour)


def _made(rests_on: Basis, setting: Setting, starts: tuple[int, ...]) -> list[Option]:
    calendars = batch_calendars(rests_on.beliefs, setting.source, starts, rests_on.days,
                                setting.first_day_of_year, rests_on.size_days)  # fmt: skip
    return options(setting, calendars, 200)


def _collect(
    rests_on: Basis, setting: Setting, now: Standing, free: RoomLeft, source: Streams,
    labour: Labour,
) -> Iterator[_Candidate]:  # fmt: skip
    """One batch more from wild egg masses, on the next days on which the permit allows it."""
    hatchery = rests_on.plan.hatchery
    starts = [day for day in collecting_days(hatchery, rests_on.first_day, hatchery.last_day)
              if now.day < day < rests_on.days]  # fmt: skip
    taken = {batch.start for batch in now.layout.batches}
    starts = [day for day in starts if day not in taken][:COLLECTING]
    if not starts or free.masses < 1 or free.incubator < 1:
        return
    for option in _made(rests_on, setting, tuple(starts)):
        reserve = reserved(option.calendar, option.eggs)
        masses = max(1, int(np.ceil(option.eggs / rests_on.beliefs.eggs_per_mass)))
        start = option.calendar.start
        trip = labour.event_hours("collect", 0.0, 0, 0.0)
        if not free.has_room(option, reserve) or masses > free.masses:
            continue
        if free.crew_h[start] < trip:
            continue
        tank = hatchery.larval_tanks[option.tank_kind]
        code = f"new {start} {option.index}"
        yield _Candidate(
            "collect", f"Collect {masses} egg mass{'es' if masses > 1 else ''} on "
            f"{_date(rests_on, start)} for one {tank.name} tank of {tank.litres:g} L.",
            with_batch(now, rests_on, source, reserve, option, code), rests_on,
            float(option.hours.sum()) + trip, masses,
        )  # fmt: skip


def _stock_or_leave(
    rests_on: Basis, setting: Setting, now: Standing, free: RoomLeft, source: Streams
) -> Iterator[_Candidate]:
    """One tank more, or none at all, for batches that the plan has and that have not begun."""
    waiting = [b for b in range(len(now.codes)) if now.stage[b] < 0]
    if not waiting:
        return
    starts = tuple(sorted({now.layout.batches[b].start for b in waiting}))
    made = _made(rests_on, setting, starts)
    for b in waiting:
        batch, code = now.layout.batches[b], now.codes[b]
        own = now.layout.lots[now.layout.lots_of(b)]
        mine = [o for o in made if o.calendar.start == batch.start]
        for option in mine:
            if free.has_room(option, batch):
                tank = rests_on.plan.hatchery.larval_tanks[option.tank_kind]
                yield _Candidate(
                    "stock", f"Stock one {tank.name} tank of {tank.litres:g} L more with batch "
                    f"{code}.", with_tank(now, rests_on, source, b, option), rests_on,
                    float(option.hours.sum()), 0, code,
                )  # fmt: skip
        usual = [o for o in mine if any(lot.litres == rests_on.plan.hatchery.larval_tanks[
            o.tank_kind].litres for lot in own)]  # fmt: skip
        if usual:
            yield _Candidate(
                "leave out", f"Leave out batch {code}.", without_batch(now, b), rests_on,
                -float(usual[0].hours.sum()) * len(own), 0, code,
            )  # fmt: skip


def _wait(rests_on: Basis, now: Standing, free: RoomLeft, labour: Labour) -> Iterator[_Candidate]:
    """A week longer in the larval tanks, where these and the trays are free then."""
    for b, batch in enumerate(now.layout.batches):
        if now.stage[b] not in {0, 1}:
            continue
        own = now.layout.lots[now.layout.lots_of(b)]
        until = batch.tank_until + LONGER
        if until >= min(batch.tray_until, rests_on.days):
            continue
        kinds = [lot.kind // 16 for lot in own]
        days = slice(batch.tank_until + 1, until + 1)
        if all(np.all(free.tanks[k][days] >= kinds.count(k)) for k in set(kinds)):
            hours = sum(labour.daily_hours("veliger", lot.litres, 0, 0.0) for lot in own) * LONGER
            yield _Candidate(
                "wait for the slow", f"Keep the slow larvae of batch {now.codes[b]} in their tanks "
                f"up to {LONGER} days longer before the inducer.",
                with_reserve(now, b, tank_until=until), rests_on, 0.25 * hours, 0, now.codes[b],
            )  # fmt: skip


def _culture(rests_on: Basis, now: Standing) -> Iterator[_Candidate]:
    """One culture of algae more, as long as larvae feed."""
    open_ = [b for b in range(len(now.codes)) if now.stage[b] <= 1]
    if not open_ or not rests_on.beliefs.ration_g_l:
        return
    last = max(now.layout.batches[b].tank_until for b in open_)
    share = rests_on.measures.number("action.culture_share")
    hours = rests_on.measures.number("action.culture_hours") * max(last - now.day, 0)
    yield _Candidate(
        "extra culture", f"Run one algae culture more until {_date(rests_on, last)}: about "
        f"{share * 100:.0f} % more food.", with_algae(now, share), rests_on, hours,
    )  # fmt: skip


def _later(known: Known, chosen: NDArray[np.intp], labour: Labour) -> Iterator[_Candidate]:
    """Hold the release: the same animals, some days later; a matter for the partner to agree."""
    rests_on = known.basis
    plan = rests_on.plan
    tended = labour.daily_hours("juvenile", 0.0, 0, plan.nursery_m2)
    for days in LATER:
        target = replace(plan.target, by=plan.target.by + timedelta(days=days))
        longer = replace(rests_on, days=rests_on.days + days, plan=replace(plan, target=target))
        readings = known.posterior.history.readings
        further = water(rests_on.beliefs, readings, longer.days, rests_on.first_day_of_year)
        posterior = replace(known.posterior, water=further)
        season = standing(longer, posterior, Streams(posterior.seed))
        yield _Candidate(
            "shift the date", f"Hold the release until {target.by}, {days} days later, if the "
            "release partner agrees.", some(season, chosen), longer, tended * days,
        )  # fmt: skip


def _date(rests_on: Basis, day: int) -> str:
    return str(rests_on.first_day + timedelta(days=int(day)))
