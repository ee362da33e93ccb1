"""What could be asked instead, where a target cannot be met: fewer, later, or less sure."""

from dataclasses import replace
from datetime import date, timedelta
from math import floor, log10
from typing import Literal

import numpy as np

from protoconch.errors import BadInput
from protoconch.hatchery.description import Target
from protoconch.season.answer import Odds, Offer
from protoconch.season.plan.judge import Judged
from protoconch.season.plan.room import Choice
from protoconch.season.plan.study import Study, study
from protoconch.words import day_text, say

LATEST_MONTHS = 24
Kind = Literal["fewer", "later", "less sure"]


def offers(asked: Study, full: Choice, seen: Judged) -> tuple[Offer, ...]:
    """The nearest targets that can be met; seen: the fullest choice in fresh futures."""
    found = (_fewer(asked, full), _later(asked), _less_sure(asked, full, seen))
    return tuple(offer for offer in found if offer is not None)


def no_offer(made: tuple[Offer, ...], target: Target) -> tuple[str, ...]:
    """Sentences for the kinds of offer that could not be made."""
    kinds = {offer.kind for offer in made}
    percent = target.confidence * 100
    told = {
        "fewer": say(
            "No number of animals of {size_mm:g} mm by {day} is {percent:.0f} % sure.",
            size_mm=target.size_mm,
            day=_day(target.by),
            percent=percent,
        ),
        "later": say(
            "No date within {months} months makes {animals:,} animals {percent:.0f} % sure.",
            months=LATEST_MONTHS,
            animals=target.animals,
            percent=percent,
        ),
        "less sure": say(
            "No future gives {animals:,} animals by {day}.",
            animals=target.animals,
            day=_day(target.by),
        ),
    }
    return tuple(sentence for kind, sentence in told.items() if kind not in kinds)


def _offer(kind: Kind, target: Target, seen: Judged, masses: int, sentence: str) -> Offer:
    return Offer(kind, target, seen.odds, float(seen.draws.total.mean()), masses,
                 len(seen.layout.lots), sentence)  # fmt: skip


def round_down(number: float) -> int:
    """A whole number not above it, to two leading digits: 1,374 becomes 1,300."""
    if number < 1:
        return 0
    step = 10 ** max(floor(log10(number)) - 1, 0)
    return int(number // step * step)


def _fewer(asked: Study, full: Choice) -> Offer | None:
    """The most animals of the size by the date, as sure as asked."""
    target, effort = asked.target, asked.inputs.effort
    seen = asked.judged(full, target.animals, effort.look)
    animals = round_down(float(np.quantile(seen.draws.total, 1.0 - target.confidence)))
    while animals >= 1:
        choice = asked.search(animals).fullest(start=full).choice
        seen = asked.judged(choice, animals, effort.fresh)
        if seen.odds.value >= target.confidence:
            smaller = replace(target, animals=animals)
            masses = asked.room.masses(choice).total
            return _offer("fewer", smaller, seen, masses, (
                say("{animals:,} animals of {size_mm:g} mm by {day}: {percent} sure.",
                    animals=animals, size_mm=target.size_mm, day=_day(target.by),
                    percent=_percent(seen.odds))))  # fmt: skip
        animals = round_down(animals * 0.93)
    return None


def _later(asked: Study) -> Offer | None:
    """The earliest month's end by which as many are as sure as asked."""
    target, effort = asked.target, asked.inputs.effort

    def reached(months: int) -> tuple[Study, Choice, Judged] | None:
        by = target.by + timedelta(days=round(months * 365.25 / 12))
        try:
            later = study(asked.inputs, replace(target, by=by), common=effort.look)
        except BadInput:
            return None
        choice = later.search(target.animals).fullest().choice
        seen = later.judged(choice, target.animals, effort.look)
        return (later, choice, seen) if seen.odds.value >= target.confidence else None

    low, high = 0, 2
    while (best := reached(high)) is None:
        low, high = high, high * 2
        if low >= LATEST_MONTHS:
            return None
    while high - low > 1:
        middle = (low + high) // 2
        if (found := reached(middle)) is not None:
            high, best = middle, found
        else:
            low = middle
    later, choice, _ = best
    seen = later.judged(choice, target.animals, effort.fresh)
    masses = later.room.masses(choice).total
    return _offer("later", later.target, seen, masses, (
        say("{animals:,} animals of {size_mm:g} mm by {day}: {percent} sure.",
            animals=target.animals, size_mm=target.size_mm, day=_day(later.target.by),
            percent=_percent(seen.odds))))  # fmt: skip


def _less_sure(asked: Study, full: Choice, seen: Judged) -> Offer | None:
    """As many by the date, as sure as this room can make it."""
    target = replace(asked.target, confidence=max(round(seen.odds.at_least, 2), 0.0))
    if seen.odds.value <= 0.0:
        return None
    masses = asked.room.masses(full).total
    return _offer("less sure", target, seen, masses, (
        say("{animals:,} animals of {size_mm:g} mm by {day}: only {percent} sure.",
            animals=target.animals, size_mm=target.size_mm, day=_day(target.by),
            percent=_percent(seen.odds))))  # fmt: skip


def _percent(odds: Odds) -> str:
    share = odds.value * 100
    return say("under 1 %") if share < 1 else say("over 99 %") if share > 99 else f"{share:.0f} %"


def _day(day: date) -> str:
    return day_text(day, "%-d %B %Y")
