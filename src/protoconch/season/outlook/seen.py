"""What a log says of the animals, laid out flat: one record for each thing that was seen."""

from dataclasses import dataclass
from typing import Literal
from uuid import UUID

Kind = Literal[
    "hatch day", "hatch count", "aliquots", "total", "placed", "settled", "found dead",
    "lengths", "mean length", "weight", "competent",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Part:
    """Share of a lot that was looked at.

    lot: key of its course. share: of its animals, 0 to 1. reset, removals: how many times its
    number had been set anew (stocked, thinned), or lowered, before. settled: on trays or beyond.
    """

    lot: str
    share: float
    reset: int
    removals: int
    settled: bool


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing that was seen of a batch.

    entry: of the log. batch: its code there ("27A"). tank: the vessel. day: morning of the season.
    numbers, by kind: hatch day (); hatch count (eggs, veligers); aliquots (mL, L, counts ...);
    total, placed (animals,); settled (animals, offered or 0); found dead (animals, days since the
    last look); lengths (mm, ...); mean length (mm, sd or 0, animals); weight (animals, g);
    competent (looked at, competent).
    parts: the lots that were in the vessel; empty for kinds that concern the batch.
    words: how a person would name it.
    """

    entry: UUID
    batch: str
    tank: str
    day: int
    kind: Kind
    numbers: tuple[float, ...]
    parts: tuple[Part, ...] = ()
    words: str = ""


@dataclass(frozen=True, slots=True)
class Reset:
    """A morning on which the number of a lot was set anew: stocked, or thinned to so many.

    settled: on trays or beyond by then. Larvae thinned on the morning of the inducer, before the
    move, are taken for sorted: those kept are competent, and some of them settle.
    """

    day: int
    animals: float
    settled: bool = False


@dataclass(frozen=True, slots=True)
class Removal:
    """A share of a lot that was taken out or was lost at once; after: resets before it."""

    day: int
    kept: float
    reset: int


@dataclass(frozen=True, slots=True)
class Course:
    """What was done with one lot: a larval tank of a batch and all that came of it.

    tank: where it was stocked; litres: its water [L]. induced, nursery, ended: mornings, None
    where it has not come about. places: larvae its trays can take. released: animals of it
    released or handed over so far.
    """

    key: str
    batch: str
    tank: str
    litres: float
    resets: tuple[Reset, ...]
    removals: tuple[Removal, ...] = ()
    induced: int | None = None
    nursery: int | None = None
    ended: int | None = None
    places: float = float("inf")


@dataclass(frozen=True, slots=True)
class BatchCourse:
    """A batch that has begun. started: morning of collecting; hatched: None before it has."""

    code: str
    started: int
    eggs: float | None
    hatched: int | None


@dataclass(frozen=True, slots=True)
class Doubted:
    """An entry that is left out until a person confirms it, and why, in a sentence."""

    entry: UUID
    sentence: str


@dataclass(frozen=True, slots=True)
class History:
    """All that a log says up to a morning, in the order in which it happened.

    day: the last morning looked at. readings: (day, °C). released: animals released or handed
    over. masses: egg masses collected.
    """

    day: int
    batches: tuple[BatchCourse, ...]
    courses: tuple[Course, ...]
    observations: tuple[Observation, ...]
    readings: tuple[tuple[int, float], ...]
    released: float
    masses: int
    doubted: tuple[Doubted, ...]
