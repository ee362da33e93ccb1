"""From what is believed now to the day of release, with the daily kernel of the stage model."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from uuid import UUID
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.daily import LARVA, NURSERY, TRAY, DailySeason, Diary
from protoconch.season.model.draws import (
    NEVER,
    BatchDraws,
    Dice,
    SiteDraws,
    Streams,
    TankDraws,
)
from protoconch.season.model.events import Outcome
from protoconch.season.model.layout import Futures, Layout, Lot, ReservedBatch, stacked
from protoconch.season.model.simulate import ready
from protoconch.season.outlook.basis import Basis
from protoconch.season.outlook.laid_out import Term, tables
from protoconch.season.outlook.seen import Course, Observation, Part
from protoconch.season.outlook.unknowns import BATCH_EFFECTS, STAGE_EFFECTS
from protoconch.season.outlook.update import Posterior, likelihood
from protoconch.season.outlook.water import clocks
from protoconch.season.plan.options import TRAY_STREAM

Numbers = NDArray[np.float64]
WEATHER, UNSEEN = 78, 79
"""Random streams of the weather still to come, and of what the log is silent about."""
GIVEN_UP = 14
"""Days after its planned day on which a batch that has not begun is no longer counted on."""
Fill = Callable[[str], Numbers]


@dataclass(frozen=True, slots=True)
class Standing:
    """The season as it stands on the morning after which it goes on, in n futures.

    layout: plan and log together; futures: draws, those of the past conditioned on the log.
    alive: (lots, n); stage: (batches,); hatch, induce, nursery: days, (batches,), past the end
    where they have not come about; codes: of the batches in the log's way.
    """

    day: int
    layout: Layout
    futures: Futures
    alive: Numbers
    stage: NDArray[np.int8]
    hatch: NDArray[np.int64]
    induce: NDArray[np.int64]
    nursery: NDArray[np.int64]
    codes: tuple[str, ...]
    released: float


class _Onward(DailySeason):
    """The daily kernel, taken up where the log leaves the season."""

    def __init__(self, standing: Standing, basis: Basis) -> None:
        super().__init__(standing.layout, standing.futures, basis.beliefs)
        self.standing = standing

    def begin(self, day: int) -> None:
        """Take up the season as it stands, not as the events would have it."""
        s, clock = self.standing, self.draws.site.clock
        for name in ("hatch", "induce", "nursery"):
            getattr(self.outcome, name)[:] = getattr(s, name)[:, None]
        self.stage[:] = s.stage[:, None]
        self.alive[:] = s.alive
        for b, batch in enumerate(self.layout.batches):
            own = self.own[b]
            if s.stage[b] < LARVA:
                self.progress[b] = clock[day] - clock[min(batch.start, day)]
            else:
                self.progress[b] = clock[day] - clock[min(s.hatch[b], day)]
            if s.stage[b] >= TRAY:
                self.grown[b] = (clock[day] - clock[s.induce[b]]) * self.growth[b]
                self.outcome.settled[own] = s.alive[own]
            if s.stage[b] >= NURSERY:
                self.outcome.to_nursery[own] = s.alive[own]
            for stage in (LARVA, TRAY, NURSERY):
                self._live_as(b, self.stage[b] >= stage, stage)
        self._grow_large()
        self.check_floor_on[:] = day


def onward(standing: Standing, basis: Basis, diary: Diary | None = None) -> Outcome:
    """How the season ends in every future."""
    return _Onward(standing, basis).run(diary, from_day=standing.day)


def totals(standing: Standing, basis: Basis, outcome: Outcome) -> Numbers:
    """Animals of the size asked by each batch, those released left out, (batches, n)."""
    each = ready(standing.layout, outcome, basis.size_days)
    return np.array(
        [each[standing.layout.lots_of(b)].sum(axis=0) for b in range(len(standing.layout.batches))]
    ).reshape(-1, each.shape[1])


@dataclass(frozen=True, slots=True)
class _Planned:
    """A batch as plan or log have it: its reserved days and its lots with their course."""

    code: str
    batch: ReservedBatch
    lots: tuple[tuple[Lot, Course | None], ...]
    hatched: int | None
    begun: bool


def standing(basis: Basis, believed: Posterior, source: Streams, repeat: int = 1) -> Standing:
    """The season as it stands after the log.

    source: streams of what is still unknown; the same source, the same weather and losses,
    whatever is changed in the plan. repeat: futures for each particle.
    """
    z = np.repeat(believed.z, repeat, axis=1)
    day, n = max(believed.history.day, 0), z.shape[1]
    planned = _batches(basis, believed)
    dice = Dice(basis.beliefs, source, 0, n, basis.days, basis.first_day_of_year)
    names = {name: i for i, name in enumerate(believed.layout.coordinates.names)}
    unknown = basis.site.values(z[: len(basis.site.names)])
    clock = clocks(basis.beliefs, believed.water, np.log(unknown["incubation.q10"]), day,
                   source.of(0, WEATHER))  # fmt: skip
    site = SiteDraws({name: unknown[name] for name in basis.beliefs.uncertain}, clock)
    batches = tuple(_batch_draws(p, z, names, dice, day) for p in planned)
    lots = [(p, lot, course) for p in planned for lot, course in p.lots]
    tanks = [_tank_draws(p, lot, course, z, names, dice, day) for p, lot, course in lots]
    layout = Layout(
        tuple(p.batch for p in planned), tuple(lot for _, lot, _ in lots), basis.days,
        basis.plan.hatchery.algae_dry_g_per_day, basis.plan.hatchery.nursery_area_m2,
        basis.size_days,
    )  # fmt: skip
    alive = np.zeros((len(lots), n))

    def fill(name: str) -> Numbers:
        """Prior draws of a coordinate that the log says nothing of, those the future uses."""
        for (_, _, course), tank in zip(lots, tanks, strict=True):
            for s, effect in enumerate(STAGE_EFFECTS):
                if course is not None and name == f"{course.key} {effect}":
                    return np.asarray(tank.stage[s])
        stream = source.of(0, UNSEEN, crc32(name.encode()))
        return np.asarray(stream.standard_normal(n))

    logged = [i for i, (_, _, course) in enumerate(lots) if course is not None]
    courses = tuple(course for _, _, course in lots if course is not None)
    alive[logged] = numbers_on(basis, believed, day, courses, z, fill)
    for i, (p, lot, course) in enumerate(lots):
        if course is None and p.begun:
            alive[i] = p.batch.eggs * lot.litres / sum(other.litres for other, _ in p.lots)
    days = [_days(p, basis.days) for p in planned]
    hatch, induce, nursery = (np.array([d[i] for d in days], dtype=np.int64) for i in range(3))
    return Standing(
        day=day, layout=layout, futures=stacked(site, batches, tanks), alive=alive,
        stage=np.array([_stage(p) for p in planned], dtype=np.int8),
        hatch=hatch, induce=induce, nursery=nursery, codes=tuple(p.code for p in planned),
        released=believed.history.released,
    )  # fmt: skip


def _stage(planned: _Planned) -> int:
    """-1 not begun, 0 eggs, 1 larvae, 2 on trays, 3 in the nursery: the furthest of its lots."""
    if not planned.begun:
        return -1
    if planned.hatched is None:
        return 0
    courses = [c for _, c in planned.lots if c is not None and c.ended is None]
    if not courses:
        return 1 if any(c is not None for _, c in planned.lots) else 0
    return max(3 if c.nursery is not None else 2 if c.induced is not None else 1 for c in courses)


def _days(planned: _Planned, last: int) -> tuple[int, int, int]:
    courses = [c for _, c in planned.lots if c is not None]
    induced = [c.induced for c in courses if c.induced is not None]
    nursery = [c.nursery for c in courses if c.nursery is not None]
    never = last + 1
    if not courses:
        return never, never, never
    hatch = planned.hatched if planned.hatched is not None else never
    return hatch, min(induced, default=never), min(nursery, default=never)


def _batches(basis: Basis, believed: Posterior) -> list[_Planned]:
    """The plan's batches in order, as the log has them where they have begun, and others after."""
    told = believed.history
    begun = {batch.code: batch for batch in told.batches}
    made: list[_Planned] = []
    tanks = {tank.name: k for k, tank in enumerate(basis.plan.hatchery.larval_tanks)}
    for batch in basis.plan.batches:
        code, calendar = basis.code(batch.code), basis.calendars[batch.code]
        log = begun.get(code)
        late = told.day + 1 - calendar.start
        if log is None and late > GIVEN_UP:
            continue
        if log is None and late > 0:
            reserve = _shifted(calendar, batch.eggs, late)
        else:
            reserve = _shifted(calendar, batch.eggs, (log.started if log else calendar.start)
                               - calendar.start)  # fmt: skip
        if log and log.eggs:
            reserve = replace(reserve, eggs=max(log.eggs, 1.0))
        places = _places(basis, batch.trays) / max(len(batch.tanks), 1)
        courses = [c for c in told.courses if c.batch == code]
        lots: list[tuple[Lot, Course | None]] = [
            (Lot(len(made), tanks.get(c.tank.rsplit(" tank ", 1)[0], 0) * TRAY_STREAM, i,
                 c.litres or 1.0, c.places if c.induced is not None else places), c)
            for i, c in enumerate(courses)
        ]  # fmt: skip
        if not lots:
            lots = [(Lot(len(made), tanks[tank.kind] * TRAY_STREAM, i, tank.litres, places), None)
                    for i, tank in enumerate(batch.tanks)]  # fmt: skip
        made.append(_Planned(code, reserve, tuple(lots), log.hatched if log else None,
                             log is not None))  # fmt: skip
    known = {p.code for p in made}
    for log in told.batches:
        courses = [c for c in told.courses if c.batch == log.code]
        if log.code not in known and courses:
            made.append(_extra(basis, log.code, log.started, log.hatched, courses, len(made)))
    return made


