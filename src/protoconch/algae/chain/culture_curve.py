"""How one culture grows by its logged counts: the curve, what it will hold, when to use it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from protoconch.algae.chain.description import Room, Step, VesselKind
from protoconch.algae.chain.lines import (
    REFERENCE_C,
    growth_in_room_per_d,
    start_per_ml,
    usual_and_peak_per_ml,
)
from protoconch.algae.growth_fit import GrowthFit, best_fit
from protoconch.algae.species import AlgaSpecies, alga
from protoconch.errors import BadInput
from protoconch.words import day_text, joined, phrase, say

Numbers = NDArray[np.float64]
Advice = Literal["wait", "use", "count", "discard"]
ENOUGH_COUNTS = 5
"""Counts from which on a curve is fitted; with fewer the species' usual growth leads."""
BESIDES = 0.1
"""Scatter of ln(count) besides the counting itself, as of filling and pipetting; assumption."""
POINTS, AHEAD_D, TWO_SIDED = 81, 5.0, 1.96
"""Points of a curve, days that it is carried ahead, and standard errors in 95 % limits."""


@dataclass(frozen=True, slots=True)
class LoggedCount:
    """A count of a culture [cells/mL] with its 95 % limits."""

    when: datetime
    per_ml: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class CultureCurve:
    """A culture along its days since inoculation.

    species, vessel: key, and kind of vessel. age_d: now [d]. counts: day, count and limits of
    each. fit: the curve laid through the counts, None where they are too few. days: shape (n,);
    middle, low, high: cells with 95 % limits [cells/mL], same shape. growth_per_d: with its
    limits. usual_per_ml: density at which it is used. ready_d, ready_early_d, ready_late_d: age
    at which it is that dense, None where it will not be in its life. last_d: last age for use.
    advice: "wait", "use" it now, "count" it again, or "discard" it. sentence: all that in words.
    """

    species: str
    vessel: str
    age_d: float
    counts: tuple[tuple[float, float, float, float], ...]
    fit: GrowthFit | None
    days: Numbers
    middle: Numbers
    low: Numbers
    high: Numbers
    growth_per_d: tuple[float, float, float]
    usual_per_ml: float
    ready_d: float | None
    ready_early_d: float | None
    ready_late_d: float | None
    last_d: float
    advice: Advice
    sentence: str


def culture_curve(
    room: Room, species: str, kind: str, inoculated: datetime, counts: Sequence[LoggedCount], *,
    now: datetime, temperature_c: float = REFERENCE_C,
) -> CultureCurve:  # fmt: skip
    """The curve of one culture that has not been drawn from, and when to use it.

    room: its lines say through which vessels the species goes. kind: of the vessel it is in.
    counts: in any order, limits from the counting. temperature_c: of the room.
    With five counts and more, the curve that they speak for most (`growth_fit.best_fit`, weighed by
    the counting errors); with fewer, the usual growth of the species with its range, as far as
    the counts do not say otherwise, through the last count.
    Raises: BadInput, where the species has no line through such a vessel, or a count is before
        the inoculation, after now, or not above 0 within its limits.
    """
    step, vessel, donor = _found(room, species, kind)
    seen = _seen(inoculated, counts, now)
    age = _days(inoculated, now)
    last = float(step.grow_days + step.use_days - 1)
    days = np.linspace(0.0, max(last, age) + AHEAD_D, POINTS)
    usual, peak = usual_and_peak_per_ml(species, vessel)
    if len(seen) >= ENOUGH_COUNTS and len({day for day, *_ in seen}) >= ENOUGH_COUNTS - 1:
        fit: GrowthFit | None = best_fit(
            [day for day, *_ in seen], [n for _, n, *_ in seen], [_error(*c) for c in seen]
        )
    else:
        fit = None
    if fit is not None:
        middle, (low, high) = fit.per_ml(days), fit.limits_per_ml(days)
        growth = (fit.growth_per_d, fit.growth_limits.low, fit.growth_limits.high)
    else:
        growth = _growth(alga(species), temperature_c, seen)
        start = start_per_ml(species, vessel, donor)
        middle, low, high = _expected(days, seen, growth, start, peak)
    ready, early, late = (_reached(days, cells, usual, last) for cells in (middle, high, low))
    advice = _advice(age, last, ready, growth)
    made = CultureCurve(species, kind, age, seen, fit, days, middle, low, high, growth, usual,
                        ready, early, late, last, advice, "")  # fmt: skip
    return _told(made, inoculated)


