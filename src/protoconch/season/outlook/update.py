"""What is believed after the entries of a log, kept so that the next entry costs little."""

from collections.abc import Iterable, Set
from dataclasses import dataclass
from datetime import date
from uuid import UUID

import numpy as np
from numpy.typing import NDArray

from protoconch.log.entry import Entry
from protoconch.season.outlook.basis import Basis
from protoconch.season.outlook.centred import Centred
from protoconch.season.outlook.history import history
from protoconch.season.outlook.laid_out import LaidOut, laid_out
from protoconch.season.outlook.likelihood import Likelihood
from protoconch.season.outlook.particles import FEW, Moved, started, tempered
from protoconch.season.outlook.seen import History, Observation
from protoconch.season.outlook.surprise import surprises
from protoconch.season.outlook.unknowns import carried
from protoconch.season.outlook.water import Water, water

Numbers = NDArray[np.float64]
PARTICLES = 1200
MUCH_NEW = 0.5
"""Share of new observations from which starting afresh costs less than going on."""


@dataclass(frozen=True, slots=True)
class Posterior:
    """Particles of equal weight that stand for what is believed. z: (coordinates, n).

    effective: how many independent particles they are worth. widened: see `surprise`.
    went_on: whether they came from an earlier posterior rather than from the log alone.
    """

    history: History
    layout: LaidOut
    water: Water
    z: Numbers
    effective: float
    widened: float
    surprises: tuple[str, ...]
    temperings: int
    went_on: bool
    seed: int

    def values(self, basis: Basis) -> dict[str, Numbers]:
        """Every unknown of the site in the trade's units, (n,) each."""
        return basis.site.values(self.z[: len(basis.site.names)])


def likelihood(basis: Basis, layout: LaidOut, known: Water) -> Likelihood:
    """The likelihood of a laid-out log."""
    return Likelihood(layout, basis.site, basis.beliefs, known, basis.measures)


def observations(
    entries: Iterable[Entry], basis: Basis, as_of: date, left_out: Set[UUID] = frozenset()
) -> tuple[Observation, ...]:
    """What a log says of the animals up to a day, flat, in the order in which it was seen."""
    return history(entries, basis.first_day, as_of, basis.vessels, basis.measures.counting,
                   left_out).observations  # fmt: skip


def updated(
    basis: Basis, entries: Iterable[Entry], as_of: date, seed: int,
    left_out: Set[UUID] = frozenset(), before: Posterior | None = None,
    particles: int = PARTICLES, *, widen: bool = True,
) -> Posterior:  # fmt: skip
    """What is believed after the log up to a day.

    seed: the same seed and the same log, the same particles. left_out: entries that the log
    itself doubts. before: an earlier posterior of the same season, from which to go on where the
    log has only grown; where it was corrected, or much is new, the log alone is used. widen:
    whether contradictions widen the belief; without it, the model is taken at its word.
    """
    told = history(entries, basis.first_day, as_of, basis.vessels, basis.measures.counting,
                   left_out)  # fmt: skip
    return fitted(basis, told, seed, before, particles, widen=widen)


def fitted(
    basis: Basis, told: History, seed: int, before: Posterior | None = None,
    particles: int = PARTICLES, *, widen: bool = True,
) -> Posterior:  # fmt: skip
    """What is believed after a history."""
    known = water(basis.beliefs, told.readings, basis.days, basis.first_day_of_year)
    layout = laid_out(told, basis.site, basis.measures)
    rng = np.random.Generator(np.random.SFC64([seed, len(told.observations)]))
    of = likelihood(basis, layout, known)
    if not told.observations:
        z = rng.standard_normal((of.size, particles))
        return Posterior(told, layout, known, z, float(particles), 1.0, (), 0, went_on=False,
                         seed=seed)  # fmt: skip
    new = _new(before, told) if before is not None else None
    went_on = new is not None and before is not None
    chance = basis.measures.number("surprise.chance")
    if before is not None and new is not None:
        if not new.any():
            moved = Moved(before.z, before.effective, 0, 0, 1.0)
            widened = before.widened
        else:
            moved = _gone_on(basis, of, before, new, rng)
            widened = before.widened
    else:
        moved, widened = _afresh(of, particles, 1.0, rng), 1.0
    found = surprises(of, moved.z, chance, basis.first_day)
    if widen and abs(found.widened - widened) > 0.15 * widened:
        moved, widened = _afresh(of, particles, found.widened, rng), found.widened
    return Posterior(told, layout, known, moved.z, moved.effective, widened, found.sentences,
                     moved.temperings, went_on, seed)  # fmt: skip


def _afresh(of: Likelihood, particles: int, widened: float, rng: np.random.Generator) -> Moved:
    of.weigh(np.full(len(of.layout.observations), 1.0 / widened))
    centred = Centred(of)
    first, y = started(centred.guessed, of.size, min(FEW, particles), rng)
    moved = tempered(first, centred, y, rng, particles)
    return _plain(centred, moved)


def _plain(centred: Centred, moved: Moved) -> Moved:
    return Moved(centred.plain(moved.z), moved.effective, moved.temperings, moved.moves,
                 moved.accepted)  # fmt: skip


def _new(before: Posterior, told: History) -> NDArray[np.bool_] | None:
    """Which observations are new, (observations,); None where the old ones did not all stay."""
    known = set(before.history.observations)
    new = np.array([seen not in known for seen in told.observations], dtype=bool)
    stayed = len(known) == int((~new).sum())
    old_water = tuple(before.history.readings)
    stayed &= told.readings[: len(old_water)] == old_water
    courses = {course.key: course for course in told.courses}
    for course in before.history.courses:
        now = courses.get(course.key)
        stayed &= now is not None and now.resets[: len(course.resets)] == course.resets
        stayed &= now is not None and course.induced in {None, now.induced}
        stayed &= now is not None and course.nursery in {None, now.nursery}
    batches = {batch.code: batch for batch in told.batches}
    for batch in before.history.batches:
        later = batches.get(batch.code)
        stayed &= later is not None and batch.hatched in {None, later.hatched}
    return new if stayed and new.mean() < MUCH_NEW else None


def _gone_on(
    basis: Basis, of: Likelihood, before: Posterior, new: NDArray[np.bool_],
    rng: np.random.Generator,
) -> Moved:  # fmt: skip
    """Particles carried from the old log to the new one, by letting the new entries in slowly."""
    z = carried(before.z, before.layout.coordinates.names, of.layout.coordinates.names, rng)
    of.weigh(np.full(new.size, 1.0 / before.widened))
    old = likelihood(basis, of.layout, before.water)
    old.weigh(np.where(new, 0.0, 1.0 / before.widened))
    last, first = Centred(of), Centred(old)
    moved = tempered(first, last, last.straight(z), rng)
    return _plain(last, moved)