def _extra(basis: Basis, code: str, started: int, hatched: int | None, courses: list[Course],
           place: int) -> _Planned:  # fmt: skip
    """A batch that the log has and the plan has not; its places are kept as long as it may need."""
    longest = int(basis.beliefs.longest_larval_days)
    reserve = ReservedBatch(started, 1.0, started, started + longest + 6, started + 14,
                            started + longest + 60)  # fmt: skip
    lots = tuple((Lot(place, 0, i, c.litres or 1.0, c.places), c) for i, c in enumerate(courses))
    return _Planned(code, reserve, lots, hatched, begun=True)


def _shifted(calendar: object, eggs: float, days: int) -> ReservedBatch:
    names = ("start", "tank_from", "tank_until", "tray_from", "tray_until")
    start, tank_from, tank_until, tray_from, tray_until = (
        int(getattr(calendar, name)) + days for name in names
    )
    return ReservedBatch(start, eggs, tank_from, tank_until, tray_from, tray_until)


def _places(basis: Basis, trays: dict[str, int]) -> float:
    area = {tray.name: tray.area_cm2 for tray in basis.plan.hatchery.trays}
    floor = sum(area[name] * count for name, count in trays.items())
    return floor * basis.beliefs.larvae_per_cm2


def _batch_draws(
    planned: _Planned, z: Numbers, names: dict[str, int], dice: Dice, day: int
) -> BatchDraws:
    """Effects of a batch: what the log tells of it, and losses that are still to come."""
    b = dice.beliefs
    prior = dice.batch(planned.batch.start)
    if not planned.begun:
        return prior
    scale = {"quality": 1.0, "growth": b.growth_batch_sd, "period": b.period_batch_sd,
             "settle": b.metamorphosis_sd}  # fmt: skip
    found = {effect: scale[effect] * z[names[f"{planned.code} {effect}"]]
             for effect in BATCH_EFFECTS if f"{planned.code} {effect}" in names}  # fmt: skip
    larval, nursery = _later_losses(planned, prior.lost_larval, prior.lost_nursery, day)
    return BatchDraws(
        quality=found.get("quality", prior.quality),
        growth=np.exp(found["growth"]) if "growth" in found else prior.growth,
        period=np.exp(found["period"]) if "period" in found else prior.period,
        settle=found.get("settle", prior.settle),
        lost_larval=larval, lost_nursery=nursery,
    )  # fmt: skip