def _found(room: Room, species: str, kind: str) -> tuple[Step, VesselKind, VesselKind | None]:
    for line in room.lines:
        for place, step in enumerate(line.steps):
            if line.species == species and step.kind == kind:
                donor = room.kind(line.steps[place - 1].kind) if place else None
                return step, room.kind(kind), donor
    raise BadInput(
        say("There is no line of {species} through a {kind}.", species=species, kind=kind)
    )


def _days(since: datetime, until: datetime) -> float:
    return (until - since).total_seconds() / 86400


def _seen(
    inoculated: datetime, counts: Sequence[LoggedCount], now: datetime
) -> tuple[tuple[float, float, float, float], ...]:
    if now < inoculated:
        raise BadInput(say("The culture was inoculated after now."))
    found = []
    for count in sorted(counts, key=lambda entry: entry.when):
        if not inoculated <= count.when <= now:
            raise BadInput(
                say("A count of {when} is before the inoculation or after now.", when=count.when)
            )
        numbers = (count.low, count.per_ml, count.high)
        if not (all(map(math.isfinite, numbers)) and 0 <= count.low <= count.per_ml <= count.high
                and count.per_ml > 0):  # fmt: skip
            raise BadInput(
                say(
                    "The count of {when} is {per_ml:g} cells/mL within {low:g} to {high:g}; it"
                    " must "
                    "be above 0 and within its limits.",
                    when=count.when,
                    per_ml=count.per_ml,
                    low=count.low,
                    high=count.high,
                )
            )
        found.append((_days(inoculated, count.when), count.per_ml, count.low, count.high))
    return tuple(found)


def _error(_: float, per_ml: float, low: float, high: float) -> float:
    """Standard error of ln(count), the counting and what comes besides."""
    counting = math.log(high / max(low, per_ml / 10)) / 2 / TWO_SIDED
    return math.hypot(counting, BESIDES)


def _growth(
    species: AlgaSpecies, temperature_c: float, seen: Sequence[tuple[float, float, float, float]]
) -> tuple[float, float, float]:
    """Growth rate and its limits from the species' range and the slope between the counts.

    Source: two normal estimates weighed by their variances (textbook).
    """
    value = species.numbers["growth_per_d"]
    usual = growth_in_room_per_d(species, temperature_c)
    low, high = value.low or 0.5 * value.number, value.high or 2 * value.number
    spread = usual * math.log(high / low) / 2 / TWO_SIDED
    day = np.array([count[0] for count in seen])
    if len(day) >= 2 and float(np.ptp(day)) > 0:
        weight = np.array([_error(*count) for count in seen]) ** -2
        off = day - np.average(day, weights=weight)
        log_count = np.log([count[1] for count in seen])
        bend = float(np.sum(weight * off**2))
        slope, error = float(np.sum(weight * off * log_count)) / bend, bend**-0.5
        usual = (usual / spread**2 + slope / error**2) / (spread**-2 + error**-2)
        spread = (spread**-2 + error**-2) ** -0.5
    return usual, usual - TWO_SIDED * spread, usual + TWO_SIDED * spread


def _expected(
    days: Numbers, seen: Sequence[tuple[float, float, float, float]],
    growth: tuple[float, float, float], start: float, peak: float,
) -> tuple[Numbers, Numbers, Numbers]:  # fmt: skip
    """Curves through the last count, or from the usual start: middle, low and high."""
    day, cells, error = 0.0, start, math.log(2.0) / TWO_SIDED  # half to double of the usual
    if seen:
        day, cells, *_ = seen[-1]
        error = _error(*seen[-1])
    since, factor = days - day, math.exp(TWO_SIDED * error)
    middle = _grown(since, cells, growth[0], peak)
    slow, fast = (_apart(middle, _grown(since, cells, rate, peak)) for rate in growth[1:])
    few, many = (_apart(middle, _grown(since, start, growth[0], peak))
                 for start in (cells / factor, cells * factor))  # fmt: skip
    before = since < 0
    low = np.hypot(few, np.where(before, fast, slow))
    high = np.hypot(many, np.where(before, slow, fast))
    return middle, middle * np.exp(-low), middle * np.exp(high)


