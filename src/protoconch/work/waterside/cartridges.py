"""Each cartridge stage as it was read: what it takes, and when it will have to be changed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from protoconch.errors import BadInput
from protoconch.log.state import Part as Fitted
from protoconch.waterworks.network.parts import Cartridge
from protoconch.waterworks.parameters import number
from protoconch.waterworks.treatment.cartridge_log import (
    LEAST_READINGS,
    ChangeForecast,
    Reading,
    change_days,
    change_forecast,
)
from protoconch.waterworks.treatment.cartridges import KPA_PER_PSI
from protoconch.waterworks.water import Water
from protoconch.words import counted, say
from protoconch.work.waterside.readings import Readings, Seen, nearest, since

MINUTES_PER_DAY = 1440.0
SOON_DAYS = 3.0
"""Days before it is due from which on a change is named; assumption."""
CONFIDENCE = 0.8
"""Of the interval of a change: eight in ten."""
FAR_DAYS = 3650.0
"""Days after which a forecast says nothing more than that it is far off."""
Word = Literal["good", "soon", "change", "danger"]


@dataclass(frozen=True, slots=True)
class CartridgeNow:
    """A stage. drop_kpa: across it [kPa], read then, None where it is worked out.

    flow_l_min: through it [L/min], read then; None where it is that of the description.
    fitted: when the cartridge went in by the log. change_kpa: at which it is changed [kPa].
    drops: each pair of readings since it was new, as moment and difference [kPa].
    due: best, earliest and latest moment by pressure, never later than rot allows, None where no
    forecast can be made; why: then the reason. rots: when it has been wet too long.
    """

    name: str
    rating_um: float
    drop_kpa: float
    read: datetime | None
    flow_l_min: float
    flow_read: datetime | None
    fitted: datetime | None
    change_kpa: float
    drops: tuple[tuple[datetime, float], ...]
    due: tuple[datetime, datetime, datetime] | None
    why: str
    rots: datetime | None
    word: Word


def cartridge_now(
    part: Cartridge, described_l_min: float, water: Water, readings: Readings,
    fitted: Fitted | None, now: datetime,
) -> CartridgeNow:  # fmt: skip
    """A stage by what was read of it.

    described_l_min: flow by the description [L/min]. water: of the description, where nothing was
    read. fitted: when it was put in, None where the log does not know. now: with a zone.
    Readings before and after it taken within an hour belong together; litres passed are those of
    the flow, day and night, which a forecast in days does not mind as long as it stays.
    """
    begin = fitted.changed if fitted is not None else None
    drops = _drops(readings, part.name, begin)
    flows = since(readings.get((part.name, "flow"), ()), begin)
    flow = flows[-1].value if flows else described_l_min
    change = number("cartridges", "change_drop") * KPA_PER_PSI
    last, read = drops[-1][::-1] if drops else (part.stage.drop_kpa(flow, water), None)
    wet = timedelta(days=number("cartridges", "most_days_wet"))
    rots = begin + wet if begin else None
    due, why = _due(part, drops, flows, flow, change, begin, now)
    word = _word(last, change, due[0] if due else None, rots, now)
    rating = (fitted.rating_um if fitted else None) or part.stage.rating_um
    return CartridgeNow(
        part.name, rating, last, read, flow, flows[-1].when if flows else None, begin, change,
        drops, due, why, rots, word,
    )  # fmt: skip


def _drops(
    readings: Readings, name: str, begin: datetime | None
) -> tuple[tuple[datetime, float], ...]:
    after = since(readings.get((name, "pressure after"), ()), begin)
    pairs = []
    for before in since(readings.get((name, "pressure before"), ()), begin):
        beyond = nearest(after, before.when)
        if beyond is not None:
            pairs.append((before.when, before.value - beyond.value))
    return tuple(pairs)


def _due(
    part: Cartridge, drops: Sequence[tuple[datetime, float]], flows: Sequence[Seen], flow: float,
    change: float, begin: datetime | None, now: datetime,
) -> tuple[tuple[datetime, datetime, datetime] | None, str]:  # fmt: skip
    """When to change by the pressures, or why that cannot be said."""
    if begin is None:
        return None, say("The log does not know when it was put in: log the next change.")
    if len(drops) < LEAST_READINGS:
        return None, counted(
            LEAST_READINGS - len(drops),
            "A forecast needs {number} more pair of pressures since it was put in.",
            "A forecast needs {number} more pairs of pressures since it was put in.",
        )
    if flow <= 0:
        return None, say("No water runs through it.")
    a_day = flow * MINUTES_PER_DAY
    logged = []
    for when, drop in drops:
        own = nearest(flows, when)
        logged.append(
            Reading(_days(begin, when) * a_day, drop, own.value if own and own.value > 0 else flow)
        )
    try:
        found: ChangeForecast = change_forecast(
            logged, part.stage, change_kpa=change, reference_l_min=flow, confidence=CONFIDENCE
        )
    except BadInput as fault:
        return None, fault.sentence
    if found.at_litres / a_day > FAR_DAYS:
        return None, say("The pressure rises so slowly that no day can be named.")
    most = number("cartridges", "most_days_wet")
    return change_days(found, _days(begin, now) * a_day, a_day, now, begin, most), ""


def _days(begin: datetime, end: datetime) -> float:
    return (end - begin).total_seconds() / 86400


def _word(
    drop: float, change: float, due: datetime | None, rots: datetime | None, now: datetime
) -> Word:
    if drop >= number("cartridges", "most_drop") * KPA_PER_PSI:
        return "danger"
    days = [_days(now, when) for when in (due, rots) if when is not None]
    if drop >= change or min(days, default=1.0) <= 0:
        return "change"
    return "soon" if min(days, default=SOON_DAYS + 1) <= SOON_DAYS else "good"
