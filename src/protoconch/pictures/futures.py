"""The number at the date: fifty equally likely futures as dots, and the chance of each number."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from protoconch.pictures.drawing import Picture, curve, element, line, picture, simplified
from protoconch.pictures.lettering import Label, Lettering, room_for
from protoconch.pictures.scales import NumberScale
from protoconch.pictures.words import about, counted, odds_said, percent
from protoconch.season.answer import SeasonPlan
from protoconch.words import listed, say

DOTS = 50
_WIDTH, _LEFT, _RIGHT = 340.0, 4.0, 336.0
_TOP, _BASE = 44.0, 206.0


@dataclass(frozen=True, slots=True)
class Dots:
    """Equally likely futures in stacks: column 0 begins at the number asked, -1 ends there.

    columns, rows: place of each dot, shape (DOTS,), rows from 0; width: animals to a column [-].
    """

    columns: NDArray[np.int64]
    rows: NDArray[np.int64]
    width: float

    @property
    def met(self) -> int:
        """Dots on or right of the number asked."""
        return int((self.columns >= 0).sum())


def futures(ready: NDArray[np.float64]) -> NDArray[np.float64]:
    """The middles of fifty equally likely slices of the numbers at the date, rising, shape (50,).

    ready: numbers at the date, one for each draw.
    """
    if not ready.size:
        return np.zeros(DOTS)
    quantiles: NDArray[np.float64] = np.quantile(ready, (np.arange(DOTS) + 0.5) / DOTS)
    return quantiles


def stacked(numbers: NDArray[np.float64], asked: float, columns: int) -> Dots:
    """Dots stacked in columns whose edges fall on the number asked, so that none straddles it.

    numbers: rising; columns: about how many to use across the range that includes the asked.
    """
    low, high = min(float(numbers[0]), asked), max(float(numbers[-1]), asked)
    width = max((high - low) / columns, 1e-6 * max(1.0, high))
    index = np.floor((numbers - asked) / width).astype(np.int64)
    index = np.where(numbers >= asked, np.maximum(index, 0), np.minimum(index, -1))
    rows = np.arange(numbers.size) - np.searchsorted(index, index, side="left")
    return Dots(index, rows, width)


@dataclass(frozen=True, slots=True)
class _Stacks:
    """Dots with their diameter [px], how many stand side by side in a column, and the columns."""

    dots: Dots
    size: float
    beside: int
    lowest: int
    highest: int


def _best(numbers: NDArray[np.float64], asked: float) -> _Stacks:
    """The stacking that lets the dots be largest; dots stand side by side only where they must."""
    found = []
    for columns in range(8, 34):
        dots = stacked(numbers, asked, columns)
        lowest, highest = min(int(dots.columns[0]), -1), max(int(dots.columns[-1]), 0)
        across = (_RIGHT - _LEFT) / (highest - lowest + 1)
        tallest = int(dots.rows.max()) + 1
        for beside in range(1, 6):
            rows = -(-tallest // beside)
            size = min(across / beside, (_BASE - _TOP) / rows, 22.0)
            found.append(_Stacks(dots, size, beside, lowest, highest))
    alone = max((s for s in found if s.beside == 1), key=lambda stacks: stacks.size)
    return alone if alone.size >= 7 else max(found, key=lambda stacks: stacks.size)


def futures_dots(plan: SeasonPlan, name: str = "futures") -> Picture:
    """Fifty equally likely futures; those right of the line are exactly those that meet it."""
    asked = float(plan.target.animals)
    numbers = futures(plan.forecast.ready)
    stacks = _best(numbers, asked)
    count = stacks.highest - stacks.lowest + 1
    width = min(_RIGHT - _LEFT, stacks.size * stacks.beside * count * 1.6)
    start = (_LEFT + _RIGHT - width) / 2
    low = asked + stacks.lowest * stacks.dots.width
    scale = NumberScale(low, low + count * stacks.dots.width, start, start + width)
    letters = Lettering(0, 0, _WIDTH, _BASE + 46)
    at = scale.at(asked)
    parts = [line((_LEFT, _BASE), (_RIGHT, _BASE), "base"), *_circles(stacks, scale, asked)]
    parts.append(line((at, _TOP - 22), (at, _BASE + 6), "mark"))
    _sides(letters, at, stacks.dots.met)
    _numbers_below(parts, letters, scale, asked)
    return picture(
        name,
        say(
            "Fifty equally likely futures: juveniles of {size:g} mm at the date",
            size=plan.target.size_mm,
        ),
        futures_meaning(numbers, asked),
        (_WIDTH, _BASE + 46),
        parts,
        letters.labels,
    )


def _circles(stacks: _Stacks, scale: NumberScale, asked: float) -> list[str]:
    drawn = []
    for column, row in zip(stacks.dots.columns, stacks.dots.rows, strict=True):
        up, beside = divmod(int(row), stacks.beside)
        aside = (beside - (stacks.beside - 1) / 2) * stacks.size
        x = scale.at(asked + (int(column) + 0.5) * stacks.dots.width) + aside
        y = _BASE - stacks.size * (up + 0.5)
        class_ = "met" if column >= 0 else "missed"
        drawn.append(element("circle", cx=x, cy=y, r=stacks.size * 0.44, class_=class_))
    return drawn


def _sides(letters: Lettering, at: float, met: int) -> None:
    missed = DOTS - met
    long, short = say("{met} of {all} meet it", met=met, all=DOTS), say("{met} meet", met=met)
    letters.fit([
        *(Label(words, at + 8, 34, "strong") for words in (long, short)),
        Label(long, at - 8, 14, "strong", "end"),
    ])  # fmt: skip
    long = say("{missed} of {all} miss it", missed=missed, all=DOTS)
    short = say("{missed} miss", missed=missed)
    letters.fit([
        *(Label(words, at - 8, 34, "strong", "end") for words in (long, short)),
        Label(long, at + 8, 14, "strong"),
    ])  # fmt: skip


def _numbers_below(parts: list[str], letters: Lettering, scale: NumberScale, asked: float) -> None:
    at = scale.at(asked)
    words = say("asked {number}", number=counted(asked))
    letters.fit([
        Label(words, at, _BASE + 38, "strong", "middle"),
        Label(words, at, _BASE + 38, "strong", "end"),
        Label(words, at, _BASE + 38, "strong"),
    ])  # fmt: skip
    for number in scale.ticks(4):
        if number >= 0 and number == round(number):
            x = scale.at(number)
            parts.append(line((x, _BASE), (x, _BASE + 5), "base"))
            letters.fit([Label(counted(number), x, _BASE + 20, "small", "middle")])


def futures_meaning(numbers: NDArray[np.float64], asked: float) -> str:
    """How many of the fifty meet the target, what the middle and the worst five give."""
    met = int((numbers >= asked).sum())
    if not numbers.max():
        return say("No future of {all} gives a single animal of this size at the date.", all=DOTS)
    middle = about(float((numbers[24] + numbers[25]) / 2), 3)
    return say(
        "{met} of {all} equally likely futures reach {asked}; half of the {all} reach {middle}, "
        "and the worst five give {worst} or fewer."
        if numbers[4] >= 0.5
        else "{met} of {all} equally likely futures reach {asked}; half of the {all} reach "
        "{middle}, and the worst five give none.",
        met=met,
        all=DOTS,
        asked=counted(asked),
        middle=middle,
        worst=about(float(numbers[4]), 3),
    )


_SURE = (0.9, 0.8, 0.5)
_CURVE_LEFT, _CURVE_RIGHT = 46.0, 326.0


def chance_curve(plan: SeasonPlan, name: str = "chance") -> Picture:
    """The chance of at least each number, with the number and the confidence asked."""
    asked, ready = float(plan.target.animals), plan.forecast.ready
    sure = np.linspace(0.0, 1.0, 201)
    numbers = np.quantile(ready, 1.0 - sure) if ready.size else np.zeros(sure.size)
    most = max(float(np.quantile(ready, 0.995)) if ready.size else 0.0, asked * 1.15, 1.0)
    across = NumberScale(0, most, _CURVE_LEFT, _CURVE_RIGHT)
    up = NumberScale(0, 1, _BASE, 20)
    letters = Lettering(0, 0, _WIDTH, _BASE + 46)
    parts = []
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        y = up.at(share)
        parts.append(line((_CURVE_LEFT, y), (_CURVE_RIGHT, y), "base" if not share else "rule"))
        letters.add(Label(f"{100 * share:.0f} %", _CURVE_LEFT - 6, y + 4, "small", "end"))
    points = [
        (across.at(float(n)), up.at(float(p)))
        for n, p in zip(numbers[::-1], sure[::-1], strict=True)
        if n <= most
    ]
    parts.append(curve(simplified([(across.at(0), up.at(1)), *points]), "middle"))
    y, x = up.at(plan.target.confidence), across.at(asked)
    parts.append(line((_CURVE_LEFT, y), (_CURVE_RIGHT, y), "limit"))
    parts.append(line((x, 14), (x, _BASE + 6), "mark"))
    parts.append(element("circle", cx=x, cy=up.at(plan.odds.value), r=5, class_="met"))
    words = say("asked {number}", number=percent(plan.target.confidence))
    crowded = x > _CURVE_RIGHT - room_for(words, "strong")
    letters.fit([Label(words, x - 6 if crowded else _CURVE_RIGHT, y - 5, "strong", "end")])
    _numbers_below(parts, letters, across, asked)
    return picture(
        name,
        say("The chance of at least so many at the date"),
        chance_meaning(plan),
        (_WIDTH, _BASE + 46),
        parts,
        letters.labels,
    )


def chance_meaning(plan: SeasonPlan) -> str:
    """What number goes with being nine, eight and five in ten sure."""
    ready = plan.forecast.ready
    if not ready.size or not ready.max():
        return say("No number is likely: nothing is planned.")
    told = [
        say(
            "{odds} sure of {number}",
            odds=odds_said(sure),
            number=about(float(np.quantile(ready, 1 - sure)), 3),
        )
        for sure in _SURE
    ]
    return say("This plan lets one be {sure}.", sure=listed(told))
