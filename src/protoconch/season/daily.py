"""The season moved day by day, with the limits that all batches share.

Algae: where the larvae ask for more dry food than there is, development slows to the share given
and mortality rises. Nursery: where the animals need more floor than there is, the slowest of every
lot are culled until they fit. Every animal is accounted for on every morning.
"""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from protoconch.animals.size import middle_multiplier
from protoconch.season.beliefs import Beliefs
from protoconch.season.events import ROUNDING, Outcome, empty_outcome, run_events, stocking_share
from protoconch.season.layout import Futures, Layout, Numbers
from protoconch.season.rates import (
    JUVENILE,
    POST_LARVA,
    SMALL_JUVENILE,
    VELIGER,
    SiteRates,
    batch_rates,
    competent_share,
    site_rates,
)

Chosen = NDArray[np.intp]
NOT_YET, EGG, LARVA, TRAY, NURSERY = range(-1, 4)


@dataclass(slots=True)
class Ledger:
    """Where every animal went, up to this morning; arrays (lots, n).

    brought = eggs + larvae + tray + nursery (all alive) + dead + culled, at all times.
    """

    brought: Numbers
    dead: Numbers
    culled: Numbers


@dataclass(slots=True)
class Diary:
    """What each morning looked like, for pictures and tests; filled where one is passed in.

    alive: (days + 1, batches, n); stage: (days + 1, batches, n); standard_days likewise;
    algae_g, nursery_m2: (days + 1, n); ledger: brought, dead, culled summed over lots,
    (days + 1, 3, n).
    """

    alive: list[Numbers] = field(default_factory=list)
    stage: list[NDArray[np.int8]] = field(default_factory=list)
    standard_days: list[Numbers] = field(default_factory=list)
    algae_g: list[Numbers] = field(default_factory=list)
    nursery_m2: list[Numbers] = field(default_factory=list)
    ledger: list[Numbers] = field(default_factory=list)


