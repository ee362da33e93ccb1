"""What a simulated season is made of: batches with their reserved days, and their tanks."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.draws import BatchDraws, Dice, SiteDraws, TankDraws

Numbers = NDArray[np.float64]
Days = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class ReservedBatch:
    """A batch on the calendar of the season; days are counted from day 0 of the season.

    start: day of collecting; eggs: eggs brought in. Its larval tanks are its own on the mornings
    tank_from to tank_until, its trays from tray_from to tray_until: animals wait in the stage
    before until the first of these days, and have moved on by the last.
    """

    start: int
    eggs: float
    tank_from: int
    tank_until: int
    tray_from: int
    tray_until: int


@dataclass(frozen=True, slots=True)
class Lot:
    """One larval tank of a batch and the trays that take its larvae.

    batch: position in Layout.batches; kind, number: which tank it is among its kind (for its
    random stream); litres: its water [L]; places: larvae its trays can take.
    """

    batch: int
    kind: int
    number: int
    litres: float
    places: float


@dataclass(frozen=True, slots=True)
class Layout:
    """A season to simulate: lots stand in the order of their batches.

    days: the morning of release. algae_g: dry algae to be had on one day [g];
    nursery_m2: floor of the nursery [m²]; either may be infinite. size_days: standard days from
    settlement to the size at which animals may be handed over, when the nursery is full [d].
    """

    batches: tuple[ReservedBatch, ...]
    lots: tuple[Lot, ...]
    days: int
    algae_g: float = field(default=float("inf"))
    nursery_m2: float = field(default=float("inf"))
    size_days: float = field(default=float("inf"))

    def lots_of(self, batch: int) -> slice:
        """Where the lots of a batch stand."""
        own = [i for i, lot in enumerate(self.lots) if lot.batch == batch]
        return slice(own[0], own[-1] + 1) if own else slice(0, 0)


@dataclass(frozen=True, slots=True)
class Futures:
    """The draws of n futures for a layout, stacked.

    stage: tank effects, (4, lots, n); lost_...: days of tank loss, (lots, n).
    """

    site: SiteDraws
    batches: tuple[BatchDraws, ...]
    stage: Numbers
    lost_larval: Days
    lost_nursery: Days

    @property
    def n(self) -> int:
        """Number of futures."""
        return self.site.n

    def only(self, chosen: NDArray[np.intp]) -> "Futures":
        """These futures only, in the order given."""
        site = SiteDraws(
            {name: values[chosen] for name, values in self.site.unknown.items()},
            self.site.clock[:, chosen],
        )
        batches = tuple(
            BatchDraws(b.quality[chosen], b.growth[chosen], b.period[chosen], b.settle[chosen],
                       b.lost_larval[chosen], b.lost_nursery[chosen])
            for b in self.batches
        )  # fmt: skip
        return Futures(site, batches, self.stage[:, :, chosen], self.lost_larval[:, chosen],
                       self.lost_nursery[:, chosen])  # fmt: skip


def stacked(site: SiteDraws, batches: tuple[BatchDraws, ...], tanks: list[TankDraws]) -> Futures:
    """Futures from the draws of the site, of each batch and of each lot in order."""
    stage = np.empty((4, len(tanks), site.n))
    lost = np.empty((2, len(tanks), site.n), dtype=np.int64)
    for i, tank in enumerate(tanks):
        stage[:, i] = tank.stage
        lost[0, i], lost[1, i] = tank.lost_larval, tank.lost_nursery
    return Futures(site, batches, stage, lost[0], lost[1])


def futures(layout: Layout, dice: Dice, site: SiteDraws | None = None) -> Futures:
    """Draw all that a layout needs from one block of dice; `site` where it is drawn already."""
    return stacked(
        site or dice.site(),
        tuple(dice.batch(batch.start) for batch in layout.batches),
        [dice.tank(layout.batches[lot.batch].start, lot.kind, lot.number) for lot in layout.lots],
    )
