"""The drawings of the how-to cards."""

import re
from xml.etree import ElementTree as ET

import pytest

from protoconch.errors import UnknownName
from protoconch.pictures.how_to.kit import HEIGHT, PARTS, WIDTH, drawing, parts_of
from protoconch.pictures.how_to.scenes import SCENES
from protoconch.work.how_to import CARDS

STEPS = [(kind, number) for kind, scenes in SCENES.items() for number in range(len(scenes))]
COLOURS = {"none", "currentColor", "white"}


def test_each_step_of_each_kind_of_work_has_a_drawing_of_its_own():
    assert {kind: len(scenes) for kind, scenes in SCENES.items()} == {
        kind: len(card.steps) for kind, card in CARDS.items()
    }
    for scenes in SCENES.values():
        assert len(set(scenes)) == len(scenes)


@pytest.mark.parametrize(("kind", "number"), STEPS, ids=[f"{k} {n + 1}" for k, n in STEPS])
def test_a_drawing_is_sound_black_on_paper_and_on_its_sheet(kind, number):
    scene = SCENES[kind][number]
    tree = ET.fromstring(drawing(scene, paper="white"))  # noqa: S314 - made here
    for each in tree.iter():
        assert {each.get("fill"), each.get("stroke")} - {None} <= COLOURS
    for placed in scene.split(";"):
        _, x, y, *_ = placed.split()
        assert 0 <= float(x) <= WIDTH, placed
        assert 0 <= float(y) <= HEIGHT + 10, placed


def test_the_kit_holds_nothing_that_no_drawing_uses():
    assert {part for scenes in SCENES.values() for scene in scenes for part in parts_of(scene)} == (
        set(PARTS)
    )


@pytest.mark.parametrize("scene", ["tnak 10 10", "tank 10", "tank ten 10", "tank 10 10 0.5", ""])
def test_a_part_that_is_not_there_is_refused_by_name(scene):
    with pytest.raises(UnknownName, match=re.escape(f'"{scene}" is no part')):
        drawing(scene)
