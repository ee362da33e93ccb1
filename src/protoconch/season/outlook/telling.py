"""The lines that people read: each batch along time, what was seen and what is expected."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.season.answer import DailyBatch
from protoconch.season.model.daily import Diary
from protoconch.season.model.events import Outcome
from protoconch.season.outlook.ahead import Standing, numbers
from protoconch.season.outlook.basis import Basis
from protoconch.season.outlook.laid_out import Term
from protoconch.season.outlook.seen import Course, Part
from protoconch.season.outlook.update import Posterior

Numbers = NDArray[np.float64]
PICTURED = 200
Z90 = 1.2815515655446004


def lines(
    basis: Basis, believed: Posterior, now: Standing, diary: Diary, outcome: Outcome
) -> tuple[tuple[DailyBatch, ...], DailyBatch]:
    """Every batch from the first day to release, the past as the log has it, and all together.

    Arrays have shape (days + 1,); the morning `now.day` is the last of the past.
    """
    future = np.stack(diary.alive)
    past = _past(basis, believed, now)
    alive = np.concatenate(
        [past, future[:, :, :: max(future.shape[2] // PICTURED, 1)][..., : past.shape[2]]]
    )
    alive = alive[: basis.days + 1]
    told = tuple(_line(basis, now, outcome, b, code, alive[:, b])
                 for b, code in enumerate(now.codes))  # fmt: skip
    together = np.quantile(alive.sum(axis=1), [0.1, 0.5, 0.9], axis=1)
    none = np.zeros(alive.shape[0])
    low, middle, high = together
    return told, DailyBatch("", low, middle, high, none, none, none,
                            np.full(none.size, -1, dtype=np.int8))  # fmt: skip


def _past(basis: Basis, believed: Posterior, now: Standing) -> Numbers:
    """Numbers alive on the mornings before today, (days, batches, particles)."""
    z = believed.z[:, :: max(believed.z.shape[1] // PICTURED, 1)][:, :PICTURED]
    n = z.shape[1]
    alive = np.zeros((now.day, len(now.codes), n))
    codes = {code: b for b, code in enumerate(now.codes)}
    terms: list[Term] = []
    where: list[tuple[int, int]] = []
    for course in believed.history.courses:
        if course.batch in codes:
            made = past_terms(course, now.day)
            terms += made
            where += [(term.day, codes[course.batch]) for term in made]
    rng = np.random.Generator(np.random.SFC64([believed.seed, 1]))
    drawn: dict[str, Numbers] = {}

    def fill(name: str) -> Numbers:
        return drawn.setdefault(name, np.asarray(rng.standard_normal(n)))

    if terms:
        found = numbers(basis, believed, terms, z, fill)
        np.add.at(alive, tuple(np.array(where).T), found)
    return alive


def past_terms(course: Course, until: int) -> list[Term]:
    """A lot's number on each morning from stocking to the day before `until`."""
    terms = []
    last = until if course.ended is None else min(course.ended, until)
    for day in range(course.resets[0].day, last):
        resets = sum(1 for r in course.resets if r.day <= day)
        removals = sum(1 for r in course.removals if r.day <= day)
        settled = course.induced is not None and course.induced <= day
        terms.append(Term(0, Part(course.key, 1.0, resets, removals, settled), day))
    return terms


@dataclass(frozen=True, slots=True)
class _Middle:
    """A batch's days at their medians, and the clock of the middle future."""

    start: int
    hatch: int
    induce: int
    nursery: int
    growth: float
    spread: float
    clock: Numbers


def _middle(now: Standing, outcome: Outcome, b: int) -> _Middle:
    site, batch = now.futures.site, now.futures.batches[b]
    growth = site.unknown["variation.growth_site"] * batch.growth
    return _Middle(
        now.layout.batches[b].start, int(np.median(outcome.hatch[b])),
        int(np.median(outcome.induce[b])), int(np.median(outcome.nursery[b])),
        float(np.median(growth)), float(np.median(outcome.spread)),
        np.median(site.clock[:, :: max(site.n // PICTURED, 1)], axis=1),
    )  # fmt: skip


def _line(
    basis: Basis, now: Standing, outcome: Outcome, b: int, code: str, alive: Numbers
) -> DailyBatch:
    """One batch along time; alive: (days + 1, particles)."""
    at, m = _middle(now, outcome, b), basis.measures
    days = np.arange(alive.shape[0])
    last = at.clock.size - 1
    grown = np.maximum(at.clock[days] - at.clock[min(at.induce, last)], 0.0) * at.growth
    between = max(float(at.clock[min(at.induce, last)] - at.clock[min(at.hatch, last)]), 1e-9)
    share = np.clip((at.clock[days] - at.clock[min(at.hatch, last)]) / between, 0.0, 1.0)
    lengths = []
    for z in (-Z90, 0.0, Z90):
        settled = basis.beliefs.path.length_mm(grown * np.exp(z * at.spread))
        young = m.hatch_mm + (m.competent_mm - m.hatch_mm) * share
        young = young * np.exp(z * basis.beliefs.competence_spread * share)
        length = np.where(days >= at.induce, np.maximum(settled, young), young)
        lengths.append(np.where(days >= at.hatch, length, 0.0))
    stage = np.full(days.size, -1, dtype=np.int8)
    for number, begin in enumerate((at.start, at.hatch, at.induce, at.nursery)):
        stage[days >= begin] = number
    low, middle, high = np.quantile(alive, [0.1, 0.5, 0.9], axis=1)
    small, usual, large = lengths
    return DailyBatch(code, low, middle, high, small, usual, large, stage)