class DailySeason:
    """One run of the daily kernel; made for a single call of `run`."""

    def __init__(self, layout: Layout, draws: Futures, beliefs: Beliefs) -> None:
        """Set out rates and an empty room."""
        self.layout, self.draws, self.beliefs = layout, draws, beliefs
        self.site: SiteRates = site_rates(beliefs, draws.site)
        self.rates = [batch_rates(beliefs, self.site, batch) for batch in draws.batches]
        self.own = [layout.lots_of(b) for b in range(len(layout.batches))]
        self.of = np.array([lot.batch for lot in layout.lots], dtype=np.intp)
        self.litres = np.array([lot.litres for lot in layout.lots])[:, None]
        self.places = np.array([lot.places for lot in layout.lots])[:, None]
        self.outcome: Outcome = empty_outcome(layout, draws.n)
        self.outcome.spread[:] = self.site.spread
        lots, batches = (len(layout.lots), draws.n), (len(layout.batches), draws.n)
        self.alive, self.graded = np.zeros(lots), np.zeros(lots)
        self.ledger = Ledger(np.zeros(lots), np.zeros(lots), np.zeros(lots))
        self.stage = np.full(batches, NOT_YET, dtype=np.int8)
        self.progress, self.grown = np.zeros(batches), np.zeros(batches)
        never = layout.days + 1
        for days in (self.outcome.hatch, self.outcome.induce, self.outcome.nursery):
            days[:] = never
        batch_losses = [(b.lost_larval, b.lost_nursery) for b in draws.batches]
        self.lost_larval = np.minimum(
            draws.lost_larval, np.stack([x for x, _ in batch_losses])[self.of]
        )
        self.lost_nursery = np.minimum(
            draws.lost_nursery, np.stack([x for _, x in batch_losses])[self.of]
        )
        mortality = np.stack([r.mortality for r in self.rates], axis=1)
        self.mortality = mortality[:, self.of] * np.exp(self.site.tank_sd * draws.stage)

    def begin(self, day: int) -> None:
        """Take up the season on the morning `day`, of which the events tell all that is so."""
        until = replace(self.layout, days=day)
        clock = self.draws.site.clock
        site = replace(self.draws.site, clock=clock[: day + 1])
        then = run_events(until, replace(self.draws, site=site), self.beliefs)
        for name in ("stocked", "competent", "settled", "to_nursery", "hatch", "induce", "nursery"):
            getattr(self.outcome, name)[:] = getattr(then, name)
        self.alive[:] = then.present
        columns, since = np.arange(self.draws.n), np.zeros_like(self.progress)
        for b, batch in enumerate(self.layout.batches):
            events = (batch.start, then.hatch[b], then.induce[b], then.nursery[b])
            for event in events:
                self.stage[b] += np.asarray(event) <= day
            since[b] = np.where(then.hatch[b] <= day, clock[np.minimum(then.hatch[b], day), columns],
                                clock[min(batch.start, day)])  # fmt: skip
        self.progress[:] = clock[day] - since
        self.grown[:] = np.where(self.stage >= TRAY, then.standard_days, 0.0)

    def run(self, diary: Diary | None = None, from_day: int = 0) -> Outcome:
        """Move from the morning `from_day` to the morning of release."""
        if from_day:
            self.begin(from_day)
        for day in range(from_day, self.layout.days + 1):
            if day > from_day or not from_day:
                self._morning(day)
            food = self._food_share(day, diary)
            self._make_room(diary)
            if diary is not None:
                self._note(diary)
            if day < self.layout.days:
                self._pass_day(day, food)
        self.outcome.present[:] = self.alive
        self.outcome.graded[:] = self.graded
        self.outcome.standard_days[:] = self.grown
        return self.outcome

    def _lots_in(self, *stages: int) -> NDArray[np.bool_]:
        """Lots whose batch is in one of these stages, (lots, n)."""
        found = self.stage == stages[0]
        for stage in stages[1:]:
            found |= self.stage == stage
        return found[self.of]

    def _set(self, new: Numbers, where: NDArray[np.bool_], account: Numbers) -> None:
        """Lower the numbers alive to `new` there, and book the difference to the account."""
        lower = np.where(where, np.minimum(new, self.alive), self.alive)
        account += self.alive - lower
        self.alive = lower

    def _morning(self, day: int) -> None:
        """All that happens on this morning, in the order of a life."""
        self._lose(day)
        self._to_nursery(day)
        self._thin(day)
        self._induce(day)
        self._hatch(day)
        self._bring(day)

    def _bring(self, day: int) -> None:
        for b, batch in enumerate(self.layout.batches):
            own = self.own[b]
            if batch.start == day and own.stop > own.start:
                eggs = np.broadcast_to(batch.eggs * stocking_share(self.layout, own),
                                       self.alive[own].shape)  # fmt: skip
                self.alive[own] = eggs
                self.ledger.brought[own] = eggs
                self.stage[b] = EGG

    def _hatch(self, day: int) -> None:
        for b, batch in enumerate(self.layout.batches):
            rates, own = self.rates[b], self.own[b]
            due = (self.stage[b] == EGG) & (self.progress[b] >= rates.egg_days - ROUNDING)
            due &= day >= batch.tank_from
            if not due.any():
                continue
            before = self.alive[own]
            hatched = np.where(due, before * rates.hatch_share, before)
            self.ledger.dead[own] += before - hatched
            room = self.beliefs.density[0][1] * self.litres[own]
            kept = np.where(due, np.minimum(hatched, room), hatched)
            self.ledger.culled[own] += hatched - kept
            self.alive[own] = kept
            self.outcome.stocked[own] = np.where(due, kept, self.outcome.stocked[own])
            self.stage[b][due] = LARVA
            self.progress[b][due] = 0.0
            self.outcome.hatch[b][due] = day

    def _thin(self, day: int) -> None:
        for age, per_l in self.beliefs.density[1:]:
            due = (self.stage == LARVA) & (day - self.outcome.hatch == int(age))
            if due.any():
                room = np.broadcast_to(per_l * self.litres, self.alive.shape)
                self._set(room, due[self.of], self.ledger.culled)

    def _induce(self, day: int) -> None:
        longest = int(self.beliefs.longest_larval_days)
        for b, batch in enumerate(self.layout.batches):
            rates, own = self.rates[b], self.own[b]
            age = day - self.outcome.hatch[b]
            late = (day >= batch.tank_until) | (age >= longest)
            due = (self.stage[b] == LARVA) & ((self.progress[b] >= rates.larval_days - ROUNDING) | late)
            due &= day >= batch.tray_from
            if not due.any():
                continue
            before = self.alive[own]
            share = competent_share(self.beliefs, self.progress[b], rates.larval_days)
            competent = np.where(due, before * share, before)
            placed = np.where(due, np.minimum(competent, self.places[own]), competent)
            settled = np.where(due, placed * rates.settle_share, placed)
            self.ledger.culled[own] += before - placed
            self.ledger.dead[own] += placed - settled
            self.alive[own] = settled
            self.outcome.competent[own] = np.where(due, competent, self.outcome.competent[own])
            self.outcome.settled[own] = np.where(due, settled, self.outcome.settled[own])
            self.stage[b][due] = TRAY
            self.outcome.induce[b][due] = day

    def _to_nursery(self, day: int) -> None:
        for b, batch in enumerate(self.layout.batches):
            due = (self.stage[b] == TRAY) & (
                (self.grown[b] >= self.beliefs.post_larva_days - ROUNDING) | (day >= batch.tray_until)
            )
            if due.any():
                own = self.own[b]
                self.stage[b][due] = NURSERY
                self.outcome.nursery[b][due] = day
                self.outcome.to_nursery[own] = np.where(
                    due, self.alive[own], self.outcome.to_nursery[own]
                )

    def _lose(self, day: int) -> None:
        hatch, nursery = self.outcome.hatch[self.of], self.outcome.nursery[self.of]
        gone = self._lots_in(LARVA, TRAY) & (day - hatch >= self.lost_larval)
        gone |= self._lots_in(NURSERY) & (day - nursery >= self.lost_nursery)
        if gone.any():
            self._set(np.zeros_like(self.alive), gone, self.ledger.dead)

    def _food_share(self, day: int, diary: Diary | None) -> Numbers:
        """Share of the food asked for that the larvae get on this day, (n,)."""
        asked = self.food_asked_g(day)
        if diary is not None:
            diary.algae_g.append(asked)
        with np.errstate(divide="ignore"):
            return np.minimum(1.0, self.layout.algae_g / np.maximum(asked, 1e-12))

    def food_asked_g(self, day: int) -> Numbers:
        """Dry food that all larval tanks ask for on this day [g, (n,)]."""
        steps = self.beliefs.ration_g_l
        if not steps:
            return np.zeros(self.draws.n)
        ages, grams = np.array([s[0] for s in steps]), np.array([s[1] for s in steps])
        age = day - self.outcome.hatch
        per_l = grams[np.clip(np.searchsorted(ages, age, side="right") - 1, 0, None)]
        litres = np.array([self.litres[own].sum() for own in self.own])[:, None]
        return np.asarray((np.where(self.stage == LARVA, per_l, 0.0) * litres).sum(axis=0))

    def _make_room(self, diary: Diary | None) -> None:
        """Cull the slowest in the nursery until the animals fit its floor."""
        in_nursery = self._lots_in(NURSERY)
        needed = self._floor_m2(in_nursery, slice(None), self.alive, self.graded)
        tight = np.flatnonzero(needed > self.layout.nursery_m2)
        if tight.size:
            needed[tight] = self._cull_to_fit(tight, in_nursery[:, tight])
        if diary is not None:
            diary.nursery_m2.append(needed)

    def _cull_to_fit(self, tight: Chosen, in_nursery: NDArray[np.bool_]) -> Numbers:
        """Take out the slowest of each lot in these futures; returns the floor then needed [m²].

        Those who stay are larger than those who went, so a cut frees less floor than its share:
        cut a little more than in proportion, and again until the rest fits.
        """
        alive, graded = self.alive[:, tight], self.graded[:, tight]
        needed = self._floor_m2(in_nursery, tight, alive, graded)
        most = self.layout.nursery_m2 * (1.0 + 1e-6)
        while (over := needed > most).any():
            share = np.where(over, self.layout.nursery_m2 / np.maximum(needed, 1e-12), 1.0) ** 1.4
            kept = np.where(in_nursery, share, 1.0)
            alive, graded = alive * kept, 1.0 - (1.0 - graded) * kept
            needed = self._floor_m2(in_nursery, tight, alive, graded)
        self.ledger.culled[:, tight] += self.alive[:, tight] - alive
        self.alive[:, tight], self.graded[:, tight] = alive, graded
        return needed

    def _floor_m2(
        self, in_nursery: NDArray[np.bool_], chosen: Chosen | slice, alive: Numbers, graded: Numbers
    ) -> Numbers:
        """Floor that the animals in the nursery need in the chosen futures [m², (chosen,)]."""
        if not in_nursery.any():
            return np.zeros(alive.shape[1])
        days = self.grown[:, chosen][self.of]
        if (graded > 0.0).any():
            days = days * middle_multiplier(self.site.spread[chosen], graded)
        floor = self.beliefs.cover.floor_m2(self.beliefs.path.length_mm(days))
        return np.asarray(np.where(in_nursery, alive * floor, 0.0).sum(axis=0))

    def _note(self, diary: Diary) -> None:
        """Write this morning into the diary."""
        diary.alive.append(np.stack([self.alive[own].sum(axis=0) for own in self.own]))
        diary.stage.append(self.stage.copy())
        diary.standard_days.append(self.grown.copy())
        book = self.ledger
        diary.ledger.append(np.stack([x.sum(axis=0) for x in
                                      (book.brought, book.dead, book.culled)]))  # fmt: skip

    def _pass_day(self, day: int, food: Numbers) -> None:
        """Mortality, development and growth from this morning to the next."""
        rate = self.draws.site.clock[day + 1] - self.draws.site.clock[day]
        larva, tray = self._lots_in(LARVA), self._lots_in(TRAY)
        nursery = self._lots_in(NURSERY)
        large = self.grown[self.of] >= self.beliefs.small_juvenile_days - ROUNDING
        hungry = 1.0 + self.beliefs.hungry_mortality * (1.0 - food)
        hazard = np.where(larva, self.mortality[VELIGER] * hungry, 0.0)
        hazard = np.where(tray, self.mortality[POST_LARVA], hazard)
        hazard = np.where(nursery & ~large, self.mortality[SMALL_JUVENILE], hazard)
        hazard = np.where(nursery & large, self.mortality[JUVENILE], hazard)
        self._set(self.alive * np.exp(-hazard), hazard > 0.0, self.ledger.dead)
        egg, feeding = self.stage == EGG, self.stage == LARVA
        self.progress += np.where(egg, rate, 0.0) + np.where(feeding, rate * food, 0.0)
        growth = np.stack([r.growth for r in self.rates])
        self.grown += np.where(self.stage >= TRAY, rate * growth, 0.0)


def run_daily(
    layout: Layout, draws: Futures, beliefs: Beliefs, diary: Diary | None = None,
    from_day: int = 0,
) -> Outcome:  # fmt: skip
    """Simulate all futures day by day, with the shared limits, from the morning `from_day` on."""
    return DailySeason(layout, draws, beliefs).run(diary, from_day)
