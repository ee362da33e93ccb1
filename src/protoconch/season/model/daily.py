"""The season moved day by day, with the limits that all batches share.

Algae: where the larvae ask for more dry food than there is, development slows to the share given
and mortality rises. Nursery: where the animals need more floor than there is, those that have the
size asked are handed over; if that is not enough, the slowest of every lot are culled until the
rest fits. Every animal is accounted for on every morning.
"""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from protoconch.animals.size import middle_multiplier, share_longer, share_longer_of_rest
from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.events import (
    ROUNDING,
    Outcome,
    empty_outcome,
    run_events,
    stocking_share,
)
from protoconch.season.model.layout import Futures, Layout, Numbers
from protoconch.season.model.rates import (
    JUVENILE,
    POST_LARVA,
    SMALL_JUVENILE,
    VELIGER,
    batch_rates,
    competent_share,
    site_rates,
)

Chosen = NDArray[np.intp]
Which = NDArray[np.bool_]
NOT_YET, EGG, LARVA, TRAY, NURSERY = range(-1, 4)
LOOK_AHEAD = 5
"""Days for which the nursery is left unmeasured where even the fastest growth could not fill it."""


@dataclass(slots=True)
class Ledger:
    """Where every animal went, up to this morning; arrays (lots, n).

    brought = alive in any stage + dead + culled + handed over, always.
    """

    brought: Numbers
    dead: Numbers
    culled: Numbers
    handed_over: Numbers


