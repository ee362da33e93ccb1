"""What was read of one thing, day by day, beside its limits."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from protoconch.pictures.drawing import Picture, Point, curve, element, line, picture
from protoconch.pictures.lettering import Label, overlap
from protoconch.pictures.scales import NumberScale, round_step
from protoconch.pictures.words import amount
from protoconch.words import day_text

WIDTH, HEIGHT = 310.0, 132.0
"""Small enough that a phone shows it without making its letters smaller [px]."""
LEFT, RIGHT, TOP, FOOT = 52.0, 300.0, 14.0, 102.0
DAY_S = 86400.0
Due = tuple[datetime, datetime, datetime]


def reading_series(
    title: str, seen: Sequence[tuple[datetime, float]], limits: Sequence[tuple[float, str]],
    meaning: str, name: str, *, due: Due | None = None, at: float | None = None,
) -> Picture:  # fmt: skip
    """Readings as dots joined by a line, limits dashed with their words.

    seen: moment and value, the earliest first, at least one. limits: value and word of each.
    due: best, earliest and latest moment at which the value `at` is expected to be reached, drawn
    as a bar with a dot. name: unique within the page.
    """
    first, last = seen[0][0], max([seen[-1][0], *(due or ())])
    if last - first < timedelta(days=1):
        first = last - timedelta(days=1)
    up = _up([value for _, value in seen], [value for value, _ in limits])
    x = NumberScale(0, (last - first).total_seconds() / DAY_S, LEFT, RIGHT)

    def place(when: datetime, value: float) -> Point:
        return x.at((when - first).total_seconds() / DAY_S), up.at(value)

    parts, labels = _frame(up, first, last)
    for value, word in limits:
        parts.append(line((LEFT, up.at(value)), (RIGHT, up.at(value)), "limit"))
        _fit(labels, Label(word, RIGHT, up.at(value) - 3, "small", "end"))
    points = [place(when, value) for when, value in seen]
    parts.append(curve(points, "middle"))
    parts += [element("circle", cx=px, cy=py, r=2.6, class_="missed") for px, py in points]
    if due is not None and at is not None:
        best, early, late = (place(when, at) for when in due)
        parts += [line(early, late, "mark"), line(points[-1], best, "seldom"),
                  element("circle", cx=best[0], cy=best[1], r=4, class_="met")]  # fmt: skip
    return picture(name, title, meaning, (WIDTH, HEIGHT), parts, labels)


def _up(values: Sequence[float], limits: Sequence[float]) -> NumberScale:
    """From a round number below all to one above, with room for the words of the limits."""
    low, high = min((*values, *limits)), max((*values, *limits))
    step = round_step(max(high - low, abs(high) * 0.01, 1e-3) / 3)
    bottom = (low // step) * step
    top = -(-high // step) * step
    return NumberScale(bottom, max(top, bottom + step) + step / 2, FOOT, TOP)


def _frame(up: NumberScale, first: datetime, last: datetime) -> tuple[list[str], list[Label]]:
    parts = [line((LEFT, FOOT), (RIGHT, FOOT), "base")]
    labels = [Label(_short(first), LEFT, FOOT + 18, "small"),
              Label(_short(last), RIGHT, FOOT + 18, "small", "end")]  # fmt: skip
    for tick in up.ticks(3):
        parts.append(line((LEFT, up.at(tick)), (RIGHT, up.at(tick)), "rule"))
        labels.append(Label(_number(tick), LEFT - 5, up.at(tick) + 4, "small", "end"))
    return parts, labels


def _number(value: float) -> str:
    """A number of the scale, small ones with all the digits they need."""
    return f"{value:.3g}" if 0 < abs(value) < 0.1 else amount(value)


def _short(when: datetime) -> str:
    return day_text(when, "%-d %b")


def _fit(labels: list[Label], new: Label) -> None:
    """Add words where they touch no others."""
    if not any(overlap(new, other) for other in labels):
        labels.append(new)
