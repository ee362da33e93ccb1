"""The hatchery's own numbers: what the logs of its seasons make of the beliefs for the next.

A season's value of an unknown is the site's own mean and what is peculiar to the season. On the
scale on which the book's belief is a standard normal, the mean has variance 1 - t and the season t,
so that a first season's belief is the one it began with; t is weighed over a grid by how much the
seasons differ. One season moves the next belief by less than it moved its own, and a log that
says little moves it little.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from protoconch.hatchery.own_values import LoggedSeason, learned_from, place_of
from protoconch.season.outlook.season_said import GRID, Book, Booked, SeasonSaid
from protoconch.season.outlook.unknowns import NODES
from protoconch.sources.references import OWN
from protoconch.sources.values import SourcedValue

Numbers = NDArray[np.float64]
SEASON_SHARES = np.linspace(0.05, 0.75, 29)
"""Shares of the variance between seasons that are weighed."""
SHARES = (".survival", "_share")
"""Endings of the names of numbers that lie between 0 and 1."""
NARROWER, SHIFTED = 0.05, 0.1
"""Share of the spread that must be gone, or standard deviations by which the middle must have
moved, before a number is called the hatchery's own."""
MIDDLE_OF_NINE_TENTHS = 1.6449
DIGITS = 5
FAR, LOG_FAR, HALVINGS = 40.0, 7.0, 22
"""Bounds within which a season's middle, and the ln of its variance, are looked for."""
NONE: Mapping[str, SourcedValue] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class OwnNumber:
    """A belief for the next season, and the one of the book.

    name: of the outlook's unknown. shift: of its middle, and narrower: share of its spread that
    is gone, both in standard deviations of the book's belief. seasons: those behind it.
    """

    name: str
    value: SourcedValue
    before: SourcedValue
    shift: float
    narrower: float
    seasons: tuple[LoggedSeason, ...]


def own_numbers(
    of: Book, seasons: Sequence[SeasonSaid], known: Mapping[str, SourcedValue] = NONE
) -> tuple[OwnNumber, ...]:
    """The numbers that the logs of these seasons have moved, to be put into `own_values`.

    known: the hatchery's own numbers as they are; what earlier seasons taught is read from those
    that were learned. A season that taught a number already is not used on it again.
    """
    made = []
    for name, booked in of.items():
        before = known.get(booked.value.name)
        behind = list(learned_from(before)) if before is not None else []
        taught = {season.first_day for season in behind}
        said = [
            (season, number) for season in seasons for number in season.numbers
            if number.name == name and season.first_day not in taught
            and np.isclose(number.booked, booked.value.number)
        ]  # fmt: skip
        if not said:
            continue
        points = [(number.middle, number.variance) for _, number in said]
        if before is not None and behind:
            points += remembered(booked, before)
        mean, sd = next_season(*zip(*points, strict=True))
        if 1.0 - sd > NARROWER or abs(mean) > SHIFTED:
            behind += [LoggedSeason(s.first_day, s.batches, s.seen) for s, _ in said]
            value = _value(booked, mean, sd, behind)
            made.append(OwnNumber(name, value, booked.value, mean, 1.0 - sd, tuple(behind)))
    return tuple(made)


def learned_numbers(of: Book, known: Mapping[str, SourcedValue]) -> tuple[OwnNumber, ...]:
    """Those of a hatchery's own numbers that its log has taught it, with how far they moved."""
    made = []
    for name, booked in of.items():
        value = known.get(booked.value.name)
        if value is not None and learned_from(value):
            mean, sd = _on_the_books_scale(booked, value)
            made.append(OwnNumber(name, value, booked.value, mean, 1.0 - sd, learned_from(value)))
    return tuple(made)


def next_season(middles: Sequence[float], variances: Sequence[float]) -> tuple[float, float]:
    """Mean and standard deviation of the next season's z, from what earlier logs said of theirs.

    middles, variances: see `NumberSaid`; one of each for a season.
    """
    y, v = (np.asarray(x, dtype=np.float64)[:, None] for x in (middles, variances))
    t = SEASON_SHARES
    precision = 1.0 / (t + v)
    variance = 1.0 / (1.0 / (1.0 - t) + precision.sum(axis=0))
    mean = variance * (precision * y).sum(axis=0)
    evidence = np.log(precision).sum(axis=0) + np.log(variance / (1.0 - t))
    evidence += mean**2 / variance - (precision * y**2).sum(axis=0)
    w = np.exp(0.5 * (evidence - evidence.max()))
    w /= w.sum()
    middle = float(w @ mean)
    return middle, float(np.sqrt(w @ (variance + t + mean**2) - middle**2))


def remembered(booked: Booked, value: SourcedValue) -> list[tuple[float, float]]:
    """Middles and variances of seasons alike that would have taught just this learned number.

    As many as it was learned from; from one season, what that season said.
    """
    seasons = len(learned_from(value))
    mean, sd = _on_the_books_scale(booked, value)

    def taught(log_variance: float) -> tuple[float, float]:
        """The middle that gives the mean with this variance, and the spread that comes of it."""
        variances = [float(np.exp(log_variance))] * seasons
        middle = _crossing(lambda y: next_season([y] * seasons, variances)[0], mean, -FAR, FAR)
        return middle, next_season([middle] * seasons, variances)[1]

    log_variance = _crossing(lambda x: taught(x)[1], sd, -LOG_FAR, LOG_FAR)
    return [(taught(log_variance)[0], float(np.exp(log_variance)))] * seasons


def _on_the_books_scale(booked: Booked, value: SourcedValue) -> tuple[float, float]:
    """Mean and standard deviation of a learned number, as `_value` was given them."""
    edges = np.interp([value.low or 0.0, value.high or 0.0], booked.table.values, NODES)
    return float(edges.mean()), float(edges[1] - edges[0]) / 2 / MIDDLE_OF_NINE_TENTHS


def _crossing(rising: Callable[[float], float], goal: float, low: float, high: float) -> float:
    """Where a rising function reaches a goal, by halving."""
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if rising(middle) < goal else (low, middle)
    return (low + high) / 2


def _value(
    booked: Booked, mean: float, sd: float, seasons: Sequence[LoggedSeason]
) -> SourcedValue:  # fmt: skip
    """The sourced value of a belief that is N(mean, sd²) on the scale of the book's table."""
    before, at = booked.value, booked.table.at
    edges = mean + sd * MIDDLE_OF_NINE_TENTHS * np.array([-1.0, 0.0, 1.0])
    low, middle, high = (_short(x) for x in at(edges))
    told = replace(
        before, value=middle, low=low, high=high, source=OWN, confidence="own", missing="",
        borrowed_from="", beta=None, shape="lognormal", place=place_of(seasons, _written(before)),
    )  # fmt: skip
    if not before.name.endswith(SHARES):
        return told
    weight = np.exp(-0.5 * GRID**2)
    values = at(mean + sd * GRID)
    share = float(np.average(values, weights=weight))
    variance = float(np.average((values - share) ** 2, weights=weight))
    size = share * (1.0 - share) / variance - 1.0
    return replace(told, value=_short(share), shape="beta",
                   beta=(_short(share * size), _short((1.0 - share) * size)))  # fmt: skip


def _short(number: float) -> float:
    return float(f"{number:.{DIGITS}g}")


def _written(value: SourcedValue) -> str:
    """A number and its range, as the place of another tells them."""
    if value.low is None or value.high is None:
        return f"{value.number:g}"
    return f"{value.number:g} ({value.low:g} to {value.high:g})"
