"""The hatchery file: what is read from it."""

import math
from datetime import date
from pathlib import Path

import pytest

from protoconch.animals.profiles import species
from protoconch.errors import BadFile, BadInput
from protoconch.hatchery.description import Genetics, LarvalTank, NurseryTank, Prices, Target, Tray
from protoconch.hatchery.reading import demo_hatchery, demo_text, load_hatchery, read_hatchery
from tests.hatchery.typed import (
    DEMO,
    MADE_UP,
    OWN,
    TEMPERATURES,
    changed,
    hatchery_of,
)


def test_the_demonstration_is_read_and_says_that_it_is_invented():
    demonstration = demo_hatchery()
    assert demonstration.invented
    assert "does not exist" in demonstration.place
    assert "invented" in demo_text().splitlines()[0]
    assert demonstration.target is not None
    assert demonstration.notes == ()


def test_a_whole_file_is_read_as_it_is_written():
    hatchery = read_hatchery(DEMO, "mine.toml")
    assert hatchery.species == "queen-conch"
    assert hatchery.regime == "well_fed"
    assert hatchery.larval_tanks == (LarvalTank("large", 6, 400), LarvalTank("small", 2, 200))
    assert hatchery.trays == (Tray("tray", 30, 3600),)
    assert hatchery.nursery == (NurseryTank("raceway", 10, 3.5),)
    assert hatchery.crew_hours == (9, 9, 9, 9, 9, 4, 4)
    assert hatchery.permit.months == (4, 5, 6, 7, 8, 9)
    assert hatchery.genetics == Genetics(15, 0.15)
    assert hatchery.target == Target(1200, 80, date(2028, 10, 31), 0.8)
    assert (hatchery.first_day, hatchery.last_day) == (date(2027, 4, 1), date(2027, 8, 31))
    assert hatchery.notes == ()


@pytest.mark.parametrize(
    ("typed", "litres"),
    [
        ("400", 400),
        ('"400 L"', 400),
        ('"0.4 m3"', 400),
        ('"105.7 US gal"', 400.12),
        ('"88 imp gal"', 400.06),
        ('"1,200 L"', 1200),
    ],
)
def test_a_volume_may_carry_its_unit(typed, litres):
    tank = hatchery_of(('volume = "400 L"', f"volume = {typed}")).larval_tanks[0]
    assert tank.litres == pytest.approx(litres, rel=1e-4)


@pytest.mark.parametrize(
    ("typed", "cm2"),
    [
        ('size = "60 x 40 cm"', 2400),
        ('size = "60x40cm"', 2400),
        ('size = "0.6 × 0.4 m"', 2400),
        ('size = "60 cm x 400 mm"', 2400),
        ('size = "2 x 1.5 ft"', 2 * 1.5 * 30.48**2),
        ("area = 2400", 2400),
        ('area = "0.24 m2"', 2400),
        ('diameter = "50 cm"', math.pi / 4 * 2500),
    ],
)
def test_a_floor_may_be_given_as_area_sides_or_diameter(typed, cm2):
    assert hatchery_of(('size = "60 x 60 cm"', typed)).trays[0].area_cm2 == pytest.approx(cm2)


def test_a_nursery_floor_without_unit_is_in_square_metres():
    assert hatchery_of(('area = "3.5 m2"', "area = 4")).nursery[0].area_m2 == 4
    round_tank = hatchery_of(('area = "3.5 m2"', 'diameter = "2 m"')).nursery[0]
    assert round_tank.area_m2 == pytest.approx(math.pi)


@pytest.mark.parametrize(
    "typed",
    [
        '"26.5 26.5 26.8 27.4 28.2 28.9 29.3 29.5 29.2 28.6 27.8 27.0"',
        '"26.5, 26.5, 26.8, 27.4, 28.2, 28.9, 29.3, 29.5, 29.2, 28.6, 27.8, 27.0 °C"',
        '["79.7 °F", 26.5, 26.8, 27.4, 28.2, 28.9, 29.3, 29.5, 29.2, 28.6, 27.8, "27 °C"]',
    ],
)
def test_monthly_temperatures_may_be_a_list_or_one_text(typed):
    hatchery = hatchery_of((TEMPERATURES, f"temperature = {typed}"))
    assert hatchery.temperature_c == pytest.approx(MADE_UP.temperature_c)


