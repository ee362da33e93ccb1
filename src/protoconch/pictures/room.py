"""The room day by day: tanks, tray and nursery floor, algae and work, each with what there is."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from protoconch.pictures.words import amount, day_short
from protoconch.season.answer import SeasonPlan
from protoconch.words import begun, joined, phrase, say

DAYS_HOURS = phrase("% of a day's hours")
Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Lane:
    """One scarce thing along time.

    words, unit: for people; short, short_unit: the same for a narrow column. used: amount
    in use on each day, shape (days,), with low and high where it is uncertain. available: what
    there is [unit].
    """

    words: str
    short: str
    unit: str
    short_unit: str
    used: Numbers
    available: float
    low: Numbers | None = None
    high: Numbers | None = None

    @property
    def name(self) -> str:
        """Its words as a heading."""
        return begun(self.words)

    @property
    def peak(self) -> tuple[int, float]:
        """The first day of greatest use, counted from 0, and the amount [unit]."""
        if not self.used.size:
            return 0, 0.0
        day = int(np.argmax(self.used))
        return day, float(self.used[day])

    @property
    def top(self) -> float:
        """The greatest amount that must fit in the drawing [unit]."""
        highest = self.used if self.high is None else self.high
        return max(self.available, float(highest.max(initial=0.0)), 1e-9)

    @property
    def share(self) -> float:
        """Greatest use, in one future of ten where it is uncertain, as a share of what there is."""
        highest = self.used if self.high is None else self.high
        return float(highest.max(initial=0.0)) / self.available if self.available else 0.0


def lanes(plan: SeasonPlan) -> tuple[Lane, ...]:
    """What is scarce in the room, in the order in which the animals meet it."""
    forecast, hatchery = plan.forecast, plan.hatchery
    return (
        Lane(
            say("larval tanks"),
            say("Tanks"),
            say("in use"),
            say("in use"),
            forecast.tanks_used,
            float(sum(tank.count for tank in hatchery.larval_tanks)),
        ),
        Lane(
            say("algae for larvae"),
            say("Algae"),
            say("g dry a day"),
            say("g a day"),
            forecast.algae_g,
            hatchery.algae_dry_g_per_day,
        ),
        Lane(
            say("tray floor"),
            say("Trays"),
            "m²",
            "m²",
            forecast.trays_cm2 / 1e4,
            hatchery.tray_area_cm2 / 1e4,
        ),
        Lane(
            say("nursery floor"),
            say("Nursery"),
            "m²",
            "m²",
            forecast.nursery_m2_p50,
            hatchery.nursery_area_m2,
            forecast.nursery_m2_p10,
            forecast.nursery_m2_p90,
        ),
        Lane(
            say("work"),
            say("Work"),
            say(DAYS_HOURS),
            say("% of day"),
            fullest_days(plan),
            100.0,
        ),
    )


def fullest_days(plan: SeasonPlan) -> Numbers:
    """Work of the fullest day of the week that each day lies in, shape (days,) [% of crew hours].

    A day's work is set against the hours of its weekday; weeks begin on Monday.
    """
    hours, start = plan.forecast.work_h, plan.forecast.first_day.weekday()
    if not hours.size:
        return hours
    count = np.arange(hours.size) + start
    crew = np.asarray(plan.hatchery.crew_hours, dtype=np.float64)[count % 7]
    shares = np.divide(hours, crew, out=np.where(hours > 0, 1.0, 0.0), where=crew > 0)
    weeks = count // 7
    fullest = np.zeros(int(weeks[-1]) + 1)
    np.maximum.at(fullest, weeks, shares)
    shown: Numbers = 100.0 * fullest[weeks]
    return shown


def room_meaning(plan: SeasonPlan) -> str:
    """When the room is fullest, in a sentence that names each lane that reaches nine tenths."""
    found = lanes(plan)
    if not any(lane.peak[1] for lane in found):
        return say("Nothing in the room is in use.")
    tight = [lane for lane in found if lane.share >= 0.9]
    told = tight or [max(found, key=lambda lane: lane.share)]
    parts = [_told(lane, plan.forecast.first_day) for lane in told]
    return say(
        "Fullest: {lanes}."
        if tight
        else "Nothing in the room is nearly full. The fullest: {lanes}.",
        lanes=joined(parts, "; "),
    )


def _told(lane: Lane, first_day: date) -> str:
    day, used = lane.peak
    share = lane.unit == DAYS_HOURS
    told = say(
        "{name} {used} {unit} on {day}" if share else "{name} {used} of {all} {unit} on {day}",
        name=lane.words,
        used=amount(used),
        all=amount(lane.available),
        unit=lane.unit,
        day=day_short(first_day + timedelta(days=day)),
    )
    if lane.high is None:
        return told
    return say(
        "{told}, but up to {most} in one future of ten",
        told=told,
        most=amount(float(lane.high.max())),
    )
