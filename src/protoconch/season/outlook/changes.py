"""What can be changed in the season as it stands, as a season that stands otherwise."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from protoconch.season.model.draws import NEVER, BatchDraws, Dice, Streams, TankDraws
from protoconch.season.model.layout import Futures, Lot
from protoconch.season.outlook.ahead import Standing
from protoconch.season.outlook.basis import Basis
from protoconch.season.outlook.screening import Begun
from protoconch.season.plan.options import Option

Numbers = NDArray[np.float64]


def dice_of(now: Standing, rests_on: Basis, source: Streams) -> Dice:
    """The random numbers of what is new in these futures."""
    return Dice(rests_on.beliefs, source, 0, now.futures.n, rests_on.days,
                rests_on.first_day_of_year)  # fmt: skip


def with_batch(now: Standing, rests_on: Basis, begun: Begun, code: str) -> Standing:
    """The season with one batch more."""
    never = np.array([rests_on.days + 1])
    b = len(now.layout.batches)
    grown = replace(
        now,
        layout=replace(now.layout, batches=(*now.layout.batches, begun.batch),
                       lots=(*now.layout.lots, *(replace(lot, batch=b) for lot in begun.lots))),
        codes=(*now.codes, code), stage=np.append(now.stage, np.int8(-1)),
        hatch=np.concatenate([now.hatch, never]), induce=np.concatenate([now.induce, never]),
        nursery=np.concatenate([now.nursery, never]),
    )  # fmt: skip
    return _with_lots(grown, len(now.layout.lots), list(begun.tanks),
                      (*now.futures.batches, begun.draws))  # fmt: skip


def with_tank(now: Standing, rests_on: Basis, source: Streams, b: int, option: Option) -> Standing:
    """The season with one larval tank more for a batch that has not begun."""
    own = now.layout.lots_of(b)
    number = own.stop - own.start
    litres = rests_on.plan.hatchery.larval_tanks[option.tank_kind].litres
    lot = Lot(b, option.stream(0)[0], number, litres, option.places)
    lots = now.layout.lots
    batches = list(now.layout.batches)
    batches[b] = replace(batches[b], eggs=batches[b].eggs + option.eggs)
    lots = (*lots[: own.stop], lot, *lots[own.stop :])
    grown = replace(now, layout=replace(now.layout, batches=tuple(batches), lots=lots))
    dice = dice_of(now, rests_on, source)
    tank = dice.tank(batches[b].start, lot.kind, number)
    return _with_lots(grown, own.stop, [tank], now.futures.batches)


def _with_lots(
    now: Standing, at: int, tanks: list[TankDraws], batches: tuple[BatchDraws, ...]
) -> Standing:
    old = now.futures
    stage = np.stack([tank.stage for tank in tanks], axis=1)
    larval = np.stack([tank.lost_larval for tank in tanks])
    nursery = np.stack([tank.lost_nursery for tank in tanks])

    def put(a: NDArray[np.generic], b: NDArray[np.generic], axis: int) -> NDArray[np.generic]:
        first, last = np.split(a, [at], axis=axis)
        return np.concatenate([first, b, last], axis=axis)

    futures = Futures(
        old.site, batches, put(old.stage, stage, 1),  # type: ignore[arg-type]
        put(old.lost_larval, larval, 0),  # type: ignore[arg-type]
        put(old.lost_nursery, nursery, 0),  # type: ignore[arg-type]
    )  # fmt: skip
    none = np.zeros((len(tanks), old.n))
    return replace(
        now, futures=futures, alive=np.concatenate([now.alive[:at], none, now.alive[at:]])
    )


def with_part_in(
    now: Standing, rests_on: Basis, source: Streams, lot: int, new: Lot, share: float
) -> Standing:  # fmt: skip
    """The season with a share of a lot's larvae moved into a tank more, of the same batch.

    new: the tank, its places those that it takes over or that its own trays have.
    """
    b = now.layout.lots[lot].batch
    own, batch = now.layout.lots_of(b), now.layout.batches[b]
    lots = now.layout.lots
    lots = (*lots[: own.stop], new, *lots[own.stop :])
    grown = replace(now, layout=replace(now.layout, lots=lots))
    fresh = dice_of(now, rests_on, source).tank(batch.start, new.kind, new.number)
    lived = max(now.day - int(now.hatch[b]), 0)
    tank = replace(fresh, lost_larval=np.minimum(fresh.lost_larval + lived, NEVER))
    grown = _with_lots(grown, own.stop, [tank], now.futures.batches)
    return _with_moved(grown, lot, own.stop, share)


def with_part_moved(now: Standing, lot: int, to: int, share: float) -> Standing:
    """The season with a share of a lot's larvae moved into another tank of its batch."""
    return _with_moved(now, lot, to, share)


def with_places(now: Standing, lot: int, places: float) -> Standing:
    """The season with so many places on trays for the larvae of a lot."""
    lots = list(now.layout.lots)
    lots[lot] = replace(lots[lot], places=places)
    return replace(now, layout=replace(now.layout, lots=tuple(lots)))


def _with_moved(now: Standing, lot: int, to: int, share: float) -> Standing:
    alive = now.alive.copy()
    alive[to] += share * alive[lot]
    alive[lot] *= 1.0 - share
    return replace(now, alive=alive)


def without_batch(now: Standing, b: int) -> Standing:
    """The season without a batch that has not begun: it never will."""
    never = now.layout.days + 1
    return with_reserve(now, b, start=never, tank_from=never, tank_until=never, tray_from=never,
                        tray_until=never)  # fmt: skip


def with_reserve(now: Standing, b: int, **days: int) -> Standing:
    """The season with other reserved days for a batch."""
    batches = list(now.layout.batches)
    batches[b] = replace(batches[b], **days)
    return replace(now, layout=replace(now.layout, batches=tuple(batches)))


def with_algae(now: Standing, share: float) -> Standing:
    """The season with so much more dry algae on each day, as a share."""
    return replace(now, layout=replace(now.layout, algae_g=now.layout.algae_g * (1.0 + share)))


def some(now: Standing, chosen: NDArray[np.intp]) -> Standing:
    """The season in these futures only."""
    return replace(now, futures=now.futures.only(chosen), alive=now.alive[:, chosen])
