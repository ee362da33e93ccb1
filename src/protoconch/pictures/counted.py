"""What was counted and measured of a batch, set beside what the plan expects on that day."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

import numpy as np

from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.state import BatchState, Emptied, Sighting, State
from protoconch.pictures.words import about, day_short
from protoconch.season.answer import DailyBatch, SeasonPlan
from protoconch.words import counted, say
from protoconch.work.names import code_in_log

NUMBERS = ("counted", "settled")
"""Kinds of entry that tell how many there are."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A number seen of a batch on a day, with its 95 % limits; vessels: in how many of them."""

    day: date
    value: float
    low: float
    high: float
    vessels: int = 1


@dataclass(frozen=True, slots=True)
class Expected:
    """What the plan expects on a day: a tenth of futures lie below low, a tenth above high."""

    low: float
    middle: float
    high: float


def numbers_seen(batch: BatchState, state: State, hatchery: Hatchery) -> tuple[Seen, ...]:
    """The batch's animals on each day of a count: all vessels that hold it, each by its last count.

    A vessel counts until it is empty, holds another batch, or the batch is counted further on its
    way (on trays, in the nursery) while it is there no more. Animals that were counted and moved
    count until they are counted where they went. A vessel that was never counted is left out.
    """
    way = _way(hatchery)
    found: dict[date, Seen] = {}
    last: dict[str, Sighting] = {}
    for sighting in batch.sightings:
        if sighting.kind not in NUMBERS:
            continue
        last[sighting.where] = sighting
        here = way.get(sighting.where, 0)
        still = [
            one
            for one in last.values()
            if _holds(state, batch.code, one, sighting.when, last)
            and (way.get(one.where, 0) >= here or one.where in batch.vessels)
        ]
        value = sum(one.value for one in still)
        half = [
            float(np.sqrt(sum((limit - one.value) ** 2 for one, limit in zip(still, side,
                                                                           strict=True))))
            for side in ([one.low for one in still], [one.high for one in still])
        ]  # fmt: skip
        day = sighting.when.date()
        found[day] = Seen(day, value, max(0.0, value - half[0]), value + half[1], len(still))
    return tuple(found.values())


WAY = ("incubator", "larval tank", "tray", "nursery tank")
"""Kinds of vessel in the order in which a batch meets them."""


def _way(hatchery: Hatchery) -> dict[str, int]:
    """How far on a batch's way each vessel stands."""
    return {v.name: WAY.index(v.kind) for v in vessels(hatchery) if v.kind in WAY}


def _holds(
    state: State, code: str, sighting: Sighting, at: datetime, last: Mapping[str, Sighting]
) -> bool:
    """Whether the animals of a count were still known by it at a moment after it.

    last: the last count of each vessel by then.
    """
    emptied = state.emptied.get(sighting.where)
    if emptied is not None and sighting.when <= emptied.when <= at:
        return _uncounted_since(state, emptied, at, last)
    holding = state.holdings.get(sighting.where)
    return holding is None or holding.batch == code or not sighting.when < holding.since <= at


def _uncounted_since(
    state: State, left: Emptied, at: datetime, last: Mapping[str, Sighting]
) -> bool:
    """Whether animals that left a vessel were still where they were moved, and not counted there.

    Arguments as for `_holds`. What is moved further on is followed.
    """
    for name in left.into:
        if name in last and last[name].when >= left.when:
            return False
        on = state.emptied.get(name)
        if (
            on is not None
            and left.when < on.when <= at
            and not _uncounted_since(state, on, at, last)
        ):
            return False
    return bool(left.into)


def lengths_seen(batch: BatchState) -> tuple[Seen, ...]:
    """Mean shell lengths measured [mm]."""
    return tuple(
        Seen(one.when.date(), one.value, one.low, one.high)
        for one in batch.sightings
        if one.kind == "measured"
    )


def season_counts(plan: SeasonPlan, state: State) -> dict[str, tuple[Seen, ...]]:
    """The counts of every batch of the plan, by what the log calls the batch."""
    codes = [code_in_log(plan, batch.code) for batch in plan.batches]
    return {
        code: numbers_seen(state.batches[code], state, plan.hatchery)
        for code in codes
        if code in state.batches
    }


def expected(daily: DailyBatch, first_day: date, day: date, *, length: bool = False) -> Expected:
    """Numbers, or shell lengths [mm], that the plan expects on a day; nothing outside of it."""
    index = (day - first_day).days
    curves = (
        (daily.length_p10, daily.length_p50, daily.length_p90)
        if length
        else (daily.alive_p10, daily.alive_p50, daily.alive_p90)
    )
    if not 0 <= index < curves[0].size:
        return Expected(0.0, 0.0, 0.0)
    return Expected(*(float(curve[index]) for curve in curves))


def against(seen: Seen, hoped: Expected) -> str:
    """Whether a number is as expected, in a few words."""
    if hoped.high <= 0:
        return say("none expected by the plan")
    if seen.high < hoped.low:
        return say("fewer than nine futures in ten")
    if seen.low > hoped.high:
        return say("more than nine futures in ten")
    if seen.value < hoped.low:
        return say("at the lower edge of what is expected")
    if seen.value > hoped.high:
        return say("at the upper edge of what is expected")
    return say("as expected")


def counts_meaning(counts: Mapping[str, Iterable[Seen]]) -> str:
    """How many counts are drawn, and the last of them."""
    all_seen = [(one.day, code, one) for code, many in counts.items() for one in many]
    if not all_seen:
        return ""
    day, code, one = max(all_seen, key=lambda found: found[0])
    return counted(
        len(all_seen),
        "One count is drawn as dots with 95 % limits, the last of batch {code} on {day}: {last}.",
        "{number} counts are drawn as dots with 95 % limits, the last of batch {code} on {day}: "
        "{last}.",
        code=code,
        day=day_short(day),
        last=about(one.value, 3),
    )
