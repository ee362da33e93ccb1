"""One scarce thing along time, drawn across a desk's picture or down a phone's."""

from collections.abc import Callable
from datetime import date, timedelta

from protoconch.pictures.drawing import Point, curve, element, line, shape, simplified
from protoconch.pictures.lettering import Label, Lettering, room_for
from protoconch.pictures.room import Lane, Numbers
from protoconch.pictures.scales import NumberScale, TimeScale
from protoconch.pictures.words import amount
from protoconch.words import say

LANE_HEIGHT = 40.0


def lane_across(
    lane: Lane, time: TimeScale, first_day: date, base: float, letters: Lettering
) -> list[str]:
    """The drawing of a lane upward from its base line; its words go to `letters`."""
    up = NumberScale(0, lane.top * 1.04, base, base - LANE_HEIGHT)
    limit = up.at(lane.available)
    parts = _lane_parts(lane, time, first_day, lambda along, number: (along, up.at(number)))
    letters.add(
        Label(lane.name, 0, base - 18, "strong"),
        Label(lane.unit, 0, base - 3, "small"),
        Label(say("limit {number}", number=amount(lane.available)), time.end + 10, limit + 5),
    )
    day, used = lane.peak
    if used:
        when = first_day + timedelta(days=day)
        words = say("most {number}, {day:%-d %b}", number=amount(used), day=when)
        if lane.high is not None:
            words = say("in 1 of 10: {number}", number=amount(float(lane.high.max())))
        letters.fit(
            [Label(words, time.end + 10, y, "small") for y in (base - 1, base - 17, base - 33)]
        )
    return parts


def lane_down(
    lane: Lane, time: TimeScale, first_day: date, sides: tuple[float, float], letters: Lettering
) -> list[str]:
    """The drawing of a lane with time running down, from a base line on the left.

    sides: left and right end of its column [px].
    """
    out = NumberScale(0, lane.top * 1.04, *sides)
    parts = _lane_parts(lane, time, first_day, lambda along, number: (out.at(number), along))
    width = sides[1] - sides[0]
    for i, (words, style) in enumerate(((lane.short, "strong"), (lane.short_unit, "small"))):
        letters.add(
            Label(_shortened(words, width, style), sides[0], time.start - 42 + 15 * i, style)
        )
    letters.add(
        Label(say("of {number}", number=amount(lane.available)), sides[0], time.start - 12, "small")
    )
    day, used = lane.peak
    if used:
        y = time.at(first_day + timedelta(days=day))
        letters.fit([
            Label(amount(used), sides[1], y + shift, "strong", "end") for shift in (5, 20, -12)
        ])  # fmt: skip
    return parts


def _shortened(words: str, room: float, style: str) -> str:
    """The words, with fewer letters and a full stop where a narrow column cannot hold them."""
    told = str(words)
    if room_for(told, style) <= room:
        return told
    while len(told) > 1 and room_for(f"{told}.", style) > room:
        told = told[:-1].rstrip()
    return f"{told}."


def _lane_parts(
    lane: Lane, time: TimeScale, first_day: date, place: Callable[[float, float], Point]
) -> list[str]:
    along = [time.at(first_day + timedelta(days=i)) for i in range(lane.used.size)]

    def edge(numbers: Numbers) -> list[Point]:
        return simplified([place(x, float(v)) for x, v in zip(along, numbers, strict=True)])

    parts = []
    if along:
        used = edge(lane.used)
        parts.append(shape([place(along[0], 0), *used, place(along[-1], 0)], "used"))
        if lane.low is not None and lane.high is not None:
            high = edge(lane.high)
            parts += [shape([*high, *reversed(edge(lane.low))], "might"), curve(high, "seldom")]
        parts.append(curve(used, "middle"))
        day, peak = lane.peak
        x, y = place(along[day], peak)
        parts.append(element("circle", cx=x, cy=y, r=2.6 if peak else 0, class_="f-ink"))
    for number, class_ in ((0.0, "base"), (lane.available, "limit")):
        parts.append(line(place(time.start, number), place(time.end, number), class_))
    return parts
