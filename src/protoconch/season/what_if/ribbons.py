"""Numbers alive along time, read off the mornings on which each future's batches move on.

Between hatch, settlement, the nursery and release the number of a tank falls by the same share
each day, or is lost whole on one morning; so these mornings tell the days between. The changed
season is drawn as the plan's own daily curves times what the same reading gives with and without
the change, so that a season without a change is the plan's to the last digit.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.season.answer import DailyBatch, SeasonPlan
from protoconch.season.model.events import Outcome
from protoconch.season.model.layout import Futures, Layout, Numbers
from protoconch.season.what_if.running import Run

PICTURED = 200
"""Futures read for the ribbons."""
STEP_DAYS = 7
LEAST = 0.5
SHARES = (0.1, 0.5, 0.9)
COUNTED = ("stocked", "competent", "settled", "to_nursery", "present")


@dataclass(frozen=True, slots=True)
class ChangedBatch:
    """A batch of a changed season along time; arrays as in answer.DailyBatch, without lengths."""

    code: str
    alive_p10: Numbers
    alive_p50: Numbers
    alive_p90: Numbers
    stage: NDArray[np.int8]


def numbers_read(run: Run, days: int) -> Numbers:
    """Numbers alive at SHARES of the futures to a day, every STEP_DAYS, (3, batches, grid)."""
    return _quantiles(run, _grid(days))


def ribbons(plan: SeasonPlan, before: Numbers, changed: Run) -> tuple[ChangedBatch, ...]:
    """The batches of a changed season, to its own date.

    before: what `numbers_read` gives for the plan itself, to the same date.
    """
    days = changed.layout.days
    grid, after = _grid(days), numbers_read(changed, days)
    return tuple(
        _batch(daily, grid, before[:, b], after[:, b], days)
        for b, daily in enumerate(plan.forecast.batches)
    )


def _batch(
    daily: DailyBatch, grid: NDArray[np.int64], before: Numbers, after: Numbers, days: int
) -> ChangedBatch:
    """One batch; before, after: (3, grid)."""
    planned = np.stack([daily.alive_p10, daily.alive_p50, daily.alive_p90])
    shown = min(days + 1, planned.shape[1])
    was, now = _read(grid, before, days), _read(grid, after, days)
    alive = np.where(now > LEAST, now, 0.0)
    kept = planned[:, :shown]
    times = now[:, :shown] / was[:, :shown]
    alive[:, :shown] = np.where(
        times == 1.0, kept, np.where(was[:, :shown] > LEAST, kept * times, alive[:, :shown])
    )
    alive[(now <= LEAST) & (now != was)] = 0.0
    stage = np.full(days + 1, daily.stage[-1], dtype=np.int8)
    stage[:shown] = daily.stage[:shown]
    return ChangedBatch(daily.code, alive[0], alive[1], alive[2], stage)


def _read(grid: NDArray[np.int64], numbers: Numbers, days: int) -> Numbers:
    """Numbers on each day from those of the grid, at least a tenth of the least shown."""
    day = np.arange(days + 1)
    logs = np.log(np.maximum(numbers, LEAST / 10))
    return np.asarray(np.exp(np.stack([np.interp(day, grid, row) for row in logs])))


def _grid(days: int) -> NDArray[np.int64]:
    return np.unique(np.append(np.arange(0, days + 1, STEP_DAYS), days))


def _quantiles(run: Run, grid: NDArray[np.int64]) -> Numbers:
    """Numbers alive at SHARES of the futures, (3, batches, grid)."""
    draws, outcome = run.parts[0]
    chosen = np.arange(min(PICTURED, draws.n))
    layout = run.layout
    found = [
        np.quantile(_alive(layout, draws, outcome, b, chosen, grid), SHARES, axis=1)
        for b in range(len(layout.batches))
    ]
    return np.stack(found, axis=1)


def _alive(
    layout: Layout, draws: Futures, outcome: Outcome, b: int, chosen: NDArray[np.intp],
    grid: NDArray[np.int64],
) -> Numbers:  # fmt: skip
    """Animals of a batch alive in the chosen futures, all its tanks together, (grid, chosen)."""
    own, end = layout.lots_of(b), layout.days
    alive = np.zeros((grid.size, chosen.size))
    eggs = layout.batches[b].eggs / max(1, own.stop - own.start)
    hatch, induce, nursery = (
        np.minimum(days[b, chosen], end + 1)
        for days in (outcome.hatch, outcome.induce, outcome.nursery)
    )
    day = grid[:, None]
    for lot in range(own.start, own.stop):
        lost_early = (
            hatch + np.minimum(draws.lost_larval[lot], draws.batches[b].lost_larval)[chosen]
        )
        lost_late = nursery + np.minimum(draws.lost_nursery[lot],
                                         draws.batches[b].lost_nursery)[chosen]  # fmt: skip
        stocked, competent, settled, entering, present = (
            getattr(outcome, name)[lot, chosen] for name in COUNTED
        )
        larvae = _between(day, hatch, induce, stocked, competent)
        larvae = np.where(day < np.minimum(lost_early, induce), larvae, 0.0)
        young = _between(day, induce, nursery, settled, entering)
        young = np.where(day < np.minimum(lost_early, nursery), young, 0.0)
        grown = _between(day, nursery, np.full_like(nursery, end), entering, present)
        grown = np.where(day < lost_late, grown, 0.0)
        alive += np.select(
            [day < layout.batches[b].start, day < hatch, day < induce, day < nursery],
            [np.zeros(1), np.full(1, eggs), larvae, young], grown,
        )  # fmt: skip
    return alive


def _between(
    day: NDArray[np.int64], begin: NDArray[np.int64], end: NDArray[np.int64], first: Numbers,
    last: Numbers,
) -> Numbers:  # fmt: skip
    """Numbers that fall by one share a day from `first` to `last`; a later end of 0 is a loss."""
    share = np.clip((day - begin) / np.maximum(end - begin, 1), 0.0, 1.0)
    kept = np.where(last > 0.0, last, first)
    fall = np.log(np.maximum(kept, 1e-9) / np.maximum(first, 1e-9))
    return np.asarray(np.where(first > 0.0, first * np.exp(fall * share), 0.0))
