"""The pictures of the algae room: well formed, legible, and true to their numbers."""

from datetime import UTC, datetime, timedelta
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from protoconch.algae.chain.culture_curve import LoggedCount, culture_curve
from protoconch.algae.growth import exponential_per_ml, logistic_per_ml
from protoconch.hatchery.algae_vessels import demo_algae_room
from protoconch.pictures.algae_curve import algae_curve
from protoconch.pictures.algae_supply import algae_supply
from protoconch.pictures.algae_vessels import algae_vessels
from protoconch.pictures.lettering import collisions
from tests.pictures.algae_answer import small_answer

BEGUN = datetime(2027, 5, 1, 8, tzinfo=UTC)


def curve_of(name, number):
    """A culture of a carboy with so many counts, one a day."""
    days = np.arange(float(number))
    if name == "growing":
        cells = exponential_per_ml(days, start_per_ml=9e5, growth_per_d=0.6)
    elif name == "levelling":
        cells = logistic_per_ml(days, start_per_ml=8e5, growth_per_d=0.9, peak_per_ml=9e6)
    else:
        cells = exponential_per_ml(days, start_per_ml=9e5, growth_per_d=-0.9)
    cells = cells * np.exp(0.05 * np.cos(3 * days))
    counts = [LoggedCount(BEGUN + timedelta(days=day), n, 0.8 * n, 1.25 * n)
              for day, n in zip(days.tolist(), cells.tolist(), strict=True)]  # fmt: skip
    now = BEGUN + timedelta(days=max(1, number))
    grown = culture_curve(demo_algae_room().room, "t-iso", "carboy", BEGUN, counts, now=now)
    return algae_curve(grown)


PICTURES = {
    "supply": lambda: algae_supply(small_answer()),
    "starved supply": lambda: algae_supply(small_answer(80.0)),
    "vessels": lambda: algae_vessels(small_answer()),
    "starved vessels": lambda: algae_vessels(small_answer(80.0)),
    "curve": lambda: curve_of("levelling", 9),
    "young curve": lambda: curve_of("growing", 6),
    "dying curve": lambda: curve_of("dying", 7),
    "two counts": lambda: curve_of("growing", 2),
    "one count": lambda: curve_of("growing", 1),
    "no count": lambda: curve_of("growing", 0),
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


def test_each_count_is_a_dot_and_the_curve_says_its_sentence():
    for name, number in (("levelling", 9), ("growing", 2), ("growing", 1), ("growing", 0)):
        assert curve_of(name, number).svg.count("<circle") == number
    assert "By 9 counts it grows 0.8" in curve_of("levelling", 9).meaning
    assert "It was not counted yet" in curve_of("growing", 0).meaning
    assert "It is dying" in curve_of("dying", 7).meaning
