"""Whether what the outlook believes is as sure as it should be.

Simulation-based calibration (Talts et al. 2018, arXiv 1804.06788): a truth is drawn from the
beliefs, a log is invented for it and fitted, and the truth is ranked among the particles. Over many
seasons the ranks of every quantity must be uniform, which is judged by the simultaneous band of
their distribution function (Säilynoja, Bürkner & Vehtari 2022, Stat Comput 32:32). The
log-likelihood is ranked too, since it alone notices that data are not used.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray
from scipy.special import bdtr

from protoconch.log.entry import Entry
from protoconch.season.outlook.ahead import numbers_on
from protoconch.season.outlook.basis import Basis
from protoconch.season.outlook.invented import USUAL, Habits, Truth, invented_log
from protoconch.season.outlook.scoring import crps, total_ahead
from protoconch.season.outlook.update import Posterior, likelihood, updated

Numbers = NDArray[np.float64]
Ranks = NDArray[np.int64]
DRAWS = 99
"""Particles among which a truth is ranked."""
RUN_TO_THE_END = Habits(losses=True)
FUTURES = 2
"""Futures for each particle, so that rare losses are among them."""


@dataclass(frozen=True, slots=True)
class Fits:
    """Ranks of the truth, 0 to DRAWS, (seasons, quantities); names of the quantities.

    inside: whether the 90 % interval held the animals alive on the last day, (seasons,).
    """

    names: tuple[str, ...]
    ranks: Ranks
    inside: NDArray[np.bool_]


def band_p(ranks: Ranks, rng: np.random.Generator, simulated: int = 8000) -> float:
    """Chance of ranks at least as far from uniform as these, by the simultaneous ECDF band.

    ranks: (seasons,), each 0 to DRAWS. The statistic is the smallest two-sided binomial tail of
    the distribution function over all its points; its distribution is simulated.
    """
    seasons = ranks.size
    null = _worst_tail(rng.integers(0, DRAWS + 1, (simulated, seasons)))
    return float((1 + (null <= _worst_tail(ranks[None])[0] + 1e-12).sum()) / (simulated + 1))


def _worst_tail(ranks: Ranks) -> Numbers:
    """Smallest two-sided binomial tail over the points of the ECDF, (sets,)."""
    sets, seasons = ranks.shape
    counts = np.zeros((sets, DRAWS + 1), dtype=np.int64)
    np.add.at(counts, (np.repeat(np.arange(sets), seasons), ranks.ravel()), 1)
    below = np.cumsum(counts, axis=1)[:, :-1]
    share = (np.arange(DRAWS) + 1) / (DRAWS + 1)
    low = bdtr(below, seasons, share)
    high = 1.0 - np.where(below > 0, bdtr(np.maximum(below - 1, 0), seasons, share), 0.0)
    return np.asarray(2.0 * np.minimum(low, high).min(axis=1))


def family_p(fits: Fits, rng: np.random.Generator) -> tuple[float, str]:
    """Chance of the worst quantity, times how many there are (Bonferroni), and its name."""
    ps = [band_p(fits.ranks[:, q], rng) for q in range(len(fits.names))]
    worst = int(np.argmin(ps))
    return min(1.0, len(ps) * ps[worst]), fits.names[worst]


Altered = Callable[[Entry], Entry]


def fits(
    truths: Basis, fitting: Basis, days: int, seasons: int, seed: int, *,
    habits: Habits = USUAL, particles: int = 500, altered: Altered = lambda entry: entry,
    widen: bool = True,
) -> Fits:  # fmt: skip
    """Invent, fit and rank so many seasons.

    truths: basis that the truth is drawn from; fitting: basis that is fitted, the same unless a
    fault is put in on purpose. days: last day of each log. altered: a fault put into the
    entries. widen: see `update.updated`; a wrong fit is to be seen as it is.
    """
    rows, inside = [], []
    names: tuple[str, ...] = ()
    for season in range(seasons):
        rng = np.random.Generator(np.random.SFC64([seed, season]))
        log, truth = invented_log(truths, rng, days, habits)
        believed = updated(
            fitting, (altered(entry) for entry in log), fitting.first_day + timedelta(days=days),
            seed + season, particles=particles, widen=widen,
        )  # fmt: skip
        drawn, true = _quantities(fitting, believed, truth, rng)
        names = tuple(true)
        rows.append([_rank(drawn[name], true[name], rng) for name in names])
        low, high = np.quantile(drawn["alive now"], [0.05, 0.95])
        inside.append(low <= true["alive now"] <= high)
    return Fits(names, np.array(rows), np.array(inside))


@dataclass(frozen=True, slots=True)
class RunOn:
    """Outlooks as of some mornings of seasons that were run to their end, beside what came.

    days: mornings of the season. came, now: ranks, 0 to DRAWS, among the futures, of the animals
    of the size at the date, and of those alive on that morning, (seasons, days); where a whole
    loss makes many futures alike, the rank is drawn among them. crps: of the first [animals].
    number: animals of the size that came, (seasons,).
    """

    days: tuple[int, ...]
    came: Ranks
    now: Ranks
    crps: Numbers
    number: Numbers


def held(ranks: Ranks) -> NDArray[np.bool_]:
    """Whether the middle 90 of 100 places hold each rank."""
    return np.asarray((ranks >= DRAWS // 20 + 1) & (ranks < DRAWS - DRAWS // 20))


def run_on(
    truths: Basis, fitting: Basis, days: Sequence[int], seasons: int, seed: int, *,
    habits: Habits = RUN_TO_THE_END, particles: int = 300,
) -> RunOn:  # fmt: skip
    """Invent so many seasons to their end, and hold the outlooks of some days to what came.

    Arguments as for `fits`.
    """
    rows = []
    for season in range(seasons):
        rng = np.random.Generator(np.random.SFC64([seed, season]))
        log, truth = invented_log(truths, rng, truths.days, habits)
        number = sum(truth.ready.values())
        for day in days:
            told = updated(fitting, log, fitting.first_day + timedelta(days=day), seed + season,
                           particles=particles)  # fmt: skip
            ahead = total_ahead(fitting, told, FUTURES)
            alive = sum(lot.get(day, 0.0) for lot in truth.alive.values())
            ranks = _rank(ahead, number, rng), _rank(_alive_now(fitting, told, rng), alive, rng)
            rows.append((*ranks, crps(ahead, number), number))
    columns = (np.array(x).reshape(seasons, len(days)) for x in zip(*rows, strict=True))
    came, now, score, numbers = columns
    return RunOn(tuple(days), came, now, score, numbers[:, 0])


def _rank(drawn: Numbers, true: float, rng: np.random.Generator) -> int:
    """Rank of a truth among DRAWS of the particles; among equals, by lot."""
    thinned = drawn[rng.permutation(drawn.size)[:DRAWS]]
    return int((thinned < true).sum()) + int(rng.integers(0, (thinned == true).sum() + 1))


def _alive_now(basis: Basis, believed: Posterior, rng: np.random.Generator) -> Numbers:
    """Animals of all lots alive on the log's last morning, (n,)."""
    n = believed.z.shape[1]
    now = numbers_on(basis, believed, believed.history.day, believed.history.courses, believed.z,
                     lambda _: np.asarray(rng.standard_normal(n)))  # fmt: skip
    return np.asarray(now.sum(axis=0))


