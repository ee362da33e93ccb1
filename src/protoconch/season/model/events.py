"""The season moved from event to event.

Between hatch, thinning, induction, the move to the nursery and release, survival and development
have closed forms, so only these mornings are visited. Exact, equal to the daily kernel, in every
future in which no shared limit (algae, nursery floor) binds.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.layout import Days, Futures, Layout, Numbers, ReservedBatch
from protoconch.season.model.rates import (
    JUVENILE,
    POST_LARVA,
    SMALL_JUVENILE,
    VELIGER,
    BatchRates,
    SiteRates,
    batch_rates,
    competent_share,
    site_rates,
)

ROUNDING = 1e-9
"""Slack in comparing sums of standard days, so that both kernels turn on the same morning."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """How n futures of a layout end.

    stocked, competent, settled, to_nursery, present, handed_over: numbers, (lots, n); present is
    what is there on the last morning in whatever stage, handed_over what left before at the size
    asked. graded, ahead: shares of the settled cohort taken out as slowest, or handed over.
    hatch, induce, nursery: days, (batches, n). standard_days: growth since settlement by the
    morning of release, (batches, n). spread: (n,).
    """

    stocked: Numbers
    competent: Numbers
    settled: Numbers
    to_nursery: Numbers
    present: Numbers
    handed_over: Numbers
    graded: Numbers
    ahead: Numbers
    hatch: Days
    induce: Days
    nursery: Days
    standard_days: Numbers
    spread: Numbers


def empty_outcome(layout: Layout, n: int) -> Outcome:
    """An outcome to be filled in."""
    lots, batches = (len(layout.lots), n), (len(layout.batches), n)
    numbers = [np.zeros(lots) for _ in range(8)]
    days = [np.zeros(batches, dtype=np.int64) for _ in range(3)]
    return Outcome(
        stocked=numbers[0], competent=numbers[1], settled=numbers[2], to_nursery=numbers[3],
        present=numbers[4], handed_over=numbers[5], graded=numbers[6], ahead=numbers[7],
        hatch=days[0], induce=days[1], nursery=days[2], standard_days=np.zeros(batches),
        spread=np.zeros(n),
    )  # fmt: skip


def first_morning(clock: Numbers, since: Days, needed: Numbers) -> Days:
    """First morning on which the clock has moved on by `needed` since the morning `since`.

    clock: (days + 1, n), rising. Returns (n,); days + 1 where it does not come about.
    """
    columns = np.arange(clock.shape[1])
    last = clock.shape[0] - 1
    start = np.minimum(since, last)
    goal = clock[start, columns] + needed - ROUNDING
    low, high = start.copy(), np.full_like(start, last + 1)
    for _ in range(int(last + 1).bit_length()):
        middle = (low + high) // 2
        reached = clock[np.minimum(middle, last), columns] >= goal
        open_ = low < high
        high = np.where(open_ & reached, middle, high)
        low = np.where(open_ & ~reached, middle + 1, low)
    return np.asarray(np.where(needed <= 0.0, start, high))


@dataclass(frozen=True, slots=True)
class BatchDays:
    """Mornings on which a batch hatches, is induced, enters the nursery, leaves the small class."""

    hatch: Days
    induce: Days
    nursery: Days
    large: Days


def free_days(clock: Numbers, rates: BatchRates, start: int) -> BatchDays:
    """Days at which the batch would move on if tanks and trays were always free, (n,) each."""
    first = np.full(clock.shape[1], start)
    hatch = first_morning(clock, first, rates.egg_days)
    induce = first_morning(clock, hatch, rates.larval_days)
    nursery = first_morning(clock, induce, rates.post_larva_days)
    return BatchDays(
        hatch, induce, nursery, first_morning(clock, induce, rates.small_juvenile_days)
    )


def kept_days(
    clock: Numbers, rates: BatchRates, batch: ReservedBatch, longest_larval_days: float
) -> BatchDays:
    """Days at which the batch moves on within its reserved tanks and trays, (n,) each."""
    first = np.full(clock.shape[1], batch.start)
    hatch = np.maximum(first_morning(clock, first, rates.egg_days), batch.tank_from)
    latest = np.minimum(batch.tank_until, hatch + int(longest_larval_days))
    ready = first_morning(clock, hatch, rates.larval_days)
    induce = np.maximum(np.minimum(ready, latest), batch.tray_from)
    grown = first_morning(clock, induce, rates.post_larva_days)
    nursery = np.minimum(grown, batch.tray_until)
    large = first_morning(clock, induce, rates.small_juvenile_days)
    return BatchDays(hatch, induce, nursery, np.maximum(large, nursery))


def run_events(layout: Layout, draws: Futures, beliefs: Beliefs) -> Outcome:
    """Simulate all futures as if no shared limit bound."""
    site = site_rates(beliefs, draws.site)
    outcome = empty_outcome(layout, draws.n)
    outcome.spread[:] = site.spread
    for index, batch in enumerate(layout.batches):
        own = layout.lots_of(index)
        rates = batch_rates(beliefs, site, draws.batches[index])
        days = kept_days(draws.site.clock, rates, batch, beliefs.longest_larval_days)
        _fill_days(outcome, index, days, draws, rates)
        if own.stop > own.start:
            _fill_numbers(outcome, layout, index, own, days, draws, site, rates, beliefs)
    return outcome


def _fill_days(
    outcome: Outcome, index: int, days: BatchDays, draws: Futures, rates: BatchRates
) -> None:
    """Write the days of a batch, and its growth by the morning of release."""
    outcome.hatch[index], outcome.induce[index] = days.hatch, days.induce
    outcome.nursery[index] = days.nursery
    clock = draws.site.clock
    last = clock.shape[0] - 1
    settled = clock[np.minimum(days.induce, last), np.arange(draws.n)]
    outcome.standard_days[index] = (clock[last] - settled) * rates.growth


def stocking_share(layout: Layout, own: slice) -> NDArray[np.float64]:
    """Part of a batch's hatchlings that each of its tanks is offered, by water, (lots, 1)."""
    litres = np.array([lot.litres for lot in layout.lots[own]])
    return np.asarray(litres / litres.sum())[:, None]


