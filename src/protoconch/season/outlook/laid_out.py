"""A history laid out as tables, so that all particles are compared with all entries at once."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.animals.size import GrowthPath
from protoconch.season.outlook.clumping import LOG_K, clumping_curve
from protoconch.season.outlook.seen import Course, History, Observation, Part
from protoconch.season.outlook.unknowns import BATCH_EFFECTS, STAGE_EFFECTS, Coordinates, Site
from protoconch.sources.values import SourcedValue

Numbers = NDArray[np.float64]
Places = NDArray[np.intp]
COUNTS = {"aliquots", "total", "placed", "found dead"}
USUAL_SPREAD = 0.25


@dataclass(frozen=True, slots=True)
class Pairs:
    """Numbers of a lot on a morning, each a term of an observation; all of shape (pairs,).

    sign: -1 where it is subtracted. base, base_sd: ln of the number last set, and its error;
    number: coordinate of that error. larval, tray: days in those stages since; entered, until:
    nursery mornings, until = entered where there are none. placed, settled: whether the larvae
    became competent, and settled, since. cap: ln of the places on the trays.
    """

    observation: Places
    sign: Numbers
    base: Numbers
    base_sd: Numbers
    number: Places
    lot: Places
    larval: Numbers
    tray: Numbers
    entered: Numbers
    until: Numbers
    induced: Places
    placed: NDArray[np.bool_]
    settled: NDArray[np.bool_]
    cap: Numbers


@dataclass(frozen=True, slots=True)
class Lengths:
    """Measurings, each (measurings,): mean of ln(standard days) or ln(length), squares about it."""

    observation: Places
    lot: Places
    day: Places
    settled: NDArray[np.bool_]
    mean: Numbers
    animals: Numbers
    squares: Numbers
    error: Numbers


@dataclass(frozen=True, slots=True)
class Shares:
    """So many of those looked at, each (looks,); settling: of settlement, else of competence."""

    observation: Places
    lot: Places
    day: Places
    settling: NDArray[np.bool_]
    looked_at: Numbers
    found: Numbers


@dataclass(frozen=True, slots=True)
class Hatches:
    """Mornings of hatch, and hatched shares, each (hatches,); share NaN for a morning."""

    observation: Places
    batch: Places
    started: Places
    hatched: Places
    log_share: Numbers


@dataclass(frozen=True, slots=True)
class Counts:
    """Counts, each (counts,): animals looked at, ln of the part of the vessel looked at.

    aliquots: how many, 0 for all animals; size: of the negative binomial where it is fixed.
    curve: what a count says of clumping alone, over LOG_K, (counts, nodes).
    dead: a count of the dead.
    """

    observation: Places
    total: Numbers
    log_part: Numbers
    aliquots: Numbers
    size: Numbers
    dead: NDArray[np.bool_]
    curve: Numbers


@dataclass(frozen=True, slots=True)
class LaidOut:
    """Everything a likelihood needs.

    effects: coordinates of batch effects, (batches, 4);
    stages: of tank effects, (lots, 4); a coordinate that is not there is the last, always 0.
    hatched, induced: mornings of each lot.
    """

    coordinates: Coordinates
    effects: Places
    stages: Places
    lot_batch: Places
    hatched: Places
    induced: Places
    pairs: Pairs
    counts: Counts
    lengths: Lengths
    shares: Shares
    hatches: Hatches
    observations: tuple[Observation, ...]
    codes: tuple[str, ...]
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Measures:
    """Trade numbers by which entries are read: larval lengths [mm], weight rule, errors."""

    counting: Mapping[str, SourcedValue]
    hatch_mm: float
    competent_mm: float
    weight_a: float
    weight_b: float
    path: GrowthPath

    def number(self, name: str) -> float:
        """A number of sources/tables/outlook.toml."""
        return self.counting[name].number


@dataclass(frozen=True, slots=True)
class Term:
    """The number of a part of a lot on a morning, as a term of an observation.

    before_settling: of larvae placed on trays, none of which has settled or failed to.
    """

    observation: int
    part: Part
    day: int
    sign: float = 1.0
    before_settling: bool = False


def laid_out(known: History, site: Site, measures: Measures) -> LaidOut:
    """Tables of a history."""
    observations = known.observations
    terms = [term for i, o in enumerate(observations) for term in _terms(i, o)]
    return tables(known, site, measures, observations, terms)


def _terms(i: int, seen: Observation) -> list[Term]:
    """Numbers that make up a count."""
    if seen.kind not in COUNTS:
        return []
    if seen.kind == "found dead":
        before = seen.day - int(seen.numbers[1])
        return [term for part in seen.parts
                for term in (Term(i, part, before), Term(i, part, seen.day, -1.0))]  # fmt: skip
    return [Term(i, part, seen.day, 1.0, seen.kind == "placed") for part in seen.parts]


def tables(
    known: History, site: Site, measures: Measures, observations: tuple[Observation, ...],
    terms: list[Term],
) -> LaidOut:  # fmt: skip
    """Tables of these observations and numbers; `laid_out` for those of the history itself."""
    courses = {course.key: course for course in known.courses}
    batches = {batch.code: batch for batch in known.batches}
    codes = tuple(dict.fromkeys(o.batch for o in observations if o.batch in batches))
    used = {term.part.lot for term in terms}
    used |= {p.lot for o in observations for p in o.parts}
    keys = tuple(key for key in courses if key in used)
    codes = tuple(dict.fromkeys((*codes, *(courses[key].batch for key in keys))))
    coordinates = _coordinates(site, codes, keys, courses, terms)
    place = coordinates.index()
    nowhere = coordinates.size
    hatched = {code: batches[code].hatched or 0 for code in codes}
    lot = {key: i for i, key in enumerate(keys)}
    far = known.day + 10**6
    return LaidOut(
        coordinates=coordinates,
        effects=_int([[place[f"{code} {e}"] for e in BATCH_EFFECTS] for code in codes], 4),
        stages=_int([[place.get(f"{key} {s}", nowhere) for s in STAGE_EFFECTS] for key in keys], 4),
        lot_batch=_int([codes.index(courses[key].batch) for key in keys]),
        hatched=_int([hatched[courses[key].batch] for key in keys]),
        induced=_int([_or(courses[key].induced, far) for key in keys]),
        pairs=_pairs(terms, courses, lot, place, hatched, measures),
        counts=_counts(observations, measures),
        lengths=_lengths(observations, courses, lot, measures),
        shares=_shares(observations, lot),
        hatches=_hatches(observations, codes, known),
        observations=observations, codes=codes, keys=keys,
    )  # fmt: skip


def _int(values: object, width: int = 0) -> Places:
    made = np.asarray(values, dtype=np.intp)
    return made.reshape(-1, width) if width else made


def _or(value: int | None, other: int) -> int:
    return other if value is None else value


def _stage_days(course: Course, since: int, until: int) -> tuple[float, float, float, float]:
    """Days as larva and on trays, and the nursery mornings, between two mornings."""
    far = until + 1
    induced, nursery = _or(course.induced, far), _or(course.nursery, far)
    larval = max(min(until, induced) - since, 0)
    tray = max(min(until, nursery) - max(since, induced), 0)
    entered = max(since, nursery)
    return float(larval), float(tray), float(entered), float(max(until, entered))


def _coordinates(
    site: Site, codes: tuple[str, ...], keys: tuple[str, ...], courses: Mapping[str, Course],
    terms: list[Term],
) -> Coordinates:  # fmt: skip
    names = list(site.names)
    names += [f"{code} {effect}" for code in codes for effect in BATCH_EFFECTS]
    numbers, stages = set[tuple[str, int]](), set[tuple[str, int]]()
    for term in terms:
        key, course = term.part.lot, courses[term.part.lot]
        numbers.add((key, term.part.reset))
        since = course.resets[term.part.reset - 1].day
        larval, tray, entered, until = _stage_days(course, since, term.day)
        stages |= {(key, s) for s, days in enumerate((larval, tray, until - entered)) if days > 0}
        stages |= {(key, 3)} if until > entered else set()
    for key in keys:
        names += [f"{key} {STAGE_EFFECTS[s]}" for s in range(4) if (key, s) in stages]
        most = len(courses[key].resets)
        names += [f"{key} number {r}" for r in range(1, most + 1) if (key, r) in numbers]
    return Coordinates(tuple(names), len(site.names))


def _pairs(
    terms: list[Term], courses: Mapping[str, Course], lot: Mapping[str, int],
    place: Mapping[str, int], hatched: Mapping[str, int], measures: Measures,
) -> Pairs:  # fmt: skip
    sd = measures.number("count.stocking_error")
    rows = []
    for term in terms:
        part, day, course = term.part, term.day, courses[term.part.lot]
        start = course.resets[part.reset - 1]
        since = max(start.day, hatched[course.batch])
        larval, tray, entered, until = _stage_days(course, since, day)
        removals = course.removals[: part.removals]
        kept = sum(np.log(r.kept) for r in removals if r.reset == part.reset)
        part_kept = np.log(part.share) + kept
        induced = _or(course.induced, day + 1)
        settling = part.settled and not start.settled
        placed = settling and since < induced
        rows.append((term.observation, term.sign, np.log(max(start.animals, 0.5)) + part_kept, sd,
                     place[f"{course.key} number {part.reset}"], lot[course.key],
                     larval, tray, entered, until, min(induced, day), placed,
                     settling and not term.before_settling,
                     np.log(course.places) + part_kept))  # fmt: skip
    columns = list(zip(*rows, strict=True)) if rows else [()] * 14
    kinds = (np.intp, float, float, float, np.intp, np.intp, float, float, float, float,
             np.intp, bool, bool, float)  # fmt: skip
    return Pairs(*(np.asarray(c, dtype=k) for c, k in zip(columns, kinds, strict=True)))


def _counts(observations: tuple[Observation, ...], measures: Measures) -> Counts:
    rows = []
    for i, seen in enumerate(observations):
        if seen.kind == "aliquots":
            ml, litres, *found = seen.numbers
            part = ml * len(found) / (litres * 1000.0)
            total, size, dead = sum(found), 1.0, False
            curve = clumping_curve(np.array(found), measures.number("count.volume_error"))
            rows.append((i, total, np.log(part), len(found), size, dead, curve))
        elif seen.kind in COUNTS:
            dead = seen.kind == "found dead"
            size = measures.number("count.dead_size") if dead else (
                1 / measures.number("count.total_error") ** 2 if seen.kind == "total"
                else 1 / measures.number("count.stocking_error") ** 2)  # fmt: skip
            flat = np.zeros(LOG_K.size)
            rows.append((i, seen.numbers[0], 0.0, 0, size, dead, flat))
    columns = list(zip(*rows, strict=True)) if rows else [()] * 7
    curve = np.array(columns[6]).reshape(len(rows), LOG_K.size)
    return Counts(_int(columns[0]), np.asarray(columns[1], float), np.asarray(columns[2], float),
                  np.asarray(columns[3], float), np.asarray(columns[4], float),
                  np.asarray(columns[5], bool), curve)  # fmt: skip


def _main(seen: Observation, lot: Mapping[str, int]) -> int:
    return lot[max(seen.parts, key=lambda part: part.share).lot]


def _lengths(
    observations: tuple[Observation, ...], courses: Mapping[str, Course], lot: Mapping[str, int],
    measures: Measures,
) -> Lengths:  # fmt: skip
    rows = []
    for i, seen in enumerate(observations):
        if seen.kind not in {"lengths", "mean length", "weight"}:
            continue
        at = _main(seen, lot)
        induced = courses[list(lot)[at]].induced
        settled = induced is not None and seen.day > induced
        if seen.kind == "weight" and not settled:
            continue
        error = measures.number("length.sample_error")
        mean, animals, squares = _in_days(seen, measures) if settled else _in_mm(seen)
        if seen.kind == "weight":
            error = float(np.hypot(error, measures.number("weight.length_error")))
        rows.append((i, at, seen.day, settled, mean, animals, squares, error))
    columns = list(zip(*rows, strict=True)) if rows else [()] * 8
    kinds = (np.intp, np.intp, np.intp, bool, float, float, float, float)
    return Lengths(*(np.asarray(c, dtype=k) for c, k in zip(columns, kinds, strict=True)))


def _days_to(measures: Measures, length_mm: float) -> float:
    return max(measures.path.days_to(length_mm), 0.5)


def _in_days(seen: Observation, measures: Measures) -> tuple[float, float, float]:
    """Mean of ln(standard days since settlement), animals, squares about it (NaN: not known)."""
    if seen.kind == "lengths":
        days = np.log([_days_to(measures, mm) for mm in seen.numbers])
        return float(days.mean()), float(days.size), float(((days - days.mean()) ** 2).sum())
    if seen.kind == "weight":
        animals, grams = seen.numbers
        mm = (grams / animals / measures.weight_a) ** (1 / measures.weight_b)
        return float(np.log(_days_to(measures, mm)) - USUAL_SPREAD**2 / 2), animals, float("nan")
    mm, sd, animals = seen.numbers
    if sd <= 0.0 or animals < 2:
        return float(np.log(_days_to(measures, mm)) - USUAL_SPREAD**2 / 2), animals, float("nan")
    low = _days_to(measures, max(mm - sd, 0.2 * mm))
    spread = np.log(_days_to(measures, mm + sd) / low) / 2
    mean = np.log(_days_to(measures, mm)) - spread**2 / 2
    return float(mean), animals, float((animals - 1) * spread**2)


def _in_mm(seen: Observation) -> tuple[float, float, float]:
    """Ln of the mean length, animals, and the error by chance of a larval sample [mm]."""
    if seen.kind == "lengths":
        return float(np.log(np.mean(seen.numbers))), float(len(seen.numbers)), float("nan")
    return float(np.log(seen.numbers[0])), seen.numbers[2], float("nan")


def _shares(observations: tuple[Observation, ...], lot: Mapping[str, int]) -> Shares:
    rows = []
    for i, seen in enumerate(observations):
        if seen.kind == "competent":
            rows.append((i, _main(seen, lot), seen.day, False, seen.numbers[0], seen.numbers[1]))
        elif seen.kind == "settled":
            rows.append((i, _main(seen, lot), seen.day, True, seen.numbers[1], seen.numbers[0]))
    columns = list(zip(*rows, strict=True)) if rows else [()] * 6
    kinds = (np.intp, np.intp, np.intp, bool, float, float)
    return Shares(*(np.asarray(c, dtype=k) for c, k in zip(columns, kinds, strict=True)))


def _hatches(
    observations: tuple[Observation, ...], codes: tuple[str, ...], known: History
) -> Hatches:
    batches = {batch.code: batch for batch in known.batches}
    rows = []
    for i, seen in enumerate(observations):
        if seen.kind == "hatch day":
            started = batches[seen.batch].started
            rows.append((i, codes.index(seen.batch), started, seen.day, float("nan")))
        elif seen.kind == "hatch count":
            eggs, veligers = seen.numbers
            rows.append((i, codes.index(seen.batch), 0, 0, float(np.log(veligers / eggs))))
    columns = list(zip(*rows, strict=True)) if rows else [()] * 5
    kinds = (np.intp, np.intp, np.intp, np.intp, float)
    return Hatches(*(np.asarray(c, dtype=k) for c, k in zip(columns, kinds, strict=True)))
