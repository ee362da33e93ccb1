"""One batch along time: what was counted beside what the plan expects, each tenfold alike."""

from collections.abc import Callable, Sequence
from datetime import date, timedelta

import numpy as np

from protoconch.pictures.counted import Expected, Seen, against, expected
from protoconch.pictures.drawing import Picture, curve, element, line, picture, shape, simplified
from protoconch.pictures.lettering import Label, Lettering, room_for
from protoconch.pictures.months import months_under
from protoconch.pictures.ribbon import spans
from protoconch.pictures.scales import NumberScale, TimeScale
from protoconch.pictures.stages import LOOKS
from protoconch.pictures.words import about, counted, day_short
from protoconch.season.answer import Batch, DailyBatch
from protoconch.words import phrase, say

AS_PLANNED = phrase(
    "{number} were counted on {day}, {against}: the plan had {low} to {high} for that day in eight "
    "futures of ten, {middle} in the middle one."
)
AS_LOOKED_AHEAD = phrase(
    "{number} were counted on {day}, {against}: the outlook of the days before had {low} to "
    "{high} for that day in eight futures of ten, {middle} in the middle one."
)

WIDTH, LEFT, RIGHT = 340.0, 56.0, 332.0
TOP, BASE = 16.0, 196.0
AHEAD = timedelta(days=45)
"""At least so much of the time to come is drawn; else as much as has passed."""


def batch_numbers(
    batch: Batch, daily: DailyBatch, first_day: date, seen: Sequence[Seen],
    today: date | None = None, name: str = "numbers", *, before: Expected | None = None,
) -> Picture:  # fmt: skip
    """The number alive of one batch: expected as a band, counted as dots with their limits.

    name: unique within the page. before: what the outlook had for the day of the last count before
    it was made; the plan is named where there is none.
    """
    letters = Lettering(0, 0, WIDTH, BASE + 58)
    days = np.flatnonzero(daily.stage >= 0)
    title = say("Batch {code}: number alive, counted and expected", code=batch.code)
    meaning = numbers_meaning(daily, first_day, seen, before)
    if not days.size:
        letters.add(Label(say("nothing expected"), 170, 100, "strong", "middle"))
        return picture(name, title, meaning, (WIDTH, BASE + 58), [], letters.labels)
    first, last = (first_day + timedelta(days=int(days[i])) for i in (0, -1))
    if seen:
        first, last = min(first, seen[0].day), max(last, seen[-1].day)
    if today and first < today < last:
        last = min(last, today + max(AHEAD, today - first))
        days = days[days <= (last - first_day).days]
    time = TimeScale(first, last, LEFT, RIGHT)
    most = max(float(daily.alive_p90.max()), *(one.high for one in seen), 1e3)
    up = NumberScale(1.0, float(np.ceil(np.log10(most))), BASE, TOP)

    def edge(numbers: np.ndarray) -> list[tuple[float, float]]:
        return simplified([
            (time.at(first_day + timedelta(days=int(i))), _at(up, float(numbers[i]))) for i in days
        ])  # fmt: skip

    parts = _frame(up, time, letters)
    parts += _stages(daily, first_day, time, letters)
    high, low = edge(daily.alive_p90), edge(daily.alive_p10)
    parts += [shape([*high, *reversed(low)], "might"), curve(edge(daily.alive_p50), "middle")]
    parts += [curve(high, "seldom"), curve(low, "seldom")]
    if today and time.holds(today):
        x = time.at(today)
        parts.append(line((x, TOP - 4), (x, BASE), "base"))
        letters.fit(
            [
                Label(say("today"), x + 3, 12, "small"),
                Label(say("today"), x - 3, 12, "small", "end"),
            ]
        )
    parts += dots(seen, time, lambda number: _at(up, number))
    return picture(name, title, meaning, (WIDTH, BASE + 58), parts, letters.labels)


def dots(seen: Sequence[Seen], time: TimeScale, up: Callable[[float], float]) -> list[str]:
    """Numbers seen, as dots with a line from limit to limit; up: place of a number [px]."""
    parts = []
    for one in seen:
        x = time.at(one.day)
        parts.append(line((x, up(one.low)), (x, up(one.high)), "base"))
        parts.append(element("circle", cx=x, cy=up(one.value), r=3.6, class_="missed"))
    return parts


def _at(up: NumberScale, number: float) -> float:
    return up.at(max(up.low, float(np.log10(max(number, 1e-9)))))


def _frame(up: NumberScale, time: TimeScale, letters: Lettering) -> list[str]:
    parts = [line((LEFT, BASE), (RIGHT, BASE), "base")]
    for power in range(1, int(up.high) + 1):
        y = up.at(power)
        if power > 1:
            parts.append(line((LEFT, y), (RIGHT, y), "rule"))
        letters.fit([Label(counted(10.0**power), LEFT - 5, y + 4, "small", "end")])
    return [*parts, *months_under(time, BASE, WIDTH, letters)]


def _stages(daily: DailyBatch, first_day: date, time: TimeScale, letters: Lettering) -> list[str]:
    """Under the axis: where each stage begins, with its word or its letter."""
    parts = []
    for begin, end in spans(daily.stage):
        look = LOOKS[int(daily.stage[begin])]
        left, right = (time.at(first_day + timedelta(days=int(day))) for day in (begin, end + 1))
        if right <= left:
            continue
        parts.append(line((left, BASE + 40), (left, BASE + 54), "rule"))
        for words in (look.word, look.letter):
            if right - left >= room_for(words, "small") + 4 and letters.fit(
                [Label(words, (left + right) / 2, BASE + 52, "small", "middle")]
            ):
                break
    return parts


def numbers_meaning(
    daily: DailyBatch, first_day: date, seen: Sequence[Seen], before: Expected | None = None
) -> str:  # fmt: skip
    """What the last count says beside the plan, or beside what the outlook had before it."""
    if not seen:
        return say(
            "Nothing of this batch is counted yet: the band is what eight futures in ten lie "
            "between, the line the middle one."
        )
    last = seen[-1]
    hoped = before or expected(daily, first_day, last.day)
    number, day = about(last.value, 3), day_short(last.day)
    if not hoped.high:
        return say(
            "{number} were counted on {day}; the plan expects none on that day."
            if before is None
            else "{number} were counted on {day}; the outlook of the days before expects none on "
            "that day.",
            number=number,
            day=day,
        )
    return say(
        AS_PLANNED if before is None else AS_LOOKED_AHEAD,
        number=number,
        day=day,
        against=against(last, hoped),
        low=about(hoped.low),
        high=about(hoped.high),
        middle=about(hoped.middle),
    )
