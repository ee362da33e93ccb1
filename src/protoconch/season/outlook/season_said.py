"""What the log of one season said of each number, cleared of what was believed before it.

On the scale on which the book's belief is a standard normal, a belief after a season is about
normal; divided by the belief with which the season was begun it leaves what the log alone said:
a middle and its variance. So seasons that were begun from different beliefs can be put together.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.own_values import without_learned
from protoconch.season.model.beliefs import beliefs
from protoconch.season.outlook.basis import Basis, own_counting
from protoconch.season.outlook.unknowns import CLUMPING, NODES, SEEN, Table, table
from protoconch.season.outlook.update import Posterior
from protoconch.sources.values import SourcedValue

Numbers = NDArray[np.float64]
GRID = np.linspace(-4.0, 4.0, 401)
SURE = 4.0
"""Standard errors of the particles by which a number must have moved or narrowed to be told."""
LEAST = 0.02
"""Least information that a log is said to hold of a number it has moved, of the belief's own 1."""


@dataclass(frozen=True, slots=True)
class Booked:
    """What the book says of a number: the sourced value, and its belief as a table."""

    value: SourcedValue
    table: Table


Book = Mapping[str, Booked]
"""By the names of the outlook's unknowns, those that are uncertain."""


def book(
    species: Species, hatchery: Hatchery, assumed: Mapping[str, SourcedValue],
    counting: Mapping[str, SourcedValue],
) -> Book:  # fmt: skip
    """What is believed without this hatchery's log: the profile's numbers and those typed in.

    Raises: MissingNumber, where the species lacks a number that cannot be done without.
    """
    plain = without_learned(hatchery)
    errors = own_counting(counting, plain)
    values = {**beliefs(species, plain, assumed).uncertain,
              CLUMPING: errors[CLUMPING], SEEN: errors[SEEN]}  # fmt: skip
    found = {name: Booked(value, table(value)) for name, value in values.items()}
    return {name: each for name, each in found.items() if each.table.spread}


@dataclass(frozen=True, slots=True)
class NumberSaid:
    """What a log said of a number, in standard deviations of the book's belief from its middle.

    name: of the outlook's unknown. middle, variance: as if the log had been a single measuring.
    booked: the book's number then; where the book has changed since, this no longer holds.
    """

    name: str
    middle: float
    variance: float
    booked: float


@dataclass(frozen=True, slots=True)
class SeasonSaid:
    """What a season's log said. seen: things seen of the animals; numbers: those it moved."""

    first_day: date
    last_day: date
    batches: int
    seen: int
    numbers: tuple[NumberSaid, ...]


def season_said(of: Book, rests_on: Basis, posterior: Posterior) -> SeasonSaid:
    """What the log behind a posterior said. rests_on: what it began from."""
    told = posterior.history
    last = rests_on.first_day + timedelta(days=told.day)
    numbers = []
    if told.observations:
        for i, (name, own) in enumerate(
            zip(rests_on.site.names, rests_on.site.tables, strict=True)
        ):
            if name in of and own.spread:
                said = _said(name, of[name], own, posterior.z[i], posterior.effective)
                numbers += [said] if said else []
    return SeasonSaid(rests_on.first_day, last, len(told.batches), len(told.observations),
                      tuple(numbers))  # fmt: skip


def _said(
    name: str, booked: Booked, began: Table, z: Numbers, effective: float
) -> NumberSaid | None:
    """What particles say of a number beyond what was believed before; None where nothing."""
    weight = np.exp(-0.5 * GRID**2)
    was = _on_the_books_scale(booked.table, began.at(GRID))
    now = _on_the_books_scale(booked.table, began.at(z))
    middle = float(np.average(was, weights=weight))
    prior = 1.0 / float(np.average((was - middle) ** 2, weights=weight))
    mean, after = float(now.mean()), 1.0 / float(now.var())
    information = after - prior
    moved = abs(mean - middle) > SURE / np.sqrt(after * effective)
    if not moved and information < SURE * after * np.sqrt(2.0 / effective):
        return None
    information = max(information, LEAST * prior)
    said = (mean * after - middle * prior) / information
    return NumberSaid(name, said, 1.0 / information, booked.value.number)


def _on_the_books_scale(booked: Table, values: Numbers) -> Numbers:
    return np.asarray(np.interp(values, booked.values, NODES))
