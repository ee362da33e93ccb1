"""The water path drawn: nothing lost, nothing on top of anything, numbers as they are."""

from collections import Counter
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.hatchery.waterworks_reading import demo_waterworks
from protoconch.pictures.drawing import Picture
from protoconch.pictures.lettering import collisions
from protoconch.pictures.store_level import store_level
from protoconch.pictures.water_layout import ring_joints, water_layout
from protoconch.pictures.water_path import numbered, water_path, water_path_phone
from protoconch.waterworks.assessment import Assessment, assessment
from protoconch.waterworks.description import Waterworks
from tests.pictures.markup import parsed
from tests.waterworks.made_up_networks import changed, generated, small

DAY = date(2027, 6, 1)


@pytest.fixture(scope="module")
def seen() -> Assessment:
    return assessment(demo_waterworks(), first=DAY)


def words(picture: Picture) -> str:
    return " ".join(label.words.replace("\N{NO-BREAK SPACE}", " ") for label in picture.labels)


@pytest.mark.parametrize("draw", [water_path, water_path_phone])
def test_every_place_part_flow_dose_and_pressure_is_on_it(draw: object, seen: Assessment) -> None:
    picture = draw(seen)  # type: ignore[operator]
    parsed(picture.svg)
    said = words(picture)
    network = seen.waterworks.network
    inside = {name for ring in ring_joints(network) for name in ring}
    for part in network.parts:
        if not {part.start, part.end} <= inside:
            assert part.name.split()[0] in said
    for place in network.places:
        if place.kind != "joint":
            assert place.name in said
    assert "49.9 mJ/cm²" in said
    assert "209 kPa" in said
    assert "72.3 L/min" in said
    assert "ring main" in said
    assert "back to tray sump" in said


@pytest.mark.parametrize("draw", [water_path, water_path_phone])
def test_no_words_touch_and_none_leave_the_sheet(draw: object, seen: Assessment) -> None:
    picture = draw(seen)  # type: ignore[operator]
    assert collisions(picture.labels) == []
    for label in picture.labels:
        left, top, right, foot = label.box
        assert 0 <= left < right <= picture.width
        assert 0 <= top < foot <= picture.height


def test_the_phone_drawing_fits_a_phone(seen: Assessment) -> None:
    assert water_path_phone(seen).width <= 360
    assert water_path(seen).width > 700


@settings(max_examples=15)
@given(st.integers(3, 40), st.integers(0, 10**6))
def test_no_two_things_stand_in_one_spot_whatever_the_network(parts: int, seed: int) -> None:
    network = generated(parts, seed)
    items = water_layout(network)
    spots = Counter((item.group, item.row, round(item.column, 3)) for item in items)
    assert max(spots.values()) == 1
    drawn = {name for item in items for name in item.names}
    inside = {name for ring in ring_joints(network) for name in ring}
    for part in network.parts:
        assert part.name in drawn or {part.start, part.end} <= inside
    assert {place.name for place in network.places} <= drawn
    rows = {item.key: item for item in items}
    for item in items:
        for key in item.feeds:
            assert rows[key].row > item.row or rows[key].group != item.group


def test_the_ring_is_found_and_a_tree_has_none() -> None:
    (ring,) = ring_joints(demo_waterworks().network)
    assert ring == {"ring west", "ring north", "ring east", "ring south"}
    assert ring_joints(small()) == ()


def test_each_heavy_finding_is_marked_where_it_is() -> None:
    bad = changed(changed(small(), "way around", shut=False), "main", material="copper")
    judged = assessment(Waterworks(bad), first=DAY)
    marks = numbered(judged.findings)
    assert "main" in marks
    assert "way around" in marks
    picture = water_path(judged)
    assert words(picture).split().count(str(marks["main"][0])) >= 1
    assert "To put right" in picture.meaning or "things want putting right" in picture.meaning


def test_a_long_or_hostile_name_stays_inside_and_harms_nothing() -> None:
    name = "<script>alert('x')</script>" * 3
    network = changed(small(), "main", name=name)
    picture = water_path(assessment(Waterworks(network), first=DAY))
    assert "<script>" not in picture.svg
    parsed(picture.svg)
    assert collisions(picture.labels) == []


def test_the_sentence_counts_new_water_only(seen: Assessment) -> None:
    assert water_path(seen).meaning.startswith("72 L/min of new water reach 5 of 5 tanks")


def test_the_store_is_drawn_between_empty_and_full(seen: Assessment) -> None:
    keeping, store = seen.waterworks.keeping, seen.store
    assert keeping is not None
    assert store is not None
    picture = store_level(keeping, store)
    parsed(picture.svg)
    assert collisions(picture.labels) == []
    assert "Fill by 1 Jun 2027" in picture.meaning
    still = replace(store, fill=replace(store.fill, by=None))
    assert "no fill is needed" in store_level(keeping, still).meaning
    idle = replace(store, fill=replace(store.fill, pump_hours=None, overdue=True))
    assert "moves nothing. That day is past" in store_level(keeping, idle).meaning
