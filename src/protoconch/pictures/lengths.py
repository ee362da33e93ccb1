"""Shell length of one batch along time: its small, its middle and its large animals."""

from collections.abc import Sequence
from datetime import timedelta

import numpy as np

from protoconch.hatchery.description import Target
from protoconch.pictures.batch_story import dots
from protoconch.pictures.counted import Seen
from protoconch.pictures.drawing import Picture, curve, line, picture, shape, simplified
from protoconch.pictures.lettering import Label, Lettering, room_for
from protoconch.pictures.scales import NumberScale, TimeScale
from protoconch.pictures.words import day_written, month_short
from protoconch.season.answer import Batch, DailyBatch, Forecast
from protoconch.words import phrase, say

IN_TIME = phrase(
    "Half of batch {code} reach {size:g} mm by {ready}; at the end the small tenth is below "
    "{small:.0f} mm, the large above {large:.0f}."
)
TOO_LATE = phrase(
    "Half of batch {code} would reach {size:g} mm only by {ready}, after the release on {release}; "
    "at the end the small tenth is below {small:.0f} mm, the large above {large:.0f}."
)

_WIDTH, _LEFT, _RIGHT = 340.0, 32.0, 282.0
_TOP, _BASE = 20.0, 196.0


def batch_lengths(
    batch: Batch, daily: DailyBatch, forecast: Forecast, target: Target, name: str,
    seen: Sequence[Seen] = (),
) -> Picture:  # fmt: skip
    """Length against time from hatch to release, with the length asked.

    daily: the curves of the same batch; name: unique within the page. seen: mean lengths measured.
    """
    days = np.flatnonzero(daily.length_p50 > 0)
    letters = Lettering(0, 0, _WIDTH, _BASE + 42)
    meaning = lengths_meaning(batch, daily, target)
    title = say("Batch {code}: shell length from hatch to release", code=batch.code)
    if not days.size:
        letters.add(Label(say("nothing to measure"), 170, 100, "strong", "middle"))
        return picture(name, title, meaning, (_WIDTH, _BASE + 42), [], letters.labels)
    first, last = (forecast.first_day + timedelta(days=int(days[i])) for i in (0, -1))
    time = TimeScale(first, last, _LEFT, _RIGHT)
    top = max(float(daily.length_p90.max()), target.size_mm) * 1.05
    up = NumberScale(0, top, _BASE, _TOP)

    def edge(lengths: np.ndarray) -> list[tuple[float, float]]:
        return simplified([
            (time.at(forecast.first_day + timedelta(days=int(i))), up.at(float(lengths[i])))
            for i in days
        ])  # fmt: skip

    parts = _frame(time, up, letters, target)
    small, middle, large = (edge(a) for a in (daily.length_p10, daily.length_p50, daily.length_p90))
    parts += [shape([*large, *reversed(small)], "might"), curve(middle, "middle")]
    parts += [curve(small, "seldom"), curve(large, "seldom")]
    parts += dots(seen, time, up.at)
    end = int(days[-1])
    for words, lengths in (
        (say("middle"), daily.length_p50),
        (say("large"), daily.length_p90),
        (say("small"), daily.length_p10),
    ):
        y = up.at(float(lengths[end])) + 5
        letters.fit([Label(words, _RIGHT + 5, y + s) for s in (0, 8, -8, 14, -14)])
    return picture(name, title, meaning, (_WIDTH, _BASE + 42), parts, letters.labels)


def _frame(time: TimeScale, up: NumberScale, letters: Lettering, target: Target) -> list[str]:
    parts = [line((_LEFT, up.start), (_RIGHT, up.start), "base")]
    y = up.at(target.size_mm)
    parts.append(line((_LEFT, y), (_RIGHT, y), "mark"))
    letters.add(Label(say("asked {size:g} mm", size=target.size_mm), _LEFT + 4, y - 5, "strong"))
    for length in up.ticks(5):
        y = up.at(length)
        if length:
            parts.append(line((_LEFT, y), (_RIGHT, y), "rule"))
        letters.fit([Label(f"{length:g}", _LEFT - 5, y + 4, "small", "end")])
    letters.fit([Label("mm", 2, 12, "small")])
    beyond = 0.0
    for month in time.months():
        x = time.at(month)
        parts.append(line((x, up.start), (x, up.start + 4), "base"))
        word = month_short(month)
        if x >= beyond:
            letters.add(Label(word, x, up.start + 18, "small"))
            beyond = x + max(room_for(word, "small"), room_for("2028", "small")) + 6
            if month.month <= 2 or month == time.months()[0]:
                letters.fit([Label(str(month.year), x, up.start + 34, "small")])
    return parts


def lengths_meaning(batch: Batch, daily: DailyBatch, target: Target) -> str:
    """When half have reached the length asked, and how far the small and large are at release."""
    days = np.flatnonzero(daily.length_p50 > 0)
    if not days.size:
        return say("Batch {code} holds nothing to measure.", code=batch.code)
    small, large = (float(a[days[-1]]) for a in (daily.length_p10, daily.length_p90))
    dates = batch.dates
    return say(
        TOO_LATE if dates.ready > dates.release else IN_TIME,
        code=batch.code,
        size=target.size_mm,
        ready=day_written(dates.ready),
        release=day_written(dates.release),
        small=small,
        large=large,
    )
