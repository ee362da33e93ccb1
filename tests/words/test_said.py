"""Texts that are said again in another language keep their English and their values."""

import copy
import json
import pickle
from collections.abc import Iterator
from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as some

from protoconch.units import text
from protoconch.units.preferred import QUANTITIES, measured, shown
from protoconch.words import (
    ENGLISH,
    Amount,
    Reader,
    Spoken,
    begun,
    counted,
    day_text,
    from_plain,
    joined,
    listed,
    read_by,
    say,
    to_plain,
)  # fmt: skip

SPANISH = {
    "large tank": "tanque grande",
    "{tank} holds {litres:,.1f} L on {day:%d %B}": "El {day:%d %B}, {tank}: {litres:,.1f} L",
    "%d %B": "%d de %B", "May.": "mayo.", "{number} tank": "{number} tanque",
    "{number} tanks": "{number} tanques", "{first} and {last}": "{first} y {last}",
    "1,234.5": "1.234,5",
}  # fmt: skip


@pytest.fixture
def spanish() -> Iterator[Reader]:
    """A reader of a little Spanish, with the marks of Spain."""
    reader = Reader(
        translated=lambda template: SPANISH.get(template, template),
        counted=lambda one, many, number: SPANISH[one if number == 1 else many],
    )
    yield reader
    read_by(lambda: ENGLISH)


def told() -> Spoken:
    return say(
        "{tank} holds {litres:,.1f} L on {day:%d %B}",
        tank=say("large tank"), litres=12345.67, day=date(2027, 5, 3),
    )  # fmt: skip


def test_a_text_is_english_until_somebody_reads_it_in_another_language(spanish: Reader) -> None:
    said = told()
    assert str(said) == "large tank holds 12,345.7 L on 03 May"
    read_by(lambda: spanish)
    assert str(said) == f"{said}" == "El 03 de mayo, tanque grande: 12.345,7 L"
    assert said == "large tank holds 12,345.7 L on 03 May"  # as a key it stays what it was


def test_parts_stay_in_their_readers_words(spanish: Reader) -> None:
    whole = joined([told(), counted(2, "{number} tank", "{number} tanks")], "; ")
    names = listed(["a", say("large tank"), "c"])
    glued = "1. " + told()
    read_by(lambda: spanish)
    assert str(whole) == "El 03 de mayo, tanque grande: 12.345,7 L; 2 tanques"
    assert str(names) == "a, tanque grande y c"
    assert str(begun(say("large tank"))) == "Tanque grande"
    assert str(glued).startswith("1. El 03 de mayo")


def test_what_was_kept_is_said_again(spanish: Reader) -> None:
    whole = joined([told(), begun(say("large tank")), text(3.5, "L"), "{as typed}"])
    back = from_plain(json.loads(json.dumps(to_plain(whole))))
    assert back == whole
    for other in (copy.deepcopy(whole), pickle.loads(pickle.dumps(whole)), back):  # noqa: S301
        read_by(lambda: ENGLISH)
        assert str(other) == str(whole)
        read_by(lambda: spanish)
        assert str(other) == str(whole) != whole


def test_a_moment_may_be_told_alone(spanish: Reader) -> None:
    said = day_text(datetime(2027, 5, 3, 7, 40, tzinfo=UTC), "%d %B")
    read_by(lambda: spanish)
    assert str(said) == "03 de mayo"


@given(some.floats(-1e9, 1e9), some.sampled_from(["L", "°C", "g", "kg", "L/min", "cells/mL"]))
def test_units_of_a_site_go_there_and_back(value: float, unit: str) -> None:
    everything = frozenset(QUANTITIES)
    found = shown(unit, everything)
    if found is not None:
        assert found.back(found.of(value)) == pytest.approx(value, rel=1e-9, abs=1e-6)
    assert measured(value, unit, frozenset()) == (value, unit)


def test_us_units_are_those_of_the_standard() -> None:
    """NIST Special Publication 811 (2008), appendix B.8: gal (US), oz (avoirdupois), °F."""
    everything = frozenset(QUANTITIES)
    assert measured(3.785411784, "L", everything) == (pytest.approx(1), "US gal")
    assert measured(28.349523125, "g", everything) == (pytest.approx(1), "oz")
    assert measured(0.45359237, "kg", everything) == (pytest.approx(1), "lb")
    assert measured(28.0, "°C", everything) == (pytest.approx(82.4), "°F")
    reader = Reader(measured=lambda value, unit, _: measured(value, unit, everything))
    assert Amount.of(400, "L", 4).spoken(reader) == "105.7 US gal"
