"""How good the outlooks of a season were, once it is known what came."""

from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from uuid import UUID

import numpy as np
from numpy.typing import NDArray

from protoconch.animals.species import Species
from protoconch.log.entry import Entry
from protoconch.season.answer import Odds, SeasonPlan
from protoconch.season.model.draws import Streams
from protoconch.season.outlook.ahead import onward, standing, totals
from protoconch.season.outlook.basis import Basis, basis
from protoconch.season.outlook.update import PARTICLES, Posterior, updated
from protoconch.season.plan.judge import odds
from protoconch.sources.values import SourcedValue
from protoconch.words import say

Numbers = NDArray[np.float64]


def crps(draws: Numbers, came: float) -> float:
    """Continuous ranked probability score of a forecast, in the unit of the draws; 0 is perfect.

    draws: (n,), two or more. came: what was seen. The fair form of an ensemble.
    Source: Gneiting & Raftery 2007, J Am Stat Assoc 102:359; fair form Ferro 2014, from memory.
    """
    x = np.sort(np.asarray(draws, dtype=np.float64))
    n = x.size
    apart = float(((2 * np.arange(1, n + 1) - n - 1) * x).sum()) * 2
    return float(np.abs(x - came).mean() - apart / (2 * n * (n - 1)))


def covered(draws: Numbers, came: float, share: float = 0.9) -> bool:
    """Whether the middle `share` of the draws holds what came."""
    low, high = np.quantile(draws, [(1 - share) / 2, (1 + share) / 2])
    return bool(low <= came <= high)


def total_ahead(rests_on: Basis, posterior: Posterior, repeat: int = 1) -> Numbers:
    """Animals of the size asked at the date in each future, those released included, (n,).

    repeat: futures for each particle.
    """
    now = standing(rests_on, posterior, Streams(posterior.seed), repeat)
    return np.asarray(totals(now, rests_on, onward(now, rests_on)).sum(axis=0) + now.released)


@dataclass(frozen=True, slots=True)
class DayOutlook:
    """The outlook as of a past day. ready: animals at the date, one number for each future."""

    as_of: date
    odds: Odds
    expected: float
    p10: float
    p90: float
    ready: Numbers
    observations: int


def outlook_at_each_day(
    plan: SeasonPlan, species: Species, entries: Iterable[Entry], days: Sequence[date], seed: int,
    assumed: Mapping[str, SourcedValue], counting: Mapping[str, SourcedValue], *,
    left_out: Set[UUID] = frozenset(), particles: int = PARTICLES,
) -> tuple[DayOutlook, ...]:  # fmt: skip
    """The outlook as it was on each of these days, in their order.

    Entries that arrived after a day are not known on it. Arguments as for `outlook.outlook`.
    """
    rests_on = basis(plan, species, assumed, counting)
    log = tuple(entries)
    told: list[DayOutlook] = []
    before: Posterior | None = None
    for day in sorted(days):
        known = [entry for entry in log if entry.arrived.date() <= day]
        before = updated(rests_on, known, day, seed, left_out, before, particles)
        total = total_ahead(rests_on, before)
        p10, p90 = np.quantile(total, [0.1, 0.9])
        told.append(DayOutlook(
            day, odds(total, plan.target.animals), float(total.mean()), float(p10), float(p90),
            np.sort(total), len(before.history.observations),
        ))  # fmt: skip
    return tuple(told)


@dataclass(frozen=True, slots=True)
class Score:
    """How one day's outlook did. crps: in animals; inside: whether its 80 % interval held."""

    as_of: date
    crps: float
    inside: bool


def scores(told: Sequence[DayOutlook], came: float) -> tuple[Score, ...]:
    """Each day's outlook against the number that came."""
    return tuple(Score(t.as_of, crps(t.ready, came), t.p10 <= came <= t.p90) for t in told)


def turned(told: Sequence[DayOutlook]) -> str:
    """When the season turned, in a sentence; empty where fewer than two days are known."""
    if len(told) < 2:
        return ""
    steps = [later.odds.value - sooner.odds.value
             for sooner, later in pairwise(told)]  # fmt: skip
    most = int(np.argmax(np.abs(steps)))
    noise = 2 * np.hypot(told[most].odds.error, told[most + 1].odds.error)
    if abs(steps[most]) <= noise:
        return say("The odds have not changed by more than the noise of working them out.")
    named = {
        "since": told[most].as_of,
        "until": told[most + 1].as_of,
        "then": told[most].odds.value * 100,
        "now": told[most + 1].odds.value * 100,
    }
    if steps[most] > 0:
        return say("The odds rose most between {since:%-d %b %Y} and {until:%-d %b %Y}: from "
                   "{then:.0f} to {now:.0f} in a hundred.", **named)  # fmt: skip
    return say("The odds fell most between {since:%-d %b %Y} and {until:%-d %b %Y}: from "
               "{then:.0f} to {now:.0f} in a hundred.", **named)  # fmt: skip


def score_sentence(scored: Sequence[Score]) -> str:
    """How good the outlooks were, in a sentence; empty where there are none."""
    if not scored:
        return ""
    inside = sum(score.inside for score in scored)
    return say(
        "The early outlook was off by about {first:,.0f} animals and the last by {last:,.0f}; "
        "{inside} of {all} held what came in their eight-in-ten range.",
        first=scored[0].crps, last=scored[-1].crps, inside=inside, all=len(scored),
    )  # fmt: skip
