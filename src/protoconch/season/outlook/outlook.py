"""The outlook: whether the season will make it, given all that was logged."""

from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass
from datetime import date
from uuid import UUID

import numpy as np
from numpy.typing import NDArray

from protoconch.animals.species import Species
from protoconch.log.entry import Entry
from protoconch.season.answer import DailyBatch, Odds, SeasonPlan, Spread
from protoconch.season.model.daily import Diary
from protoconch.season.model.draws import Streams
from protoconch.season.outlook.ahead import Standing, onward, standing, totals
from protoconch.season.outlook.basis import Basis, basis
from protoconch.season.outlook.telling import lines
from protoconch.season.outlook.unknowns import CLUMPING
from protoconch.season.outlook.update import PARTICLES, Posterior, updated
from protoconch.season.plan.judge import odds, spread
from protoconch.sources.values import SourcedValue
from protoconch.words import say

Numbers = NDArray[np.float64]
MOVED = 0.25
"""Prior standard deviations by which a belief must have moved, or narrowed, to be told."""


@dataclass(frozen=True, slots=True)
class BeliefMoved:
    """How far one belief has gone from where it began. before, now: 10, 50 and 90 % and mean.

    shift: of its middle, in standard deviations of the prior; narrower: share of the prior's
    standard deviation that is gone.
    """

    name: str
    unit: str
    before: Spread
    now: Spread
    shift: float
    narrower: float


@dataclass(frozen=True, slots=True)
class BatchOutlook:
    """A batch: its line along time and how many of it will have the size asked at the date."""

    code: str
    line: DailyBatch
    ready: Spread
    begun: bool


@dataclass(frozen=True, slots=True)
class Outlook:
    """What is to be expected, given the log up to a day.

    as_of: that day; first_day: day 0 of the lines, whose past part ends on `as_of`.
    expected, p10, p90: animals of the size asked at the date, those released or handed over
    included. ready: the same, one number for each future, sorted. together: all batches' line.
    effective_sample: independent particles behind it. surprises: sentences; widened: how much
    larger errors were taken for them. doubted: entries left out until a person confirms them, each
    (id, sentence). moved: beliefs that the log has moved, the most first.
    """

    as_of: date
    first_day: date
    odds: Odds
    expected: float
    p10: float
    p90: float
    ready: Numbers
    batches: tuple[BatchOutlook, ...]
    together: DailyBatch
    effective_sample: float
    surprises: tuple[str, ...]
    widened: float
    doubted: tuple[tuple[UUID, str], ...]
    moved: tuple[BeliefMoved, ...]
    entries_used: int
    sentence: str


@dataclass(frozen=True, slots=True)
class Known:
    """An outlook with what it was worked out from, to go on from with the next entry."""

    outlook: Outlook
    posterior: Posterior
    basis: Basis
    standing: Standing


def outlook(
    plan: SeasonPlan, species: Species, entries: Iterable[Entry], as_of: date, seed: int,
    assumed: Mapping[str, SourcedValue], counting: Mapping[str, SourcedValue], *,
    left_out: Set[UUID] = frozenset(), before: Known | None = None, particles: int = PARTICLES,
) -> Known:  # fmt: skip
    """The outlook of a plan after a log.

    entries: the whole log, in any order. as_of: entries that happened later are not looked at.
    seed: the same seed, plan and log give the same answer. assumed: sources/tables/season.toml;
    counting: sources/tables/outlook.toml. left_out: ids of entries that the log's own state
    doubts. before: an earlier outlook of this season; with it a new entry costs little, and the
    answer is the same within its Monte Carlo error.
    Raises: MissingNumber, where the species lacks a number that cannot be done without.
    """
    rests_on = before.basis if before is not None else basis(plan, species, assumed, counting)
    posterior = updated(rests_on, entries, as_of, seed, left_out,
                        before.posterior if before is not None else None, particles)  # fmt: skip
    return told(rests_on, posterior, as_of)


def told(rests_on: Basis, posterior: Posterior, as_of: date) -> Known:
    """The outlook that a posterior gives."""
    now = standing(rests_on, posterior, Streams(posterior.seed))
    diary = Diary()
    outcome = onward(now, rests_on, diary)
    by_batch = totals(now, rests_on, outcome)
    total = by_batch.sum(axis=0) + now.released
    animals = rests_on.plan.target.animals
    chance = odds(total, animals)
    drawn, together = lines(rests_on, posterior, now, diary, outcome)
    p10, p90 = np.quantile(total, [0.1, 0.9])
    result = Outlook(
        as_of=as_of, first_day=rests_on.first_day, odds=chance, expected=float(total.mean()),
        p10=float(p10), p90=float(p90), ready=np.sort(total),
        batches=tuple(
            BatchOutlook(code, line, spread(by_batch[b]), bool(now.stage[b] >= 0))
            for b, (code, line) in enumerate(zip(now.codes, drawn, strict=True))
        ),
        together=together, effective_sample=posterior.effective,
        surprises=posterior.surprises, widened=posterior.widened,
        doubted=tuple((d.entry, d.sentence) for d in posterior.history.doubted),
        moved=beliefs_moved(rests_on, posterior),
        entries_used=len(posterior.history.observations),
        sentence=_sentence(rests_on, chance.value, float(p10), float(p90)),
    )  # fmt: skip
    return Known(result, posterior, rests_on, now)


def _sentence(rests_on: Basis, chance: float, low: float, high: float) -> str:
    target = rests_on.plan.target
    return say(
        "In {odds:.0f} of 100 futures {animals:,} animals of {size:g} mm are ready by "
        "{by:%-d %b %Y}; eight in ten give {low:,.0f} to {high:,.0f}.",
        odds=chance * 100, animals=target.animals, size=target.size_mm, by=target.by, low=low,
        high=high,
    )  # fmt: skip


def beliefs_moved(rests_on: Basis, posterior: Posterior) -> tuple[BeliefMoved, ...]:
    """How far the site's beliefs have moved, those that moved most first."""
    moved = []
    site = rests_on.site
    units = {name: v.unit for name, v in rests_on.beliefs.uncertain.items()}
    grid = np.linspace(-3.2, 3.2, 641)
    weight = np.exp(-0.5 * grid**2)
    for i, (name, table) in enumerate(zip(site.names, site.tables, strict=True)):
        if not table.spread or name not in (*units, CLUMPING):
            continue
        z = posterior.z[i]
        shift, narrower = float(z.mean()), 1.0 - float(z.std())
        if abs(shift) < MOVED and narrower < MOVED:
            continue
        p10, p50, p90 = (float(table.at(np.array(q))) for q in (-1.2815516, 0.0, 1.2815516))
        mean = float((table.at(grid) * weight).sum() / weight.sum())
        moved.append(BeliefMoved(name, units.get(name, "1"), Spread(p10, p50, p90, mean),
                                 spread(table.at(z)), shift, narrower))  # fmt: skip
    return tuple(sorted(moved, key=lambda m: -abs(m.shift)))
