"""In which futures a limit that all batches share would bind, found without a daily run.

Food: what the tanks ask for changes only on the mornings of events, so those are looked at.
Nursery: numbers only fall and animals only grow, so between two mornings the floor needed is at
most the numbers of the first times the floor of one animal on the second. A future is called free
only where that bound fits; the rest go to the daily kernel, which is exact.
"""

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.events import Outcome
from protoconch.season.model.layout import Futures, Layout, Numbers
from protoconch.season.model.rates import JUVENILE, SMALL_JUVENILE, batch_rates, site_rates

STEP_DAYS = 14


def first_bound_morning(
    layout: Layout, draws: Futures, beliefs: Beliefs, outcome: Outcome
) -> NDArray[np.int64]:
    """First morning on which food or nursery floor might run short, (n,).

    0 where food would, since that changes all that follows; days + 1 where nothing would.
    """
    hungry = _hungry(layout, beliefs, outcome)
    return np.where(hungry, 0, _crowded(layout, draws, beliefs, outcome))


def _hungry(layout: Layout, beliefs: Beliefs, outcome: Outcome) -> NDArray[np.bool_]:
    """Futures in which the larval tanks ask for more than the algae room gives on some day."""
    n = outcome.hatch.shape[1]
    steps = beliefs.ration_g_l
    litres = np.array(
        [sum(lot.litres for lot in layout.lots[layout.lots_of(b)])
         for b in range(len(layout.batches))]
    )  # fmt: skip
    if not steps or max(g for _, g in steps) * litres.sum() <= layout.algae_g:
        return np.zeros(n, dtype=bool)
    short = np.zeros(n, dtype=bool)
    for b in range(len(layout.batches)):
        for age, _ in steps:
            day = outcome.hatch[b] + int(age)
            asked = np.zeros(n)
            for other, water in enumerate(litres):
                hatch, induce = outcome.hatch[other], outcome.induce[other]
                per_l = np.zeros(n)
                for from_age, grams in steps:
                    per_l = np.where(day - hatch >= from_age, grams, per_l)
                asked += np.where((day >= hatch) & (day < induce), per_l * water, 0.0)
            short |= (day < outcome.induce[b]) & (asked > layout.algae_g)
    return short


def _crowded(
    layout: Layout, draws: Futures, beliefs: Beliefs, outcome: Outcome
) -> NDArray[np.int64]:
    """First morning from which the juveniles might need more floor than the nursery has, (n,)."""
    n = outcome.hatch.shape[1]
    crowded = np.full(n, layout.days + 1)
    if not np.isfinite(layout.nursery_m2):
        return crowded
    at_most = np.zeros(n)
    for b in range(len(layout.batches)):
        floor = beliefs.cover.floor_m2(beliefs.path.length_mm(outcome.standard_days[b]))
        at_most += outcome.to_nursery[layout.lots_of(b)].sum(axis=0) * floor
    might = np.flatnonzero(at_most > layout.nursery_m2)
    if might.size:
        crowded[might] = _crowded_among(layout, draws.only(might), beliefs, outcome, might)
    return crowded


def _crowded_among(
    layout: Layout, draws: Futures, beliefs: Beliefs, outcome: Outcome, chosen: NDArray[np.intp]
) -> NDArray[np.int64]:
    """The closer look at the futures that the first bound could not free."""
    site = site_rates(beliefs, draws.site)
    clock, end, columns = draws.site.clock, layout.days, np.arange(chosen.size)
    first = int(outcome.nursery[:, chosen].min(initial=end))
    crowded = np.full(chosen.size, end + 1)
    parts = []
    for b, batch in enumerate(draws.batches):
        own = layout.lots_of(b)
        rates = batch_rates(beliefs, site, batch)
        tank = np.exp(site.tank_sd * draws.stage[:, own])
        slower = np.minimum(rates.mortality[SMALL_JUVENILE] * tank[SMALL_JUVENILE],
                            rates.mortality[JUVENILE] * tank[JUVENILE])  # fmt: skip
        settled = clock[np.minimum(outcome.induce[b, chosen], end), columns]
        lost = np.minimum(draws.lost_nursery[own], batch.lost_nursery)
        parts.append((outcome.nursery[b, chosen], outcome.to_nursery[own][:, chosen], slower,
                      settled, rates.growth, lost))  # fmt: skip
    for start in range(first, end + 1, STEP_DAYS):
        stop = min(start + STEP_DAYS, end)
        needed = np.zeros(chosen.size)
        for entered, number, slower, settled, growth, lost in parts:
            days_in = np.maximum(start - entered, 0)
            alive = np.where(days_in < lost, number * np.exp(-slower * days_in), 0.0).sum(axis=0)
            grown = np.maximum(clock[stop] - settled, 0.0) * growth
            floor: Numbers = beliefs.cover.floor_m2(beliefs.path.length_mm(grown))
            needed += np.where(entered <= stop, alive * floor, 0.0)
        crowded = np.where(needed > layout.nursery_m2, np.minimum(crowded, start), crowded)
    return crowded
