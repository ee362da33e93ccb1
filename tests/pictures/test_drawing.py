"""SVG as text: what people typed is escaped, curves keep their shape with fewer points."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.pictures.drawing import curve, element, picture, rounded, simplified
from protoconch.pictures.lettering import Label
from tests.pictures.markup import corners, parsed

HOSTILE = '<script>alert("1")</script>&\'"]]>'
points = st.lists(st.tuples(st.floats(0, 500), st.floats(0, 500)), min_size=2, max_size=40)


def test_typed_words_never_become_markup():
    drawn = picture("p", HOSTILE, HOSTILE, (10, 10), [], [Label(HOSTILE, 1, 1)])
    root = parsed(drawn.svg)
    assert [child.tag.split("}")[1] for child in root] == ["title", "desc", "text"]
    assert root[2].text == HOSTILE


def test_attributes_are_escaped():
    assert parsed(element("g", id=HOSTILE)).get("id") == HOSTILE


@pytest.mark.parametrize(
    ("length", "shown"), [(0, "0"), (-0.04, "0"), (12.345, "12.3"), (5.0, "5")]
)
def test_lengths_have_no_needless_digits(length, shown):
    assert rounded(length) == shown


def test_a_picture_says_what_it_is_to_those_who_cannot_see_it():
    root = parsed(picture("p", "Ribbons", "Two batches.", (9, 9), [], []).svg)
    named = {child.get("id"): child.text for child in root}
    assert root.get("role") == "img"
    assert named[root.get("aria-labelledby")] == "Ribbons"
    assert named[root.get("aria-describedby")] == "Two batches."


def test_a_picture_stands_alone_with_its_colours():
    alone = picture("p", "t", "d", (9, 9), [], []).standalone()
    assert alone.startswith("<?xml")
    assert parsed(alone.encode()).find("{*}style") is not None


@given(points)
def test_a_simplified_curve_stays_within_its_tolerance(line):
    kept = simplified(line, 1.0)
    assert kept[0] == line[0]
    assert kept[-1] == line[-1]
    assert all(_distance(point, kept) <= 1.0 + 1e-6 for point in line)


def test_a_straight_line_needs_two_points():
    assert simplified([(float(i), 2.0 * i) for i in range(100)]) == [(0, 0), (99, 198)]


@given(points)
def test_steps_of_a_path_do_not_drift(line):
    end = corners(parsed(curve(line, "middle")).get("d"))[-1]
    assert end == pytest.approx(line[-1], abs=0.06)


def _distance(point, line):
    return min(_to_segment(point, a, b) for a, b in pairwise(line))


def _to_segment(point, start, end):
    (px, py), (ax, ay), (bx, by) = point, start, end
    length2 = (bx - ax) ** 2 + (by - ay) ** 2
    share = ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / length2 if length2 else 0.0
    share = min(1.0, max(0.0, share))
    return ((ax + share * (bx - ax) - px) ** 2 + (ay + share * (by - ay) - py) ** 2) ** 0.5
