"""The waterworks part of a hatchery file: read whole, or refused with every fault and its line."""

import contextlib
import re
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.errors import BadFile, BadInput, MissingInput
from protoconch.hatchery.file_text import file_text
from protoconch.hatchery.waterworks_reading import (
    demo_waterworks,
    demo_waterworks_text,
    hatchery_heading,
    read_waterworks,
    waterworks_in,
)
from protoconch.sources.reading_toml import parse
from protoconch.waterworks.description import Waterworks
from protoconch.waterworks.network.parts import Cartridge, Pipe, Pump, Uv, Valve

TEXT = demo_waterworks_text()


def refused(text: str) -> BadFile:
    with pytest.raises(BadFile) as refusal:
        waterworks_in(text, "made-up.toml")
    return refusal.value


def line_of(needle: str, text: str = TEXT) -> int:
    return text[: text.index(needle)].count("\n") + 1


def test_the_invented_waterworks_is_read_whole() -> None:
    found = demo_waterworks()
    network = found.network
    assert {type(part) for part in network.pressed} == {Cartridge, Pipe, Pump, Uv, Valve}
    assert len(network.parts) == TEXT.count("[[waterworks.parts]]")
    assert len(network.places) == TEXT.count("[[waterworks.places]]")
    assert network.water.temperature_c == 28
    assert found.keeping is not None
    assert found.keeping.store.full_l == pytest.approx(18_000)
    assert found.keeping.fill_pump == "intake pump"
    five = network.part("5 µm stage")
    assert isinstance(five, Cartridge)
    assert 0.8 < five.stage.loaded < 1
    assert [loop.name for loop in found.loops] == ["tray loop"]
    assert len(found.stocked) == 3
    assert len(found.loads) == 4
    assert any("flow factor" in sentence for sentence in found.assumed)


def test_the_example_says_that_it_is_invented() -> None:
    assert "does not exist" in TEXT
    assert "Nothing here describes a real site" in TEXT


WRONG = [
    ('curve = "0:18, 60:17,', 'curve = "0:18, 60:19,', "heads of the pump curve must fall"),
    ('size = 2\nlength = "35 m"', 'size = 7\nlength = "35 m"', "of nominal size 7 in"),
    ('length = "35 m"', 'length = "35 kg"', "measures something else"),
    ('length = "35 m"', "lenght = 35", "length is missing in intake line"),
    ('length = "35 m"', "lenght = 35", "Did you mean length?"),
    ("fittings = { strainer = 1, elbow = 4, entrance = 1 }", "fittings = { elbwo = 4 }",
     "elbwo is not known. Did you mean elbow?"),
    ("fittings = { strainer = 1, elbow = 4, entrance = 1 }", "fittings = { elbow = -4 }",
     "must be a whole number from 0 to 1,000"),
    ("fittings = { strainer = 1, elbow = 4, entrance = 1 }", "fittings = 4", "{ elbow = 3 }"),
    ('to = "shore joint"', 'to = "shore jiont"', "leads to shore jiont, but there is no such"),
    ('kind = "sea"', 'kind = "see"', "must be one of sea, reservoir"),
    ('name = "behind 25"\nkind', 'name = "behind 100"\nkind', "Two places are called behind 100."),
    ("salinity = 35", "salinity = 350", "outside 0 to 42"),
    ('volume = "18 m3" ', 'volume = "8 m3"  ', "above the usable volume of 8,000 L"),
    ('fill_pump = "intake pump"', 'fill_pump = "no pump"', "There is no pump called no pump"),
    ('place = "reservoir"', 'place = "sea"', "There is no place of kind reservoir called sea"),
    ('drop_flow = "17 US gal/min"', "", "give drop and drop_flow together"),
    ("shut = true", 'shut = "yes"', "shut must be true or false"),
    ('code = "L"', 'code = "Q"', "There is no motor code 'Q' here"),
    ('curve = "0:18, 60:17, 120:13.5, 160:9, 190:4"', "curve = 5", "must be text in quotes"),
    ('curve = "0:18, 60:17, 120:13.5, 160:9, 190:4"', 'curve = "0 18"', "must be pairs as in"),
    ('[waterworks.reservoir]\nplace', '[waterworks.reservior]\nplace', "reservior is not known"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "sentence"), WRONG)
def test_each_fault_is_told_in_a_sentence_at_its_line(old: str, new: str, sentence: str) -> None:
    assert old in TEXT
    found = refused(TEXT.replace(old, new, 1))
    assert sentence in str(found)
    assert all(problem.line >= 1 for problem in found.problems)
    assert all(problem.sentence.endswith((".", "?")) for problem in found.problems)


def test_all_faults_are_told_at_once_with_their_lines() -> None:
    text = TEXT.replace('length = "35 m"', 'length = "-35 m"', 1)
    text = text.replace('uvc_power = "45 W"', 'uvc_power = "lots"', 1)
    found = refused(text)
    lines = {problem.line for problem in found.problems}
    assert {line_of('length = "-35 m"', text), line_of('uvc_power = "lots"', text)} <= lines


def test_a_file_without_waterworks_or_with_an_empty_one_is_refused() -> None:
    with pytest.raises(MissingInput, match=r"has no \[waterworks\]"):
        waterworks_in("[hatchery]\nname = 'x'\n", "x.toml")
    assert read_waterworks(parse("[hatchery]\n", "x.toml")) is None
    assert "[[waterworks.places]]" in str(refused("[waterworks]\ntemperature = 28\nsalinity = 35"))
    assert "headed [waterworks]" in str(refused("waterworks = 5"))
    assert "once for each" in str(
        refused("[waterworks]\ntemperature = 28\nsalinity = 35\nplaces = 5")
    )
    assert "not valid TOML" in str(refused("[waterworks\n"))


def test_a_file_that_is_not_there_or_no_text_is_refused(tmp_path: Path) -> None:
    with pytest.raises(MissingInput, match="There is no file"):
        file_text(tmp_path / "nowhere.toml")
    bad = tmp_path / "bad.toml"
    bad.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadInput, match="UTF-8"):
        file_text(bad)
    with pytest.raises(BadInput, match="cannot be read"):
        file_text(tmp_path)


def test_the_heading_names_the_hatchery_where_there_is_one() -> None:
    assert hatchery_heading('[hatchery]\nname = "A"\ninvented = true', "f.toml") == ("A", True)
    assert hatchery_heading("[waterworks]", "f.toml") == ("f.toml", False)


LINES = TEXT.splitlines()


@settings(max_examples=60)
@given(st.data())
def test_any_change_of_the_file_gives_a_waterworks_or_a_refusal(data: st.DataObject) -> None:
    lines = list(LINES)
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(lines) - 1))
        lines[at] = data.draw(
            st.sampled_from(["", lines[at] * 2, lines[at][::-1]])
            | st.just(re.sub(r"\d+", "-7", lines[at]))
            | st.just(re.sub(r'"[^"]*"', '"?"', lines[at]))
            | st.just(re.sub(r"= .*", "= [1, {a = 2}]", lines[at]))
            | st.just(re.sub(r"= .*", "= 1e308", lines[at]))
            | st.just(re.sub(r"\d+", "0", lines[at]))
        )
    text = "\n".join(lines)
    with contextlib.suppress(BadFile, MissingInput):  # anything else fails the test
        assert isinstance(waterworks_in(text, "any.toml"), Waterworks)
        tomllib.loads(text)
