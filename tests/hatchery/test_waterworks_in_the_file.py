"""The waterworks as a part of the hatchery's own file."""

import pytest

from protoconch.errors import BadFile
from protoconch.hatchery.file_text import lines_of
from protoconch.hatchery.reading import demo_hatchery, demo_text, read_hatchery
from protoconch.hatchery.waterworks_reading import (
    demo_waterworks,
    demo_waterworks_text,
)
from protoconch.hatchery.writing import hatchery_text


def water_lines(text):
    """The lines of the waterworks in a file."""
    return lines_of(text, ("waterworks",))


BOTH = f"{demo_text()}\n{demo_waterworks_text()}"


def test_a_hatchery_may_have_none():
    hatchery = read_hatchery(demo_text(), "own.toml")
    assert hatchery.waterworks is None
    assert hatchery.kept_lines == ""


def test_the_demo_has_the_one_that_is_drawn():
    assert demo_hatchery().waterworks is not None
    assert demo_hatchery().waterworks.network.parts == demo_waterworks().network.parts


def test_a_fault_in_it_is_told_with_the_others_and_its_line():
    text = BOTH.replace("places = 12", "places = -1").replace('height = "3.4 m"', 'height = "3 kg"')
    with pytest.raises(BadFile) as caught:
        read_hatchery(text, "own.toml")
    lines = {problem.line for problem in caught.value.problems}
    wanted = {
        number
        for number, line in enumerate(text.splitlines(), 1)
        if line.startswith("places = -1") or '"3 kg"' in line
    }
    assert wanted <= lines


def test_its_lines_are_kept_as_they_were_written():
    kept = water_lines(BOTH)
    assert '[[waterworks.places]]\nname = "sea"' in kept
    assert "[hatchery]" not in kept
    assert "# usable, without the dead water" in kept
    assert water_lines(demo_text()) == ""


def test_its_lines_are_found_wherever_they_stand():
    mixed = f"{demo_waterworks_text()}\n{demo_text()}"
    assert [line for line in water_lines(mixed).splitlines() if line] == [
        line for line in water_lines(BOTH).splitlines() if line
    ]


def test_writing_the_hatchery_loses_nothing_of_it():
    hatchery = read_hatchery(BOTH, "own.toml")
    again = read_hatchery(hatchery_text(hatchery), "again.toml")
    assert again.waterworks == hatchery.waterworks
    assert again.kept_lines == hatchery.kept_lines