@dataclass(slots=True)
class Diary:
    """What each morning looked like, for pictures and tests; filled where one is passed in.

    alive, stage, standard_days: (days + 1, batches, n); algae_g, nursery_m2: (days + 1, n);
    ledger: brought, dead, culled, handed over, summed over lots, (days + 1, 4, n).
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
        site = site_rates(beliefs, draws.site)
        self.spread = site.spread
        self.rates = [batch_rates(beliefs, site, batch) for batch in draws.batches]
        self.growth = np.stack([r.growth for r in self.rates])
        self.own = [layout.lots_of(b) for b in range(len(layout.batches))]
        self.of = np.array([lot.batch for lot in layout.lots], dtype=np.intp)
        self.litres = np.array([lot.litres for lot in layout.lots])[:, None]
        self.places = np.array([lot.places for lot in layout.lots])[:, None]
        self.batch_litres = np.array([self.litres[own].sum() for own in self.own])[:, None]
        self.outcome: Outcome = empty_outcome(layout, draws.n)
        lots, batches = (len(layout.lots), draws.n), (len(layout.batches), draws.n)
        self.alive, self.graded, self.ahead = (np.zeros(lots) for _ in range(3))
        self.ledger = Ledger(*(np.zeros(lots) for _ in range(4)))
        self.stage = np.full(batches, NOT_YET, dtype=np.int8)
        self.large = np.zeros(batches, dtype=bool)
        self.progress, self.grown = np.zeros(batches), np.zeros(batches)
        for days in (self.outcome.hatch, self.outcome.induce, self.outcome.nursery):
            days[:] = layout.days + 1
        together = [np.stack(x) for x in zip(*((b.lost_larval, b.lost_nursery)
                                               for b in draws.batches), strict=True)]  # fmt: skip
        self.lost_larval = np.minimum(draws.lost_larval, together[0][self.of])
        self.lost_nursery = np.minimum(draws.lost_nursery, together[1][self.of])
        self.loss_day = np.full(lots, layout.days + 1)
        mortality = np.stack([r.mortality for r in self.rates], axis=1)
        self.mortality = mortality[:, self.of] * np.exp(site.tank_sd * draws.stage)
        self.survival = np.ones(lots)
        self.check_floor_on = np.full(draws.n, layout.days + 1)
        self.top_rate = np.diff(draws.site.clock, axis=0).max(axis=0, initial=0.0)

    def begin(self, day: int) -> None:
        """Take up the season on the morning `day`, of which the events tell all that is so."""
        until = replace(self.layout, days=day)
        clock = self.draws.site.clock
        site = replace(self.draws.site, clock=clock[: day + 1])
        then = run_events(until, replace(self.draws, site=site), self.beliefs)
        for name in ("stocked", "competent", "settled", "to_nursery", "hatch", "induce", "nursery"):
            getattr(self.outcome, name)[:] = getattr(then, name)
        self.alive[:] = then.present
        columns = np.arange(self.draws.n)
        for b, batch in enumerate(self.layout.batches):
            for event in (batch.start, then.hatch[b], then.induce[b], then.nursery[b]):
                self.stage[b] += np.asarray(event) <= day
            hatched = clock[np.minimum(then.hatch[b], day), columns]
            since = np.where(then.hatch[b] <= day, hatched, clock[min(batch.start, day)])
            self.progress[b] = clock[day] - since
        self.grown[:] = np.where(self.stage >= TRAY, then.standard_days, 0.0)
        for stage in (LARVA, TRAY, NURSERY):
            for b in range(len(self.own)):
                self._live_as(b, self.stage[b] >= stage, stage)
        self._grow_large()
        self.check_floor_on[:] = day

    def run(self, diary: Diary | None = None, from_day: int = 0) -> Outcome:
        """Move from the morning `from_day` to the morning of release."""
        if from_day:
            self.begin(from_day)
        for day in range(from_day, self.layout.days + 1):
            if day > from_day or not from_day:
                self._morning(day)
            asked = self.food_asked_g(day)
            self._make_room(day, diary)
            if diary is not None:
                diary.algae_g.append(asked)
                self._note(diary)
            if day < self.layout.days:
                self._pass_day(day, asked)
        outcome = self.outcome
        outcome.present[:], outcome.handed_over[:] = self.alive, self.ledger.handed_over
        outcome.graded[:], outcome.ahead[:] = self.graded, self.ahead
        outcome.standard_days[:], outcome.spread[:] = self.grown, self.spread
        return outcome

    def _morning(self, day: int) -> None:
        """All that happens on this morning, each animal at most one step of its life."""
        gone = self.loss_day == day
        if gone.any():
            self._lower(np.zeros_like(self.alive), gone, self.ledger.dead)
        self._grow_large()
        for b, batch in enumerate(self.layout.batches):
            if batch.start <= day <= batch.tray_until:
                self._to_nursery(b, day)
                self._thin(b, day)
                self._induce(b, day)
                self._hatch(b, day)
            if batch.start == day:
                self._bring(b)

    def _lower(self, new: Numbers, where: Which, account: Numbers) -> None:
        """Lower the numbers alive to `new` there, and book the difference to the account."""
        lower = np.where(where, np.minimum(new, self.alive), self.alive)
        account += self.alive - lower
        self.alive = lower

    def _live_as(self, b: int, due: Which, stage: int) -> None:
        """Give a batch, where due, the daily survival and the day of loss of a stage."""
        own = self.own[b]
        kind = {LARVA: VELIGER, TRAY: POST_LARVA, NURSERY: SMALL_JUVENILE}[stage]
        self.survival[own] = np.where(due, np.exp(-self.mortality[kind, own]), self.survival[own])
        if stage != TRAY:
            since = self.outcome.hatch[b] if stage == LARVA else self.outcome.nursery[b]
            lost = self.lost_larval[own] if stage == LARVA else self.lost_nursery[own]
            self.loss_day[own] = np.where(due, since + lost, self.loss_day[own])

    def _bring(self, b: int) -> None:
        own = self.own[b]
        eggs = self.layout.batches[b].eggs * stocking_share(self.layout, own)
        self.alive[own] = eggs
        self.ledger.brought[own] = eggs
        self.stage[b] = EGG

    def _hatch(self, b: int, day: int) -> None:
        rates, own = self.rates[b], self.own[b]
        due = (self.stage[b] == EGG) & (self.progress[b] >= rates.egg_days - ROUNDING)
        if day < self.layout.batches[b].tank_from or not due.any():
            return
        before = self.alive[own]
        hatched = np.where(due, before * rates.hatch_share, before)
        room = self.beliefs.density[0][1] * self.litres[own]
        kept = np.where(due, np.minimum(hatched, room), hatched)
        self.ledger.dead[own] += before - hatched
        self.ledger.culled[own] += hatched - kept
        self.alive[own] = kept
        self.outcome.stocked[own] = np.where(due, kept, self.outcome.stocked[own])
        self.progress[b][due] = 0.0
        self.outcome.hatch[b][due] = day
        self.stage[b][due] = LARVA
        self._live_as(b, due, LARVA)

    def _thin(self, b: int, day: int) -> None:
        own, age = self.own[b], day - self.outcome.hatch[b]
        for from_age, per_l in self.beliefs.density[1:]:
            due = (self.stage[b] == LARVA) & (age == int(from_age))
            if due.any():
                before = self.alive[own]
                after = np.where(due, np.minimum(before, per_l * self.litres[own]), before)
                self.ledger.culled[own] += before - after
                self.alive[own] = after

    def _induce(self, b: int, day: int) -> None:
        batch, rates, own = self.layout.batches[b], self.rates[b], self.own[b]
        late = day - self.outcome.hatch[b] >= int(self.beliefs.longest_larval_days)
        late |= day >= batch.tank_until
        ready = self.progress[b] >= rates.larval_days - ROUNDING
        due = (self.stage[b] == LARVA) & (ready | late)
        if day < batch.tray_from or not due.any():
            return
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
        self.outcome.induce[b][due] = day
        self.stage[b][due] = TRAY
        self._live_as(b, due, TRAY)

    def _to_nursery(self, b: int, day: int) -> None:
        late = day >= self.layout.batches[b].tray_until
        grown = self.grown[b] >= self.beliefs.post_larva_days - ROUNDING
        due = (self.stage[b] == TRAY) & (grown | late)
        if due.any():
            own = self.own[b]
            entering = self.outcome.to_nursery[own]
            self.outcome.nursery[b][due] = day
            self.outcome.to_nursery[own] = np.where(due, self.alive[own], entering)
            self.stage[b][due] = NURSERY
            self._live_as(b, due, NURSERY)
            self.check_floor_on[due] = day

    def _grow_large(self) -> None:
        """Give animals that leave the small class the mortality of the large."""
        due = (self.stage == NURSERY) & ~self.large
        due &= self.grown >= self.beliefs.small_juvenile_days - ROUNDING
        if due.any():
            self.large |= due
            for b in np.flatnonzero(due.any(axis=1)):
                own = self.own[b]
                survival = np.exp(-self.mortality[JUVENILE, own])
                self.survival[own] = np.where(due[b], survival, self.survival[own])

    def food_asked_g(self, day: int) -> Numbers:
        """Dry food that all larval tanks ask for on this day [g, (n,)]."""
        steps = self.beliefs.ration_g_l
        feeding = self.stage == LARVA
        if not steps or not feeding.any():
            return np.zeros(self.draws.n)
        ages, grams = np.array([s[0] for s in steps]), np.array([s[1] for s in steps])
        age = day - self.outcome.hatch
        per_l = grams[np.clip(np.searchsorted(ages, age, side="right") - 1, 0, None)]
        return np.asarray((np.where(feeding, per_l, 0.0) * self.batch_litres).sum(axis=0))

    def _make_room(self, day: int, diary: Diary | None) -> None:
        """Hand over, and if need be cull, until the animals fit the nursery's floor."""
        due = np.flatnonzero(self.check_floor_on <= day)
        if due.size:
            in_nursery = (self.stage[:, due] == NURSERY)[self.of]
            full = self._floor_m2(in_nursery, due) > self.layout.nursery_m2
            if full.any():
                self._hand_over(due[full], in_nursery[:, full])
                self._cull_to_fit(due[full], in_nursery[:, full])
            soon = self._floor_m2(in_nursery, due, ahead_days=LOOK_AHEAD)
            quiet = soon <= self.layout.nursery_m2
            self.check_floor_on[due] = day + np.where(quiet, LOOK_AHEAD, 1)
        if diary is not None:
            everyone = np.arange(self.draws.n)
            diary.nursery_m2.append(self._floor_m2((self.stage == NURSERY)[self.of], everyone))

    def _hand_over(self, tight: Chosen, in_nursery: Which) -> None:
        """Hand over all animals that have the size asked, in these futures."""
        if not np.isfinite(self.layout.size_days):
            return
        grown = self.grown[:, tight][self.of]
        longer = share_longer(grown, self.layout.size_days, self.spread[tight])
        graded, ahead = self.graded[:, tight], self.ahead[:, tight]
        share = np.where(in_nursery, share_longer_of_rest(longer, graded, ahead), 0.0)
        leaving = self.alive[:, tight] * share
        self.alive[:, tight] -= leaving
        self.ledger.handed_over[:, tight] += leaving
        self.ahead[:, tight] = ahead + share * (1.0 - graded - ahead)

    def _cull_to_fit(self, tight: Chosen, in_nursery: Which) -> None:
        """Take out the slowest of each lot in these futures until the rest fits.

        Those who stay are larger than those who went, so a cut frees less floor than its share:
        cut a little more than in proportion, and again until the rest fits.
        """
        needed = self._floor_m2(in_nursery, tight)
        fill = self.beliefs.fill_after_grading * self.layout.nursery_m2
        while (over := needed > self.layout.nursery_m2).any():
            among = np.flatnonzero(over)
            share = (fill / needed[among]) ** 1.4
            kept = np.where(in_nursery[:, among], share, 1.0)
            at = tight[among]
            culled = self.alive[:, at] * (1.0 - kept)
            self.alive[:, at] -= culled
            self.ledger.culled[:, at] += culled
            rest = 1.0 - self.graded[:, at] - self.ahead[:, at]
            self.graded[:, at] += rest * (1.0 - kept)
            needed[among] = self._floor_m2(in_nursery[:, among], at)

    def _floor_m2(self, in_nursery: Which, chosen: Chosen, ahead_days: int = 0) -> Numbers:
        """Floor that the animals in the nursery need in the chosen futures [m², (chosen,)].

        ahead_days: with so many days of growth at the fastest rate of the future still to come.
        """
        alive = self.alive[:, chosen]
        if not in_nursery.any():
            return np.zeros(alive.shape[1])
        days = self.grown[:, chosen]
        if ahead_days:
            days = days + ahead_days * self.top_rate[chosen] * self.growth[:, chosen]
        days = days[self.of]
        graded, ahead = self.graded[:, chosen], self.ahead[:, chosen]
        if graded.any() or ahead.any():
            days = days * middle_multiplier(self.spread[chosen], graded, ahead)
        floor = self.beliefs.cover.floor_m2(self.beliefs.path.length_mm(days))
        return np.asarray(np.where(in_nursery, alive * floor, 0.0).sum(axis=0))

    def _note(self, diary: Diary) -> None:
        """Write this morning into the diary."""
        diary.alive.append(np.stack([self.alive[own].sum(axis=0) for own in self.own]))
        diary.stage.append(self.stage.copy())
        diary.standard_days.append(self.grown.copy())
        book = self.ledger
        accounts = (book.brought, book.dead, book.culled, book.handed_over)
        diary.ledger.append(np.stack([account.sum(axis=0) for account in accounts]))

    def _pass_day(self, day: int, asked_g: Numbers) -> None:
        """Mortality, development and growth from this morning to the next."""
        rate = self.draws.site.clock[day + 1] - self.draws.site.clock[day]
        survival, fed = self.survival, rate
        hungry = asked_g > self.layout.algae_g
        if hungry.any():
            food = np.where(hungry, self.layout.algae_g / np.maximum(asked_g, 1e-12), 1.0)
            more = self.beliefs.hungry_mortality * (1.0 - food) * self.mortality[VELIGER]
            survival = np.where((self.stage == LARVA)[self.of], survival * np.exp(-more), survival)
            fed = rate * food
        left = self.alive * survival
        self.ledger.dead += self.alive - left
        self.alive = left
        early = self.stage <= LARVA
        if early.any():
            self.progress += np.where(self.stage == EGG, rate, 0.0)
            self.progress += np.where(self.stage == LARVA, fed, 0.0)
        self.grown += np.where(self.stage >= TRAY, rate * self.growth, 0.0)


def run_daily(
    layout: Layout, draws: Futures, beliefs: Beliefs, diary: Diary | None = None,
    from_day: int = 0,
) -> Outcome:  # fmt: skip
    """Simulate all futures day by day, with the shared limits, from the morning `from_day` on."""
    return DailySeason(layout, draws, beliefs).run(diary, from_day)
