"""The days of a batch: when it is likely to move on, and how long its places are kept for it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.draws import (
    BLOCK,
    BatchDraws,
    Dice,
    SiteDraws,
    Streams,
    median_batch,
    median_site,
)
from protoconch.season.model.events import BatchDays, first_morning, free_days
from protoconch.season.model.rates import batch_rates, site_rates

EARLY, LATE = 0.05, 0.90
"""Places are kept from the day that one batch in twenty is early, to the day that one in ten is
late: a longer hold empties the room of other batches, a shorter one moves unready animals."""


@dataclass(frozen=True, slots=True)
class BatchCalendar:
    """Planned mornings of a batch, counted from day 0, at median development.

    thin: mornings of thinning; large: end of the small-juvenile class; ready: half of the animals
    have the size asked. tank_from .. tray_until: as in layout.ReservedBatch.
    """

    start: int
    hatch: int
    thin: tuple[int, ...]
    induce: int
    nursery: int
    large: int
    ready: int
    tank_from: int
    tank_until: int
    tray_from: int
    tray_until: int


def batch_calendars(
    beliefs: Beliefs, source: Streams, starts: tuple[int, ...], days: int,
    first_day_of_year: int, size_days: float,
) -> tuple[BatchCalendar, ...]:  # fmt: skip
    """Calendars of batches collected on these days, from one block of draws."""
    dice = Dice(beliefs, source, 0, BLOCK, days, first_day_of_year)
    site, middle = dice.site(), median_site(beliefs, days, first_day_of_year)
    return tuple(
        _calendar(
            beliefs,
            start,
            _free(beliefs, site, dice.batch(start), start),
            _free(beliefs, middle, median_batch(), start),
            _ready(beliefs, middle, start, size_days),
        )
        for start in starts
    )


def _free(beliefs: Beliefs, site: SiteDraws, batch: BatchDraws, start: int) -> BatchDays:
    rates = batch_rates(beliefs, site_rates(beliefs, site), batch)
    return free_days(site.clock, rates, start)


def _ready(beliefs: Beliefs, middle: SiteDraws, start: int, size_days: float) -> int:
    days = _free(beliefs, middle, median_batch(), start)
    return int(first_morning(middle.clock, days.induce, np.full(1, size_days))[0])


def _calendar(
    beliefs: Beliefs, start: int, likely: BatchDays, planned: BatchDays, ready: int
) -> BatchCalendar:
    hatch, induce = int(planned.hatch[0]), int(planned.induce[0])
    nursery = int(planned.nursery[0])
    tank_until = max(_quantile(likely.induce, LATE), induce)
    return BatchCalendar(
        start=start,
        hatch=hatch,
        thin=tuple(hatch + int(age) for age, _ in beliefs.density[1:] if hatch + age < induce),
        induce=induce,
        nursery=nursery,
        large=max(int(planned.large[0]), nursery),
        ready=ready,
        tank_from=min(_quantile(likely.hatch, EARLY), hatch),
        tank_until=tank_until,
        tray_from=min(_quantile(likely.induce, EARLY), induce),
        tray_until=max(_quantile(likely.nursery, LATE), nursery, tank_until + 1),
    )


def _quantile(days: NDArray[np.int64], share: float) -> int:
    return int(np.quantile(days, share))
