"""Which of many days of collecting deserve a whole simulation: a quick look at all of them.

A batch that has not begun adds to the season what it yields; where no limit that all batches share
binds, the stage model gives that by events, for all days at once. What the quick look prefers is
then simulated in full.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from protoconch.season.model.draws import BatchDraws, TankDraws
from protoconch.season.model.events import run_events
from protoconch.season.model.layout import Layout, Lot, ReservedBatch, stacked
from protoconch.season.model.simulate import by_batch, ready
from protoconch.season.outlook.candidate import Room

Numbers = NDArray[np.float64]
SMOOTH = 0.12
"""Width in ln(animals) over which "met" is smoothed for the ranking; the odds shown are not."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A batch that might begin on some day: its reserved days, its tanks, what they meet."""

    batch: ReservedBatch
    lots: tuple[Lot, ...]
    draws: BatchDraws
    tanks: tuple[TankDraws, ...]


def smoothly_met(total: Numbers, animals: float) -> Numbers:
    """Chance that the target is met, smoothed about it, of the shape of total."""
    return np.asarray(ndtr(np.log(np.maximum(total, 1e-9) / animals) / SMOOTH))


def gains(room: Room, begun: Sequence[Begun], without: int | None = None) -> Numbers:
    """Odds gained by each of these batches beside the season as it stands, smoothed, (begun,).

    without: batch in whose place they would come.
    """
    now, rests_on = room.now, room.rests_on
    lots = tuple(Lot(b, lot.kind, lot.number, lot.litres, lot.places)
                 for b, one in enumerate(begun) for lot in one.lots)  # fmt: skip
    layout = Layout(tuple(one.batch for one in begun), lots, now.layout.days)
    drawn = stacked(now.futures.site, tuple(one.draws for one in begun),
                    [tank for one in begun for tank in one.tanks])  # fmt: skip
    outcome = run_events(layout, drawn, rests_on.beliefs)
    more = by_batch(layout, ready(layout, outcome, rests_on.size_days))
    base = room.ready.sum(axis=0) + now.released
    bare = base if without is None else base - room.ready[without]
    animals = rests_on.plan.target.animals
    return np.asarray(
        (smoothly_met(bare + more, animals) - smoothly_met(base, animals)).mean(axis=1)
    )
