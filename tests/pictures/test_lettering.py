"""Words in a drawing never touch each other."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from protoconch.pictures.lettering import Label, Lettering, collisions, overlap, room_for

labels = st.builds(
    Label,
    st.text("abcdW 0123", min_size=1, max_size=12),
    st.floats(0, 300),
    st.floats(0, 200),
    st.sampled_from(["word", "strong", "small"]),
    st.sampled_from(["start", "middle", "end"]),
)


@given(st.lists(labels, max_size=25))
def test_fitted_words_never_touch_and_stay_inside(wanted):
    letters = Lettering(0, 0, 300, 200)
    for label in wanted:
        letters.fit([label])
    assert collisions(letters.labels) == []
    for label in letters.labels:
        left, top, right, bottom = label.box
        assert left >= 0
        assert top >= 0
        assert right <= 300
        assert bottom <= 200


def test_the_first_free_place_is_taken():
    letters = Lettering(0, 0, 300, 200)
    letters.add(Label("here", 10, 50))
    assert letters.fit([Label("there", 12, 52), Label("there", 12, 90)])
    assert letters.labels[-1].y == 90
    assert not letters.fit([Label("none", 12, 52)])


def test_words_on_the_same_line_touch_when_they_run_into_each_other():
    width = room_for("10,000")
    assert overlap(Label("10,000", 0, 20), Label("9", width - 1, 20))
    assert not overlap(Label("10,000", 0, 20), Label("9", width + 1, 20))
    assert not overlap(Label("10,000", 0, 20), Label("9", 0, 40))


def test_words_on_lines_closer_than_a_letter_is_high_touch():
    assert overlap(Label("10,000", 0, 20), Label("10,000", 0, 30))
    assert not overlap(Label("10,000", 0, 20), Label("10,000", 0, 34))


@pytest.mark.parametrize("style", ["word", "strong", "small", "large", "stage"])
def test_an_anchor_only_moves_the_box(style):
    boxes = [Label("12,000", 100, 50, style, anchor).box for anchor in ("start", "middle", "end")]
    widths = [right - left for left, _, right, _ in boxes]
    assert widths == pytest.approx([widths[0]] * 3)
    assert boxes[0][0] == pytest.approx(100)
    assert boxes[2][2] == pytest.approx(100)