@pytest.mark.parametrize(
    ("typed", "months"),
    [
        ('"April to September"', (4, 5, 6, 7, 8, 9)),
        ('"apr-jun, Sept."', (4, 5, 6, 9)),
        ('["April", "June"]', (4, 6)),
        ("[6, 4, 4]", (4, 6)),
        ('"November to April"', (1, 2, 3, 4, 11, 12)),
        ("5", (5,)),
        ('"4-6"', (4, 5, 6)),
    ],
)
def test_permit_months_may_be_names_numbers_and_ranges(typed, months):
    assert hatchery_of(('"April to September"', typed)).permit.months == months


def test_hours_may_be_given_by_day_or_by_range():
    hatchery = hatchery_of(("monday-friday = 9", 'mon-wed = "8 h"\nthu = 6.5\nfriday = "90 min"'))
    assert hatchery.crew_hours == (8, 8, 8, 6.5, 1.5, 4, 4)


def test_many_hands_may_work_more_hours_than_a_day_has():
    assert hatchery_of(("people = 2", "people = 4"), ("= 9", "= 32")).crew_hours[0] == 32


def test_days_may_be_dates_or_texts():
    assert hatchery_of(("2027-04-01", '"2027-04-01"')) == MADE_UP


def test_a_share_may_be_typed_as_per_cent():
    assert hatchery_of(('"80 %"', "0.8")) == MADE_UP


def test_what_is_optional_may_be_left_out():
    text = DEMO[: DEMO.index("[genetics]")] + DEMO[DEMO.index("[season]") : DEMO.index("[target]")]
    text = text.replace('regime = "well_fed"', "").replace("people = 2", "")
    hatchery = read_hatchery(text, "mine.toml")
    assert hatchery.target is None
    assert hatchery.regime == species("queen-conch").regimes[0]
    assert hatchery.genetics == Genetics(15, 0.15)


def test_the_hatcherys_own_number_stands_under_its_name_with_the_log_as_source():
    for head in ('[own."veliger.survival"]', "[own.veliger.survival]"):
        hatchery = read_hatchery(DEMO + OWN.replace('[own."veliger.survival"]', head), "mine.toml")
        own = hatchery.own_values["veliger.survival"]
        assert (own.number, own.source, own.confidence) == (0.4, "own-log", "own")


def test_an_own_number_may_cite_a_publication():
    more = 'source = "berg-1976"\nconfidence = "memory"\n'
    own = read_hatchery(DEMO + OWN + more, "mine.toml").own_values["veliger.survival"]
    assert (own.source, own.confidence) == ("berg-1976", "memory")


def test_a_permit_outside_the_laying_months_is_noted_and_not_refused():
    hatchery = hatchery_of(("queen-conch", "milk-conch"))
    assert any("June, July, August, September" in note for note in hatchery.notes)


def test_a_permit_too_small_for_variety_is_noted():
    notes = hatchery_of(("egg_masses = 24", "egg_masses = 5")).notes
    assert any("fewer than the 15" in note for note in notes)
    assert any("cannot stay at or below 0.15" in note for note in notes)


def test_a_file_is_loaded_with_its_name_in_the_sentences(tmp_path: Path):
    path = tmp_path / "mine.toml"
    path.write_text("\ufeff" + DEMO.replace("\n", "\r\n"), encoding="utf-8")
    assert load_hatchery(path) == load_hatchery(str(path)) == MADE_UP
    path.write_text(changed(("28.2", "282")), encoding="utf-8")
    with pytest.raises(BadFile, match=r"mine\.toml, line 16: "):
        load_hatchery(path)


def test_a_file_that_cannot_be_read_is_told_in_a_sentence(tmp_path: Path):
    with pytest.raises(BadInput, match="There is no file"):
        load_hatchery(tmp_path / "none.toml")
    with pytest.raises(BadInput, match="cannot be read"):
        load_hatchery(tmp_path)
    path = tmp_path / "old.toml"
    path.write_bytes(DEMO.encode("utf-16"))
    with pytest.raises(BadFile, match="not in UTF-8"):
        load_hatchery(path)


def test_prices_are_read_where_they_are_given_and_the_hour_cannot_be_left_out():
    assert read_hatchery(DEMO, "mine.toml").prices is None
    given = '\n[prices]\ncurrency = "BSD"\ncrew_hour = 15\nalgae_dry_g = 2.5\n'
    assert read_hatchery(DEMO + given, "mine.toml").prices == Prices("BSD", 15, 2.5)
    with pytest.raises(BadFile, match="crew_hour is missing"):
        read_hatchery(DEMO + given.replace("crew_hour = 15\n", ""), "mine.toml")
