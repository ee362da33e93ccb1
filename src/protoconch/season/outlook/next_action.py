"""What would help most now: each thing that may be done, tried on the same futures.

Every candidate is simulated on the very futures of the season as it stands (common random
numbers), so that a difference of one in a hundred shows. Nothing is offered that the permit, the
room, the algae, the crew or the genetics rule does not allow.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.hatchery.description import Prices
from protoconch.season.model.draws import Streams
from protoconch.season.outlook.ahead import Standing, onward, totals
from protoconch.season.outlook.basis import Basis
from protoconch.season.outlook.candidate import Candidate, Kind, Room
from protoconch.season.outlook.candidates import candidates
from protoconch.season.outlook.changes import some
from protoconch.season.outlook.outlook import Known
from protoconch.season.outlook.screening import smoothly_met
from protoconch.season.plan.options import Labour
from protoconch.words import phrase, say

Numbers = NDArray[np.float64]
TRIED = 500
"""Futures in which candidates are tried."""
LEAST_HOURS = 0.5
"""Hours that any action takes at least: somebody must decide and tell the others."""
SAVING = 0.02
"""Odds that leaving a batch out may cost and still be offered to save its hours."""
LEAST_GAIN = 0.01
"""Change of the odds, one in a hundred, below which nothing is said to help."""


@dataclass(frozen=True, slots=True)
class Action:
    """One thing that could be done, and what it does to the odds.

    key: what it is, whatever the words. gain: change of the odds; error: its standard error on
    common futures; low, high: 95 % of it. rank_gain: the same, smoothed, by which actions are
    ranked. hours: of work it adds (below zero: saves). masses: egg masses it takes. cost: of hours,
    algae and masses, at the hatchery's own prices, None where its file has none. worth: rank_gain
    less hours at the plan's own price. helps: whether gain shows and rank_gain is beyond its error.
    per_hour, per_cost: rank_gain for each hour, and for each unit of money, that it adds.
    changes_target: whether the date asked is another. independent_error: what the error would be
    without common futures. more: animals more at the date, mean.
    """

    kind: Kind
    key: str
    sentence: str
    gain: float
    error: float
    low: float
    high: float
    rank_gain: float
    hours: float
    masses: int
    cost: float | None
    worth: float
    helps: bool
    per_hour: float
    per_cost: float | None
    changes_target: bool
    independent_error: float
    more: float
    met: Numbers
    batch: str = ""

    @property
    def variance_saved(self) -> float:
        """Variance of the difference on separate futures over that on common ones."""
        return (self.independent_error / self.error) ** 2


@dataclass(frozen=True, slots=True)
class Choices:
    """All actions, the best first; base: odds as things stand; hour: odds that an hour is worth.

    met: by future, smoothed, as things stand, (n,). currency: of the costs, empty without prices.
    silent: what is not tried and why, in sentences.
    """

    base: float
    hour: float
    actions: tuple[Action, ...]
    met: Numbers
    silent: tuple[str, ...]
    currency: str = ""


SILENT = (
    phrase(
        "Letting more larvae go is not offered: the stage model knows no harm of crowding below "
        "the densities it thins to, so it would see only the loss."
    ),
    phrase(
        "A fresh cartridge is not weighed against the others: no number links the flow or the "
        "clarity of the water to survival. Change it when the Water page says so."
    ),
)


def next_actions(known: Known, labour: Labour, futures: int = TRIED) -> Choices:
    """Everything that may be done now, ranked by what it gains for its cost.

    labour: hours of work that a lot needs. futures: tried; the same seed gives the same answer.
    """
    chosen = np.arange(min(futures, known.standing.futures.n), dtype=np.intp)
    room = Room(known, some(known.standing, chosen), labour, Streams(known.posterior.seed))
    plan = known.basis.plan
    of = _Compared(
        room.ready.sum(axis=0) + room.now.released, plan.target.animals,
        plan.target.confidence / max(plan.work_hours, 100.0), plan.hatchery.prices,
    )  # fmt: skip
    widest = plan.hatchery.genetics.max_share
    narrow = _widest_share(room, room.now, room.ready) <= widest
    tried: list[tuple[str, Action]] = []
    for candidate in candidates(room, chosen):
        then = _by_batch(candidate.season, candidate.rests_on)
        if narrow and _widest_share(room, candidate.season, then, candidate) > widest:
            continue
        judged = of.judged(candidate, then.sum(axis=0) + candidate.season.released)
        tried.append((candidate.alike or candidate.key, judged))
    tried.sort(key=lambda one: _order(one[1]), reverse=True)
    found = list(dict(tried).values())  # of those that are alike the last, which is the best
    odds = float(of.met.mean())
    found = [a for a in found if a.kind != "leave out" or a.helps
             or (a.rank_gain > -SAVING and odds + a.low >= plan.target.confidence)]  # fmt: skip
    found.sort(key=_order)
    silent = tuple(say(sentence) for sentence in SILENT)
    currency = of.prices.currency if of.prices else ""
    return Choices(odds, of.hour, tuple(found), of.smooth, silent, currency)


def _order(action: Action) -> tuple[bool, bool, float]:
    """What helps first, by odds gained for the cost; then what saves hours; other dates last."""
    rate = action.per_hour if action.per_cost is None else action.per_cost
    return action.changes_target, not action.helps, -rate if action.helps else -action.worth


def _by_batch(season: Standing, rests_on: Basis) -> Numbers:
    """Animals of each batch at the date, (batches, n)."""
    return totals(season, rests_on, onward(season, rests_on))


def _widest_share(
    room: Room, season: Standing, ready: Numbers, more: Candidate | None = None
) -> float:  # fmt: skip
    """The largest share of the release that comes of one egg mass, on average."""
    known = len(room.now.codes)
    number = [room.pieces(b) if b < known else 0 for b in range(len(season.codes))]
    if more is not None and more.masses > 0:
        number[season.codes.index(more.batch) if more.batch else -1] += more.masses
    mean = ready.mean(axis=1)
    each = [m / n for m, n in zip(mean, number, strict=True) if n > 0]
    return float(max(each, default=0.0) / max(mean.sum(), 1e-9))


class _Compared:
    """What every candidate is compared with: the season as it stands, (n,) animals at the date."""

    def __init__(self, base: Numbers, animals: float, hour: float, prices: Prices | None) -> None:
        self.base, self.animals, self.hour, self.prices = base, animals, hour, prices
        self.met, self.smooth = base >= animals, smoothly_met(base, animals)

    def judged(self, candidate: Candidate, total: Numbers) -> Action:
        """A candidate by what its futures come to, (n,) animals at the date."""
        then, now = (total >= self.animals).astype(float), self.met.astype(float)
        n, hours = total.size, candidate.hours
        gain, error = float((then - now).mean()), float((then - now).std(ddof=1) / np.sqrt(n))
        error = max(error, 1.0 / n)
        after = smoothly_met(total, self.animals)
        rank_gain = float((after - self.smooth).mean())
        sure = 2 * float((after - self.smooth).std(ddof=1) / np.sqrt(n)) + 1.0 / n**2
        cost = self._cost(candidate)
        return Action(
            kind=candidate.kind, key=candidate.key, sentence=candidate.sentence, gain=gain,
            error=error, low=gain - 1.96 * error, high=gain + 1.96 * error, rank_gain=rank_gain,
            hours=hours, masses=candidate.masses, cost=cost,
            worth=rank_gain - self.hour * hours, helps=rank_gain > sure and gain >= LEAST_GAIN,
            per_hour=rank_gain / max(hours, LEAST_HOURS),
            per_cost=None if cost is None or not self.prices
            else rank_gain / max(cost, LEAST_HOURS * self.prices.crew_hour, 1e-9),
            changes_target=candidate.kind == "hold release",
            independent_error=float(np.sqrt((then.var() + now.var()) / n)),
            more=float((total - self.base).mean()), met=after, batch=candidate.batch,
        )  # fmt: skip

    def _cost(self, candidate: Candidate) -> float | None:
        """Money that a candidate adds, by the prices that are known."""
        p = self.prices
        if p is None:
            return None
        things = candidate.algae_g * (p.algae_dry_g or 0.0) + candidate.masses * (p.egg_mass or 0.0)
        return candidate.hours * p.crew_hour + things
