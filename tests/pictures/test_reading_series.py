"""Series of readings, drawn."""

from datetime import UTC, datetime, timedelta

import pytest

from protoconch.pictures.lettering import collisions
from protoconch.pictures.reading_series import FOOT, HEIGHT, LEFT, RIGHT, TOP, reading_series
from tests.pictures.markup import parsed

BEGIN = datetime(2027, 7, 1, 8, tzinfo=UTC)


def drawn(values, limits=(), **more):
    seen = [(BEGIN + timedelta(days=n), value) for n, value in enumerate(values)]
    return reading_series("Warmth", seen, limits, "It is warm.", "series", **more)


def circles(picture, class_):
    found = [e for e in parsed(picture.svg).iter() if e.tag.endswith("circle")]
    return [(float(c.get("cx")), float(c.get("cy"))) for c in found if c.get("class") == class_]


@pytest.mark.parametrize(
    ("values", "limits"),
    [([5.0], []), ([28.1, 29.4, 27.9], [(26.0, "at least"), (30.0, "at most")]),
     ([0.0, 0.0], [(0.01, "at most")]), ([0.003, 0.004], []), ([17_000, 400], [(5000, "reserve")])],
)  # fmt: skip
def test_every_reading_is_a_dot_inside_the_frame_and_no_words_touch(values, limits):
    picture = drawn(values, limits)
    dots = circles(picture, "missed")
    assert len(dots) == len(values)
    assert all(LEFT - 1 <= x <= RIGHT + 1 and TOP <= y <= FOOT + 0.1 for x, y in dots)
    assert collisions(picture.labels) == []
    assert all(label.box[0] >= 0 and label.box[3] <= HEIGHT for label in picture.labels)


def test_a_higher_reading_lies_higher_and_a_later_one_further_right():
    (x1, y1), (x2, y2) = circles(drawn([27.0, 29.0]), "missed")
    assert x2 > x1
    assert y2 < y1


def test_what_is_expected_lies_after_the_last_reading():
    due = tuple(BEGIN + timedelta(days=d) for d in (8, 6, 11))
    picture = drawn([20, 40, 60], [(103, "change")], due=due, at=103)
    ((x, _y),) = circles(picture, "met")
    assert x > max(dot[0] for dot in circles(picture, "missed"))