def _later_losses(
    planned: _Planned, larval: NDArray[np.int64], nursery: NDArray[np.int64], day: int
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Days of loss put off by the time already lived: a loss has no memory, and none was seen."""
    hatch, _, entered = _days(planned, NEVER)
    lived = max(day - hatch, 0) if hatch <= day else 0
    nursed = max(day - entered, 0) if entered <= day else 0
    return np.minimum(larval + lived, NEVER), np.minimum(nursery + nursed, NEVER)


def _tank_draws(
    planned: _Planned, lot: Lot, course: Course | None, z: Numbers, names: dict[str, int],
    dice: Dice, day: int,
) -> TankDraws:  # fmt: skip
    prior = dice.tank(planned.batch.start, lot.kind, lot.number)
    if course is None:
        return prior
    stage = prior.stage.copy()
    for s, effect in enumerate(STAGE_EFFECTS):
        if f"{course.key} {effect}" in names:
            stage[s] = z[names[f"{course.key} {effect}"]]
    return TankDraws(stage, *_later_losses(planned, prior.lost_larval, prior.lost_nursery, day))


def numbers_on(
    basis: Basis, believed: Posterior, day: int, courses: tuple[Course, ...], z: Numbers,
    fill: Fill,
) -> Numbers:  # fmt: skip
    """Animals alive in these lots on a morning not after the log's last, (courses, n)."""
    alive = np.zeros((len(courses), z.shape[1]))
    terms: list[tuple[int, Term]] = []
    for i, course in enumerate(courses):
        resets = [r for r in course.resets if r.day <= day]
        if not resets or (course.ended is not None and course.ended <= day):
            continue
        removals = sum(1 for r in course.removals if r.day <= day)
        settled = course.induced is not None and course.induced <= day
        terms.append((i, Term(0, Part(course.key, 1.0, len(resets), removals, settled), day)))
    if not terms:
        return alive
    alive[[i for i, _ in terms]] = numbers(basis, believed, [t for _, t in terms], z, fill)
    return alive


def numbers(
    basis: Basis, believed: Posterior, terms: list[Term], z: Numbers, fill: Fill
) -> Numbers:
    """The animals of these terms, (terms, n). fill: coordinates that no observation has touched."""
    dummy = tuple(
        Observation(UUID(int=0), term.part.lot.split(" ", 1)[0], "", term.day, "total", (0.0,),
                    (term.part,))
        for term in terms
    )  # fmt: skip
    numbered = [replace(term, observation=i) for i, term in enumerate(terms)]
    layout = tables(believed.history, basis.site, basis.measures, dummy, numbered)
    of = likelihood(basis, layout, believed.water)
    place = {name: i for i, name in enumerate(believed.layout.coordinates.names)}
    laid = np.zeros((of.size, z.shape[1]))
    for i, name in enumerate(layout.coordinates.names):
        laid[i] = z[place[name]] if name in place else fill(name)
    return of.seen_and_expected(laid)[1]
