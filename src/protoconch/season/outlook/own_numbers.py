"""The hatchery's own numbers: what the logs of its seasons make of the beliefs for the next.

A season's value of an unknown is the site's own mean and what is peculiar to the season. On the
scale on which the belief is a standard normal, the mean has variance 1 - t and the season t, so
that a first season's belief is the one it began with; t is weighed over a grid by how much the
seasons differ. One season moves the next belief by less than it moved its own.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from protoconch.season.outlook.basis import Basis
from protoconch.season.outlook.unknowns import CLUMPING, Table
from protoconch.season.outlook.update import Posterior
from protoconch.sources.values import SourcedValue

Numbers = NDArray[np.float64]
SOURCE = "this hatchery's log"
SEASON_SHARES = np.linspace(0.05, 0.75, 29)
"""Shares of the variance between seasons that are weighed."""
SHARES = (".survival", "_share")
"""Endings of the names of numbers that lie between 0 and 1."""
TOLD = 0.02
"""Share of the spread that must be gone before a number is called the hatchery's own."""


@dataclass(frozen=True, slots=True)
class OwnNumber:
    """A belief for the next season, and the one it replaces.

    shift: of its middle, and narrower: share of its spread that is gone, both in standard
    deviations of the belief before. seasons: logs behind it.
    """

    value: SourcedValue
    before: SourcedValue
    shift: float
    narrower: float
    seasons: int


def own_numbers(rests_on: Basis, seasons: Sequence[Posterior]) -> tuple[OwnNumber, ...]:
    """The numbers that the logs of these seasons have moved.

    seasons: posteriors that all began from the beliefs of `rests_on`. Returns those that are now
    better known, to be put into `Hatchery.own_values` by their names.
    """
    made = []
    counting = rests_on.measures.counting
    for i, (name, table) in enumerate(zip(rests_on.site.names, rests_on.site.tables, strict=True)):
        before = rests_on.beliefs.uncertain.get(name) or (
            counting[name] if name == CLUMPING else None
        )
        if before is None or not table.spread:
            continue
        mean, sd = next_season([p.z[i] for p in seasons])
        if 1.0 - sd > TOLD:
            value = replaced(before, table, mean, sd, len(seasons))
            made.append(OwnNumber(value, before, mean, 1.0 - sd, len(seasons)))
    return tuple(made)


def next_season(seasons: Sequence[Numbers]) -> tuple[float, float]:
    """Mean and standard deviation of the next season's z, from the particles of earlier ones."""
    found = []
    for z in seasons:
        mean, variance = float(z.mean()), float(min(z.var(), 0.9999))
        noise = 1.0 / (1.0 / variance - 1.0)
        found.append((mean / variance * noise, noise))
    y, v = np.array(found).T if found else (np.zeros(0), np.zeros(0))
    weights, means, variances = [], [], []
    for t in SEASON_SHARES:
        precision = 1.0 / (t + v)
        variance = 1.0 / (1.0 / (1.0 - t) + precision.sum())
        mean = variance * float((precision * y).sum())
        evidence = 0.5 * float(np.log(precision).sum() + np.log(variance / (1.0 - t)))
        evidence += 0.5 * (mean**2 / variance - float((precision * y**2).sum()))
        weights.append(evidence)
        means.append(mean)
        variances.append(variance + t)
    w = np.exp(np.array(weights) - max(weights))
    w /= w.sum()
    middle = float(w @ np.array(means))
    spread = float(w @ (np.array(variances) + np.array(means) ** 2)) - middle**2
    return middle, float(np.sqrt(spread))


def replaced(
    before: SourcedValue, table: Table, mean: float, sd: float, seasons: int
) -> SourcedValue:
    """The sourced value of a belief that is N(mean, sd²) on the scale of its table."""
    grid = np.linspace(-4.0, 4.0, 401)
    weight = np.exp(-0.5 * grid**2)
    weight /= weight.sum()
    values = table.at(mean + sd * grid)
    low, middle, high = (float(table.at(np.array(mean + sd * q))) for q in (-1.6449, 0.0, 1.6449))
    told = replace(
        before, value=middle, low=low, high=high, source=SOURCE, confidence="own", missing="",
        borrowed_from="", beta=None, shape="lognormal", conditions=before.conditions,
        place=f"{seasons} season{'s' if seasons != 1 else ''} logged; before: {before.value:g}",
    )  # fmt: skip
    return _as_beta(told, values, weight) if before.name.endswith(SHARES) else told


def _as_beta(told: SourcedValue, values: Numbers, weight: Numbers) -> SourcedValue:
    mean = float(weight @ values)
    variance = float(weight @ (values - mean) ** 2)
    size = mean * (1.0 - mean) / variance - 1.0
    return replace(told, value=mean, shape="beta", beta=(mean * size, (1.0 - mean) * size))
