"""The pictures of the algae room: well formed, legible, and true to their numbers."""

from xml.etree import ElementTree as ET

import numpy as np
import pytest

from protoconch.algae.growth import exponential_per_ml, logistic_per_ml
from protoconch.algae.growth_fit import fitted
from protoconch.pictures.algae_curve import algae_curve
from protoconch.pictures.algae_supply import algae_supply
from protoconch.pictures.algae_vessels import algae_vessels
from protoconch.pictures.lettering import collisions
from tests.pictures.algae_answer import small_answer


def curve_of(name):
    days = np.arange(8.0)
    if name == "exponential":
        cells = exponential_per_ml(days, start_per_ml=2e5, growth_per_d=0.6)
    else:
        cells = logistic_per_ml(days, start_per_ml=4e5, growth_per_d=0.9, peak_per_ml=9e6)
    wobble = np.exp(0.05 * np.cos(3 * days))
    return algae_curve(fitted(days.tolist(), (cells * wobble).tolist(), name), days.tolist(),
                       (cells * wobble).tolist(), [(c * 0.8, c * 1.2) for c in cells])  # fmt: skip


PICTURES = {
    "supply": lambda: algae_supply(small_answer()),
    "starved supply": lambda: algae_supply(small_answer(80.0)),
    "vessels": lambda: algae_vessels(small_answer()),
    "starved vessels": lambda: algae_vessels(small_answer(80.0)),
    "curve": lambda: curve_of("logistic"),
    "young curve": lambda: curve_of("exponential"),
}


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_is_well_formed_and_its_words_do_not_touch(name):
    drawn = PICTURES[name]()
    root = ET.fromstring(drawn.svg)  # noqa: S314
    assert root.get("role") == "img"
    assert collisions(drawn.labels) == []
    assert "nan" not in drawn.svg
    for label in drawn.labels:
        left, top, right, bottom = label.box
        assert left >= -1
        assert right <= drawn.width + 1
        assert top >= -1
        assert bottom <= drawn.height + 1


def test_a_sentence_says_whether_every_day_is_fed():
    assert "If no culture is lost, every day is fed" in algae_supply(small_answer()).meaning
    starved = small_answer(80.0)
    said = algae_supply(starved).meaning
    assert f"{starved.plan.days_short} species-days go short" in said
    assert f"{starved.sure.sureness.met:.0%} of all days" in said


def test_each_culture_has_its_bar():
    answer = small_answer()
    drawn = algae_vessels(answer)
    key = len(answer.demand.species)
    bars = drawn.svg.count("fill-opacity") - key
    assert len(answer.plan.lives) <= bars <= 2 * len(answer.plan.lives)


def test_the_curve_says_the_growth_it_was_given():
    assert "It grows 0.89 a day" in curve_of("logistic").meaning
    assert "levels off at" in curve_of("logistic").meaning
    assert "no slowing yet" in curve_of("exponential").meaning
