"""One batch along time: as thick as its number alive, in tenfold layers, with its uncertainty."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from protoconch.pictures.counted import Seen
from protoconch.pictures.drawing import Point, curve, element, line, shape, simplified
from protoconch.pictures.scales import Thickness, TimeScale
from protoconch.pictures.stages import filled_with
from protoconch.season.answer import DailyBatch

Span = tuple[int, int]


class Along(Protocol):
    """A batch along time, as answer.DailyBatch and a changed season have it."""

    @property
    def code(self) -> str:
        """Its letter."""

    @property
    def alive_p10(self) -> NDArray[np.float64]:
        """Numbers alive that a tenth of futures stay below, (days,)."""

    @property
    def alive_p50(self) -> NDArray[np.float64]:
        """Numbers alive that half stay below, (days,)."""

    @property
    def alive_p90(self) -> NDArray[np.float64]:
        """Numbers alive that nine tenths stay below, (days,)."""

    @property
    def stage(self) -> NDArray[np.int8]:
        """Index into STAGES on each day, -1 outside, (days,)."""


@dataclass(frozen=True, slots=True)
class Ribbon:
    """A batch laid out along time.

    It rises from a base line with time to the right, or, where `down` is True, lies to the right
    of a base line with time running down.
    first_day: day of the first element of the batch's arrays. base: place of the base line [px].
    """

    batch: Along
    first_day: date
    time: TimeScale
    thickness: Thickness
    base: float
    down: bool = False

    def point(self, along: float, out: float) -> Point:
        """Place in the drawing of a place along time and a distance from the base line [px]."""
        return (self.base + out, along) if self.down else (along, self.base - out)

    def along(self, index: int) -> float:
        """Place along time of a day of the arrays [px]."""
        return self.time.at(self.first_day + timedelta(days=index))

    def out(self, alive: NDArray[np.float64], index: int) -> float:
        """Thickness of one of the batch's curves on a day [px]."""
        return self.thickness.of(float(alive[index]))

    def widest(self, start: date, end: date) -> float:
        """Greatest thickness of the seldom-reached edge from a day to a day, both included [px]."""
        count = len(self.batch.alive_p90)
        first = min(max(0, (start - self.first_day).days), count)
        last = min(max(0, (end - self.first_day).days + 1), count)
        return self.thickness.of(float(self.batch.alive_p90[first:last].max(initial=0.0)))

    def parts(self, name: str) -> list[str]:
        """The drawing: what is sure, what is likely, what is seldom, and the layers.

        name: of the drawing that holds the stage patterns.
        """
        stages = list(spans(self.batch.stage))
        if not stages:
            return []
        whole = (stages[0][0], stages[-1][1])
        drawn = []
        for alive, class_ in (
            (self.batch.alive_p90, "few"),
            (self.batch.alive_p50, "half"),
            (self.batch.alive_p10, "sure"),
        ):
            for first, last in stages:
                style = filled_with(name, int(self.batch.stage[first]))
                drawn += self._body(alive, first, min(last + 1, whole[1]), class_, style)
        drawn += self._layers(whole)
        drawn.append(curve(self._edge(self.batch.alive_p90, *whole), "seldom"))
        drawn.append(curve(self._edge(self.batch.alive_p50, *whole), "middle"))
        ends = self.point(self.along(whole[0]), 0), self.point(self.along(whole[1]), 0)
        drawn.append(line(*ends, "base"))
        for index in whole:
            rim = self.out(self.batch.alive_p50, index)
            along = self.along(index)
            drawn.append(line(self.point(along, 0), self.point(along, rim), "base"))
        return drawn

    def seen(self, counts: Sequence[Seen]) -> list[str]:
        """What was counted: a dot at each number, with a line from limit to limit."""
        drawn = []
        for one in counts:
            along = self.time.at(one.day)
            low, at, high = (
                self.point(along, self.thickness.of(n)) for n in (one.low, one.value, one.high)
            )
            drawn.append(line(low, high, "base"))
            drawn.append(element("circle", cx=at[0], cy=at[1], r=3.4, class_="missed"))
        return drawn

    def _edge(self, alive: NDArray[np.float64], first: int, last: int) -> list[Point]:
        time, thickness = self.time, self.thickness
        sooner, span = (self.first_day - time.first).days, (time.last - time.first).days
        days = np.clip(np.arange(first, last + 1) + sooner, 0, span)
        along = time.start + days * time.per_day
        animals = np.maximum(alive[first : last + 1], thickness.least)
        out = thickness.step * np.log10(animals / thickness.least)
        places = (self.base + out, along) if self.down else (along, self.base - out)
        return simplified(list(zip(*(axis.tolist() for axis in places), strict=True)))

    def _body(
        self, alive: NDArray[np.float64], first: int, last: int, class_: str, style: str
    ) -> list[str]:
        if alive[first : last + 1].max() <= self.thickness.least:
            return []
        start, end = self.point(self.along(first), 0), self.point(self.along(last), 0)
        return [shape([start, *self._edge(alive, first, last), end], class_, style=style)]

    def _layers(self, whole: Span) -> list[str]:
        alive = self.batch.alive_p50
        lines = []
        for tenfold in self.thickness.tenfolds(float(alive.max())):
            out = self.thickness.of(tenfold)
            above = np.where(alive > tenfold, 0, -1)[: whole[1] + 1]
            lines += [
                line(self.point(self.along(a), out), self.point(self.along(b), out), "tenfold")
                for a, b in spans(above)
            ]
        return lines


def spans(marks: NDArray[np.integer]) -> Iterator[Span]:
    """First and last index of each run of one and the same mark that is not negative."""
    if not len(marks):
        return
    edges = [0, *(np.flatnonzero(np.diff(marks)) + 1).tolist(), len(marks)]
    for first, beyond in pairwise(edges):
        if marks[first] >= 0:
            yield first, beyond - 1


def batches_by_code(batches: Sequence[DailyBatch]) -> dict[str, DailyBatch]:
    """The daily curves by the code of their batch."""
    return {batch.code: batch for batch in batches}