def _apart(one: Numbers, other: Numbers) -> Numbers:
    return np.asarray(np.abs(np.log(other / one)))


def _grown(since: Numbers, cells: float, growth: float, peak: float) -> Numbers:
    """Cells so many days after, or before, a density; logistic, or shrinking by a steady share."""
    if growth <= 0:
        return np.asarray(cells * np.exp(growth * since))
    top = max(peak, cells * 1.001)
    return np.asarray(top / (1 + (top - cells) / cells * np.exp(-growth * since)))


def _reached(days: Numbers, cells: Numbers, usual: float, last: float) -> float | None:
    """First day on which the cells are there, within the life of the culture."""
    there = np.flatnonzero(cells >= usual)
    if not there.size:
        return None
    place = int(there[0])
    if place == 0:
        return 0.0
    low, high = np.log(cells[place - 1]), np.log(cells[place])
    part = float((math.log(usual) - low) / (high - low))
    day = float(days[place - 1] + part * (days[place] - days[place - 1]))
    return day if day <= last else None


def _advice(
    age: float, last: float, ready: float | None, growth: tuple[float, float, float]
) -> Advice:
    if age > last + 1 or growth[2] < 0:
        return "discard"
    if ready is None:
        return "count"
    return "use" if ready <= age else "wait"


_SAID = {
    0: (
        phrase("It was not counted yet; by the usual growth of its species it grows {rate:.2f} a"
        " day"
               " ({low:.2f} to {high:.2f})."),
        phrase("It was not counted yet; by the usual growth of its species it shrinks {rate:.2f} a"
               " day ({low:.2f} to {high:.2f})."),
    ),
    1: (
        phrase("By one count and the usual growth of its species it grows {rate:.2f} a day"
               " ({low:.2f} to {high:.2f})."),
        phrase("By one count and the usual growth of its species it shrinks {rate:.2f} a day"
               " ({low:.2f} to {high:.2f})."),
    ),
}  # fmt: skip
_SAID_OF_MANY = (
    phrase("By {counts} counts it grows {rate:.2f} a day ({low:.2f} to {high:.2f})."),
    phrase("By {counts} counts it shrinks {rate:.2f} a day ({low:.2f} to {high:.2f})."),
)
"""How a culture grows or shrinks, by how often it was counted."""


def _told(made: CultureCurve, inoculated: datetime) -> CultureCurve:
    """The same with its sentence."""
    rate, low, high = made.growth_per_d
    grows, shrinks = _SAID.get(len(made.counts), _SAID_OF_MANY)
    said = say(
        grows if rate > 0 else shrinks, counts=len(made.counts), rate=abs(rate), low=low, high=high
    )
    end = _day(inoculated, made.last_d)
    dense = say("{number:.3g} million/mL", number=made.usual_per_ml / 1000000.0)
    if made.advice == "use":
        more = say(
            "It is dense enough ({dense}): harvest it or pour it on by {end}.", dense=dense, end=end
        )
    elif made.advice == "wait" and made.ready_d is not None:
        early, late = (
            say("later") if day is None else _day(inoculated, day)
            for day in (made.ready_early_d, made.ready_late_d)
        )
        span = say("{early} to {late}", early=early, late=late)
        more = say(
            "It reaches {dense} about {day} ({span}); use it by {end}.",
            dense=dense,
            day=_day(inoculated, made.ready_d),
            span=span,
            end=end,
        )
    elif made.advice == "count":
        more = say(
            "So it never reaches {dense} by {end}: count it again, and start another.",
            dense=dense,
            end=end,
        )
    elif made.age_d > made.last_d + 1:
        more = say("Its last day was {end}: discard it.", end=end)
    else:
        more = say("It is dying: discard it, and start another.")
    return replace(made, sentence=joined([said, more]))


def _day(inoculated: datetime, age_d: float) -> str:
    day: date = (inoculated + timedelta(days=age_d)).date()
    return day_text(day, "%-d %B")
