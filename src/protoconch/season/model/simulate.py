"""One season simulated over many futures: by events, and day by day where a shared limit binds."""

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from protoconch.animals.size import share_longer, share_longer_of_rest
from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.daily import run_daily
from protoconch.season.model.draws import Streams, blocks
from protoconch.season.model.events import Outcome, run_events
from protoconch.season.model.layout import Futures, Layout, Numbers, futures
from protoconch.season.model.shared_limits import first_bound_morning

GROUPS = 2
"""Futures that turn tight late are run day by day only from there on, in so many groups."""


def run(layout: Layout, draws: Futures, beliefs: Beliefs) -> tuple[Outcome, NDArray[np.bool_]]:
    """Simulate the futures exactly; also returns those looked at day by day, (n,)."""
    outcome = run_events(layout, draws, beliefs)
    first = first_bound_morning(layout, draws, beliefs, outcome)
    order = np.argsort(first, kind="stable")
    order = order[first[order] <= layout.days]
    for part in np.array_split(order, min(GROUPS, order.size)) if order.size else ():
        from_day = int(first[part[0]])
        exact = run_daily(layout, draws.only(part), beliefs, from_day=from_day)
        for field in fields(Outcome):
            getattr(outcome, field.name)[..., part] = getattr(exact, field.name)
    return outcome, first <= layout.days


def ready(layout: Layout, outcome: Outcome, size_days: float) -> Numbers:
    """Animals of each lot of the size asked by the morning of release, (lots, n).

    size_days: standard days from settlement to that size [d]. Those handed over before count.
    """
    of = np.array([lot.batch for lot in layout.lots], dtype=np.intp)
    longer = share_longer(outcome.standard_days[of], size_days, outcome.spread)
    share = share_longer_of_rest(longer, outcome.graded, outcome.ahead)
    return np.asarray(outcome.handed_over + outcome.present * share)


@dataclass(frozen=True, slots=True)
class SeasonDraws:
    """What the futures of a layout come to, by batch: arrays (batches, n); bound (n,).

    early: handed over before the date because the nursery was full; ready counts them.
    """

    stocked: Numbers
    competent: Numbers
    settled: Numbers
    to_nursery: Numbers
    early: Numbers
    ready: Numbers
    bound: NDArray[np.bool_]

    @property
    def total(self) -> Numbers:
        """Animals of the size asked, all batches together, (n,)."""
        return np.asarray(self.ready.sum(axis=0))


def by_batch(layout: Layout, per_lot: Numbers) -> Numbers:
    """Sums over the lots of each batch, (batches, n)."""
    sums = [per_lot[layout.lots_of(b)].sum(axis=0) for b in range(len(layout.batches))]
    return np.array(sums).reshape(len(sums), per_lot.shape[1])


def simulate(
    layout: Layout, beliefs: Beliefs, source: Streams, draws: int, size_days: float,
    first_day_of_year: int,
) -> SeasonDraws:  # fmt: skip
    """Simulate so many futures of a layout, block by block in bounded memory."""
    if not layout.lots:
        none = np.zeros((len(layout.batches), draws))
        return SeasonDraws(none, none, none, none, none, none, np.zeros(draws, dtype=bool))
    parts = []
    for dice in blocks(beliefs, source, draws, layout.days, first_day_of_year):
        drawn = futures(layout, dice)
        outcome, bound = run(layout, drawn, beliefs)
        parts.append(
            SeasonDraws(
                stocked=by_batch(layout, outcome.stocked),
                competent=by_batch(layout, outcome.competent),
                settled=by_batch(layout, outcome.settled),
                to_nursery=by_batch(layout, outcome.to_nursery),
                early=by_batch(layout, outcome.handed_over),
                ready=by_batch(layout, ready(layout, outcome, size_days)),
                bound=bound,
            )
        )
    joined = {
        field.name: np.concatenate([getattr(part, field.name) for part in parts], axis=-1)
        for field in fields(SeasonDraws)
    }
    return replace(parts[0], **joined)