def _fill_numbers(
    outcome: Outcome, layout: Layout, index: int, own: slice, days: BatchDays, draws: Futures,
    site: SiteRates, rates: BatchRates, beliefs: Beliefs,
) -> None:  # fmt: skip
    """Write the numbers of a batch's lots at each event."""
    end = layout.days
    litres = np.array([lot.litres for lot in layout.lots[own]])[:, None]
    places = np.array([lot.places for lot in layout.lots[own]])[:, None]
    mortality = rates.mortality[:, None, :] * np.exp(site.tank_sd * draws.stage[:, own])
    eggs = layout.batches[index].eggs * stocking_share(layout, own)
    alive = eggs * rates.hatch_share
    larval_end = np.minimum(days.induce, end)
    lived = np.zeros(draws.n, dtype=np.int64)
    for age, per_l in beliefs.density:
        until = np.minimum(days.hatch + int(age), larval_end) - days.hatch
        alive = alive * np.exp(-mortality[VELIGER] * np.maximum(until - lived, 0))
        thinned = days.hatch + int(age) <= larval_end
        alive = np.where(thinned, np.minimum(alive, per_l * litres), alive)
        lived = np.maximum(until, lived)
        if age == beliefs.density[0][0]:
            outcome.stocked[own] = np.where(days.hatch <= end, alive, 0.0)
    alive = alive * np.exp(-mortality[VELIGER] * np.maximum(larval_end - days.hatch - lived, 0))
    alive = np.where(_lost(days.hatch, larval_end, draws, index, own, larval=True), 0.0, alive)
    begun = eggs if layout.batches[index].start <= end else 0.0
    waiting = np.where(days.hatch <= end, alive, begun)
    columns = np.arange(draws.n)
    clock = draws.site.clock
    progress = clock[larval_end, columns] - clock[np.minimum(days.hatch, end), columns]
    share = competent_share(beliefs, progress, rates.larval_days)
    competent = np.where(days.induce <= end, alive * share, 0.0)
    settled = np.minimum(competent, places) * rates.settle_share
    outcome.competent[own], outcome.settled[own] = competent, settled
    tray_end = np.minimum(days.nursery, end)
    alive = settled * np.exp(-mortality[POST_LARVA] * np.maximum(tray_end - days.induce, 0))
    alive = np.where(_lost(days.hatch, tray_end, draws, index, own, larval=True), 0.0, alive)
    outcome.to_nursery[own] = np.where(days.nursery <= end, alive, 0.0)
    large = np.clip(days.large, tray_end, end)
    alive = alive * np.exp(
        -mortality[SMALL_JUVENILE] * (large - tray_end) - mortality[JUVENILE] * (end - large)
    )
    gone = _lost(days.nursery, np.full(draws.n, end), draws, index, own, larval=False)
    alive = np.where(gone, 0.0, alive)
    outcome.present[own] = np.where(days.induce <= end, alive, waiting)


def _lost(
    since: Days, until: Days, draws: Futures, index: int, own: slice, *, larval: bool
) -> NDArray[np.bool_]:
    """Lots lost whole, alone or with their batch, by the morning `until`, (lots, n)."""
    batch = draws.batches[index]
    tank = (draws.lost_larval if larval else draws.lost_nursery)[own]
    together = batch.lost_larval if larval else batch.lost_nursery
    return since + np.minimum(tank, together) <= until
