"""The same season written as a plain Python loop and with SimPy, to measure the model against.

Both follow the daily kernel where no shared limit binds; the tests hold them to its numbers.
"""

import math
from collections.abc import Generator
from dataclasses import dataclass
from typing import Any

import numpy as np

from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.events import stocking_share
from protoconch.season.model.layout import Futures, Layout
from protoconch.season.model.rates import batch_rates, site_rates

EGG, LARVA, TRAY, NURSERY = range(4)


@dataclass
class LotNumbers:
    """All that one lot needs in one future, as plain numbers and lists."""

    start: int
    eggs: float
    tank_from: int
    tank_until: int
    tray_from: int
    tray_until: int
    litres: float
    places: float
    egg_days: float
    hatch_share: float
    larval_days: float
    settle_share: float
    growth: float
    mortality: tuple[float, float, float, float]
    lost_larval: int
    lost_nursery: int


@dataclass
class Plain:
    """A layout with its futures, taken apart into plain Python values."""

    days: int
    rate: list[list[float]]
    lots: list[list[LotNumbers]]
    density: tuple[tuple[float, float], ...]
    competence_spread: float
    competent_z: float
    longest: int
    post_days: float
    small_days: float


def plain(layout: Layout, draws: Futures, known: Beliefs) -> Plain:
    """Take a season apart, so that the peers pay nothing for arrays."""
    site = site_rates(known, draws.site)
    rates = [batch_rates(known, site, batch) for batch in draws.batches]
    clock = draws.site.clock
    futures: list[list[LotNumbers]] = []
    frailty = np.exp(site.tank_sd * draws.stage)
    for n in range(draws.n):
        row = []
        for i, lot in enumerate(layout.lots):
            batch, r = layout.batches[lot.batch], rates[lot.batch]
            share = float(stocking_share(layout, layout.lots_of(lot.batch))[0, 0])
            row.append(LotNumbers(
                batch.start, batch.eggs * share, batch.tank_from, batch.tank_until,
                batch.tray_from, batch.tray_until, lot.litres, lot.places, float(r.egg_days[n]),
                float(r.hatch_share[n]), float(r.larval_days[n]), float(r.settle_share[n]),
                float(r.growth[n]),
                tuple(float(m) for m in r.mortality[:, n] * frailty[:, i, n]),
                int(min(draws.lost_larval[i, n], draws.batches[lot.batch].lost_larval[n])),
                int(min(draws.lost_nursery[i, n], draws.batches[lot.batch].lost_nursery[n])),
            ))  # fmt: skip
        futures.append(row)
    from scipy.special import ndtri

    return Plain(
        layout.days, np.diff(clock, axis=0).T.tolist(), futures, known.density,
        known.competence_spread, float(ndtri(known.competent_at_induction)),
        int(known.longest_larval_days), known.post_larva_days, known.small_juvenile_days,
    )  # fmt: skip


def _competent(season: Plain, progress: float, needed: float) -> float:
    ahead = math.log(progress / needed) / season.competence_spread + season.competent_z
    return 0.5 * (1.0 + math.erf(ahead / math.sqrt(2.0)))


class Lot:
    """One lot on its way; `morning` and `pass_day` are shared by both peers."""

    def __init__(self, season: Plain, own: LotNumbers) -> None:
        """Not yet begun."""
        self.season, self.own = season, own
        self.stage, self.alive = -1, 0.0
        self.progress = self.grown = 0.0
        self.hatch = self.nursery = season.days + 1

    def morning(self, day: int) -> None:  # noqa: C901 one plain loop, as a peer would write it
        """At most one step of its life."""
        own, season, stage = self.own, self.season, self.stage
        if stage in (LARVA, TRAY) and day - self.hatch == own.lost_larval:
            self.alive = 0.0
        if stage == NURSERY and day - self.nursery == own.lost_nursery:
            self.alive = 0.0
        if stage == TRAY:
            if self.grown >= season.post_days - 1e-9 or day >= own.tray_until:
                self.stage, self.nursery = NURSERY, day
        elif stage == LARVA:
            age = day - self.hatch
            for from_age, per_l in season.density[1:]:
                if age == from_age:
                    self.alive = min(self.alive, per_l * own.litres)
            late = age >= season.longest or day >= own.tank_until
            if (self.progress >= own.larval_days - 1e-9 or late) and day >= own.tray_from:
                share = _competent(season, self.progress, own.larval_days)
                self.alive = min(self.alive * share, own.places) * own.settle_share
                self.stage = TRAY
        elif stage == EGG:
            if self.progress >= own.egg_days - 1e-9 and day >= own.tank_from:
                self.alive = min(self.alive * own.hatch_share, season.density[0][1] * own.litres)
                self.stage, self.progress, self.hatch = LARVA, 0.0, day
        elif day == own.start:
            self.stage, self.alive = EGG, own.eggs

    def pass_day(self, rate: float) -> None:
        """One day of mortality, development and growth."""
        stage, mortality = self.stage, self.own.mortality
        if stage == LARVA:
            self.alive *= math.exp(-mortality[0])
            self.progress += rate
        elif stage == EGG:
            self.progress += rate
        elif stage >= TRAY:
            if stage == TRAY:
                self.alive *= math.exp(-mortality[1])
            elif self.grown >= self.season.small_days - 1e-9:
                self.alive *= math.exp(-mortality[3])
            else:
                self.alive *= math.exp(-mortality[2])
            self.grown += rate * self.own.growth


def run_loop(season: Plain) -> np.ndarray:
    """The season as a plain loop over futures, days and lots; returns present (lots, n)."""
    out = []
    for rates, row in zip(season.rate, season.lots, strict=True):
        lots = [Lot(season, own) for own in row]
        for day, rate in enumerate(rates):
            for lot in lots:
                if lot.stage >= 0 or day == lot.own.start:
                    lot.morning(day)
                    lot.pass_day(rate)
        for lot in lots:
            lot.morning(season.days)
        out.append([lot.alive for lot in lots])
    return np.array(out).T


def run_simpy(season: Plain) -> np.ndarray:
    """The season as one SimPy process for each lot, waking every day; present (lots, n)."""
    import simpy

    def life(env: Any, lot: Lot, rates: list[float]) -> Generator[Any, None, None]:
        yield env.timeout(lot.own.start)
        for day in range(lot.own.start, season.days):
            lot.morning(day)
            lot.pass_day(rates[day])
            yield env.timeout(1)
        lot.morning(season.days)

    out = []
    for rates, row in zip(season.rate, season.lots, strict=True):
        env = simpy.Environment()
        lots = [Lot(season, own) for own in row]
        for lot in lots:
            env.process(life(env, lot, rates))
        env.run()
        out.append([lot.alive for lot in lots])
    return np.array(out).T
