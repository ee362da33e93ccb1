"""Each loop's water as it was read, beside its limits."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from protoconch.errors import BadInput
from protoconch.log.payloads.water import QUANTITIES
from protoconch.log.state import Reading
from protoconch.seawater.ammonia import unionised_share
from protoconch.units import text
from protoconch.waterworks.description import LoopPlan
from protoconch.waterworks.parameters import number
from protoconch.words import phrase, say

UNIONISED = phrase("un-ionised ammonia")
LOOKED_AT = (
    "temperature", "salinity", "oxygen", "pH", "ammonia as nitrogen", "nitrite as nitrogen",
    "nitrate as nitrogen",
)  # fmt: skip
LEAST = {"oxygen": ("oxygen.warn", "oxygen.act"), "pH": ("ph.warn_low", "ph.act_low")}
MOST = {
    "ammonia as nitrogen": ("total_ammonia.warn", "total_ammonia.act"),
    UNIONISED: ("unionised_ammonia.warn", "unionised_ammonia.act"),
    "nitrite as nitrogen": ("nitrite.warn", "nitrite.act"),
    "nitrate as nitrogen": ("nitrate.juveniles", ""),
}
"""Names of the limits to look into and to act at, in water_limits.toml."""
OWN = {"ammonia as nitrogen": "ammonia_limit_mg_l", "nitrate as nitrogen": "nitrate_limit_mg_l"}
"""Limits that a loop's own plan gives."""
OLD_DAYS = {"temperature": 1, "oxygen": 1}
OLD_USUALLY_DAYS = 7
"""Days after which a reading is called old; common practice, no source."""
Word = Literal["within", "look", "act", "not read"]


@dataclass(frozen=True, slots=True)
class Bounds:
    """Limits: from where to look into it, and from where to act; None where there is no side."""

    warn_low: float | None = None
    warn_high: float | None = None
    act_low: float | None = None
    act_high: float | None = None

    def word(self, value: float) -> Word:
        """Where a value lies."""
        if _beyond(value, self.act_low, self.act_high):
            return "act"
        return "look" if _beyond(value, self.warn_low, self.warn_high) else "within"


@dataclass(frozen=True, slots=True)
class Judged:
    """A quantity of a place. value: last read, None where it was not; unit: as shown, "" for none.

    old: read too long ago to say how the water is. working: how a value was worked out.
    """

    quantity: str
    value: float | None
    unit: str
    when: datetime | None
    who: str
    bounds: Bounds
    word: Word
    old: bool = False
    working: str = ""


@dataclass(frozen=True, slots=True)
class LoopNow:
    """A loop with all that is looked at."""

    name: str
    volume_l: float
    judged: tuple[Judged, ...]

    @property
    def read(self) -> bool:
        """Whether anything of it was read."""
        return any(one.when is not None for one in self.judged)


def _beyond(value: float, low: float | None, high: float | None) -> bool:
    return (low is not None and value < low) or (high is not None and value > high)


def bounds_of(quantity: str, loop: LoopPlan | None = None) -> Bounds:
    """The limits of a quantity, of a loop's own plan where it has some; water_limits.toml."""

    def limit(name: str) -> float:
        return number("water_limits", name)

    if quantity in ("temperature", "salinity"):
        ends = ("warn_low", "warn_high", "act_low", "act_high")
        return Bounds(*(limit(f"{quantity}.{end}") for end in ends))
    if quantity in LEAST:
        warn, act = LEAST[quantity]
        return Bounds(warn_low=limit(warn), act_low=limit(act))
    if quantity in MOST:
        warn, act = MOST[quantity]
        own = getattr(loop, OWN[quantity]) if loop and quantity in OWN else limit(warn)
        return Bounds(warn_high=own, act_high=max(own, limit(act)) if act else None)
    return Bounds()


def loop_now(loop: LoopPlan, readings: dict[str, Reading], now: datetime) -> LoopNow:
    """A loop by its last readings.

    readings: by quantity. now: with a zone.
    """
    judged = [judged_reading(quantity, readings.get(quantity), now, loop) for quantity in LOOKED_AT]
    place = 1 + LOOKED_AT.index("ammonia as nitrogen")
    judged.insert(place, _unionised(loop, readings, now))
    return LoopNow(loop.name, loop.volume_l, tuple(judged))


def judged_reading(
    quantity: str, reading: Reading | None, now: datetime, loop: LoopPlan | None = None
) -> Judged:
    """A reading beside its limits."""
    unit, bounds = QUANTITIES[quantity][0], bounds_of(quantity, loop)
    unit = "" if unit == "1" else unit
    if reading is None:
        return Judged(quantity, None, unit, None, "", bounds, "not read")
    return Judged(
        quantity, reading.value, unit, reading.when, reading.who, bounds,
        bounds.word(reading.value), _old(quantity, reading.when, now),
    )  # fmt: skip


def _old(quantity: str, when: datetime, now: datetime) -> bool:
    return now - when > timedelta(days=OLD_DAYS.get(quantity, OLD_USUALLY_DAYS))


def _unionised(loop: LoopPlan, readings: dict[str, Reading], now: datetime) -> Judged:
    """The un-ionised part of the ammonia by the last pH, temperature and salinity.

    Source: as `seawater.ammonia`. The pH counts as read by a meter set in ordinary buffers.
    """
    bounds = bounds_of(UNIONISED)
    total, ph = readings.get("ammonia as nitrogen"), readings.get("pH")
    nothing = Judged(UNIONISED, None, "mg/L", None, "", bounds, "not read")
    if total is None or ph is None:
        return nothing
    warmth, salt = readings.get("temperature"), readings.get("salinity")
    celsius = warmth.value if warmth else loop.temperature_c
    salinity = salt.value if salt else loop.salinity
    try:
        share = unionised_share(celsius, salinity, ph.value, "nbs")
    except BadInput:
        return nothing
    value = total.value * share
    working = say(
        "{percent:.2g} % of the ammonia at {celsius}, salinity {salinity:g} and pH "
        "{ph:g} (a meter set in ordinary buffers).",
        percent=100 * share,
        celsius=text(celsius, "°C", 6),
        salinity=salinity,
        ph=ph.value,
    )
    when = min(total.when, ph.when)
    old = _old("ammonia as nitrogen", when, now)
    return Judged(UNIONISED, value, "mg/L", when, total.who, bounds, bounds.word(value), old,
                  working)  # fmt: skip
