"""The season model run once more, in futures that are drawn once and kept."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields

import numpy as np

from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.daily import run_daily
from protoconch.season.model.draws import BLOCK, BatchDraws, Dice, SiteDraws, Streams, TankDraws
from protoconch.season.model.events import Outcome, empty_outcome, run_events
from protoconch.season.model.layout import Futures, Layout, Numbers, stacked
from protoconch.season.model.shared_limits import first_bound_morning
from protoconch.season.model.simulate import by_batch, ready
from protoconch.season.what_if.change import Change

PLANNED = Change()
SURVIVALS: Mapping[str, tuple[str, ...]] = {
    "egg": ("incubation.hatch_share",),
    "veliger": ("veliger.survival",),
    "settling": ("settlement.metamorphosis_share",),
    "post-larva": ("post_larva.survival",),
    "juvenile": ("small_juvenile.survival", "juvenile.survival"),
}
"""Shares that come through a stage, by the stage's name in `change.DYING`."""


@dataclass(frozen=True, slots=True)
class Block:
    """The first `n` futures of one block of dice; site: their water and unknowns, kept."""

    dice: Dice
    n: int
    site: SiteDraws

    def futures(self, layout: Layout, change: Change = PLANNED) -> Futures:
        """All that a layout needs in these futures, where animals fare as a change has it.

        Where animals die so many times as fast, a survival s becomes s**times; where all water is
        warmer, the clock of each future runs faster by its own Q10.
        """
        unknown, clock = dict(self.site.unknown), self.site.clock[: layout.days + 1]
        for stage, times in change.dying.items():
            for name in SURVIVALS[stage]:
                unknown[name] = unknown[name] ** times
        if change.growing is not None:
            name = "variation.growth_site"
            unknown[name] = unknown[name] * change.growing
        if change.warmer_c is not None:
            clock = clock * unknown["incubation.q10"] ** (change.warmer_c / 10.0)
        site = SiteDraws(unknown, clock)
        starts = [batch.start for batch in layout.batches]
        return stacked(
            site,
            tuple(self._batch(self.dice.batch(start)) for start in starts),
            [
                self._tank(self.dice.tank(starts[lot.batch], lot.kind, lot.number))
                for lot in layout.lots
            ],
        )

    def _batch(self, drawn: BatchDraws) -> BatchDraws:
        return BatchDraws(*(getattr(drawn, part.name)[: self.n] for part in fields(BatchDraws)))

    def _tank(self, drawn: TankDraws) -> TankDraws:
        n = self.n
        return TankDraws(drawn.stage[:, :n], drawn.lost_larval[:n], drawn.lost_nursery[:n])


def blocks_of(
    beliefs: Beliefs, source: Streams, draws: int, judged: int, days: int, first_day_of_year: int
) -> Iterator[Block]:
    """The first so many of the futures that a plan was judged by, cut as the model cuts them.

    judged: how many futures judged the plan; days: to the latest day that will be asked for.
    """
    for block, start in enumerate(range(0, min(draws, judged), BLOCK)):
        dice = Dice(beliefs, source, block, min(BLOCK, judged - start), days, first_day_of_year)
        n = min(BLOCK, min(draws, judged) - start)
        site = dice.site()
        kept = SiteDraws(
            {name: values[:n].copy() for name, values in site.unknown.items()},
            site.clock[:, :n].copy(),
        )
        yield Block(dice, n, kept)


@dataclass(frozen=True, slots=True)
class Run:
    """A layout in n futures: animals of the size asked by batch, (batches, n), and their way.

    parts: the draws and the outcome of each block.
    """

    layout: Layout
    ready: Numbers
    parts: tuple[tuple[Futures, Outcome], ...]

    @property
    def total(self) -> Numbers:
        """Animals of the size asked, all batches together, (n,)."""
        return np.asarray(self.ready.sum(axis=0))


def ran(
    layout: Layout, beliefs: Beliefs, blocks: tuple[Block, ...], change: Change = PLANNED
) -> Run:
    """Run the season model on a layout, with every shared limit in force.

    change: how animals and water fare otherwise; the layout has the rest of it.
    """
    parts, made = [], []
    for block in blocks:
        if layout.lots:
            drawn = block.futures(layout, change)
            outcome = _outcome(layout, drawn, beliefs)
        else:
            drawn = block.futures(layout)
            outcome = empty_outcome(layout, block.n)
        parts.append((drawn, outcome))
        per_lot = ready(layout, outcome, layout.size_days) if layout.lots else outcome.present
        made.append(by_batch(layout, per_lot))
    return Run(layout, np.concatenate(made, axis=1), tuple(parts))


def _outcome(layout: Layout, draws: Futures, beliefs: Beliefs) -> Outcome:
    """As `simulate.run`, but day by day in one group: so few futures are done sooner together."""
    outcome = run_events(layout, draws, beliefs)
    first = first_bound_morning(layout, draws, beliefs, outcome)
    bound = np.flatnonzero(first <= layout.days)
    if bound.size:
        exact = run_daily(layout, draws.only(bound), beliefs, from_day=int(first.min()))
        for part in fields(Outcome):
            getattr(outcome, part.name)[..., bound] = getattr(exact, part.name)
    return outcome