SITE = (
    "veliger.survival", "post_larva.survival", "settlement.metamorphosis_share", "competence_days",
    "incubation.days", "variation.growth_site", "growth.size_cv", "variation.batch",
    "variation.tank", "count.clumping_k", "count.aliquot_bias",
)  # fmt: skip


def _quantities(
    basis: Basis, believed: Posterior, truth: Truth, rng: np.random.Generator
) -> tuple[Mapping[str, Numbers], Mapping[str, float]]:
    """Draws and truth of every inferred block, the animals alive now, and the log-likelihood."""
    names = believed.layout.coordinates.names
    z = believed.z
    true_z = np.array([truth.effects.get(name, rng.standard_normal()) for name in names])
    chosen = [names.index(name) for name in SITE]
    code, lot = believed.layout.codes[0], believed.layout.keys[0]
    effects = (f"{code} quality", f"{code} growth", f"{code} period", f"{code} settle",
               f"{lot} veliger", f"{lot} post-larva", f"{lot} number 1")  # fmt: skip
    chosen += [names.index(name) for name in effects if name in names]
    drawn = {_block(names[i], code, lot): z[i] for i in chosen}
    true = {_block(names[i], code, lot): float(true_z[i]) for i in chosen}
    day, courses = believed.history.day, believed.history.courses
    drawn["alive now"] = np.log(_alive_now(basis, believed, rng) + 1e-9)
    alive = sum(truth.alive.get(course.key, {}).get(day, 0.0) for course in courses)
    true["alive now"] = float(np.log(alive + 1e-9))
    of = likelihood(basis, believed.layout, believed.water)
    drawn["log-likelihood"] = of(z)
    true["log-likelihood"] = float(of(true_z[:, None])[0])
    return drawn, true


def _block(name: str, code: str, lot: str) -> str:
    return name.replace(lot, "tank").replace(code, "batch")
