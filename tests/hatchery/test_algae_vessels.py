"""The algae room in a hatchery file: read, or refused in sentences with their lines."""

import re
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.errors import BadFile, MissingInput
from protoconch.hatchery.algae_vessels import algae_room_in, demo_algae_room

TEXT = """
[algae_room]
temperature = "26.5 °C"
no_start = ["Sunday"]
days_fed = "90 %"

[[algae_room.vessels]]
kind = "flask"
count = 4
volume = "250 mL"

[[algae_room.vessels]]
kind = "carboy"
count = 3
volume = "5 US gal"

[[algae_room.lines]]
species = "t-iso"
through = ["flask", "carboy"]

[algae_room.spare]
flask = 1
"""


def test_the_demo_room_is_sound():
    room = demo_algae_room()
    assert [line.species for line in room.room.lines] == ["t-iso", "c-muelleri", "navicula"]
    assert room.no_start == (6,)
    assert room.days_fed == 0.9


def test_amounts_carry_their_units():
    room = algae_room_in(TEXT, "my.toml").room
    assert room.kind("flask").litres == pytest.approx(0.25)
    assert room.kind("carboy").litres == pytest.approx(18.927, abs=0.001)
    assert room.spare == {"flask": 1}


@pytest.mark.parametrize(
    ("old", "new", "line", "said"),
    [
        ('"t-iso"', '"t-isso"', 18, "Did you mean t-iso"),
        ('["flask", "carboy"]', '["flask", "carbuoy"]', 19, "no vessels carbuoy"),
        ("count = 4", "count = 4.5", 9, "whole number"),
        ("count = 4", "count = -1", 9, "outside 1 to"),
        ('"250 mL"', '"250 kg"', 10, "kg"),
        ("count = 4\n", "", 7, "count is missing"),
        ("flask = 1", "flusk = 1", 22, "no vessels flusk"),
        ("flask = 1", "flask = 99", 22, "outside 0 to 20"),
        ('"26.5 °C"', "60", 3, "outside 5 to 40"),
        ('"26.5 °C"', "38", 18, "does not grow at 38"),
        ('["Sunday"]', '["Sunnday"]', 4, "Sunnday"),
        ('["Sunday"]', '["monday-sunday"]', 4, "something must be started"),
        ("days_fed", "days_feed", 5, "Did you mean days_fed"),
        ('through = ["flask", "carboy"]', 'through = ["flask", "carboy"]\nshare = 0.5', 17,
         "add up to 0.5"),
        ('kind = "carboy"', 'kind = "flask"', 13, "described twice"),
    ],
)  # fmt: skip
def test_a_fault_is_told_with_its_line(old, new, line, said):
    assert old in TEXT
    with pytest.raises(BadFile) as caught:
        algae_room_in(TEXT.replace(old, new, 1), "my.toml")
    assert any(said in problem.sentence for problem in caught.value.problems)
    assert any(problem.line == line for problem in caught.value.problems), str(caught.value)


def test_film_diatoms_have_shares_of_their_own():
    films = '[[algae_room.lines]]\nspecies = "navicula"\nshare = 0.5\nthrough = ["flask"]\n\n'
    with pytest.raises(BadFile, match=r"shares of the film diatoms add up to 0\.5"):
        algae_room_in(TEXT.replace("[algae_room.spare]", films + "[algae_room.spare]"), "my.toml")


def test_all_faults_are_told_together():
    faulty = TEXT.replace("count = 4", "count = -4").replace('"90 %"', '"190 %"')
    with pytest.raises(BadFile) as caught:
        algae_room_in(faulty, "my.toml")
    assert len(caught.value.problems) >= 2


def test_a_file_without_the_room_says_so():
    with pytest.raises(MissingInput, match=re.escape("my.toml has no [algae_room]")):
        algae_room_in("[hatchery]\n", "my.toml")
    with pytest.raises(BadFile):
        algae_room_in("algae_room = 3\n", "my.toml")


@settings(max_examples=150)
@given(st.data())
def test_any_mangled_file_is_read_or_refused(data):
    lines = TEXT.splitlines()
    for _ in range(data.draw(st.integers(1, 3))):
        place = data.draw(st.integers(0, len(lines) - 1))
        key = lines[place].split("=")[0]
        value = data.draw(
            st.sampled_from(["3", '"x"', "[]", "{}", "true", "-1", "1e9", "", '"5 L"'])
        )
        lines[place] = data.draw(st.sampled_from(["", f"{key} = {value}", lines[place] * 2]))
    with suppress(BadFile, MissingInput):
        assert algae_room_in("\n".join(lines), "my.toml").room.vessels > 0
