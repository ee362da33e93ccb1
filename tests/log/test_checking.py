"""What is refused at the door, what is asked about, and what passes without a word."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings

from protoconch.animals.profiles import species
from protoconch.hatchery.vessels import vessel
from protoconch.log.checking import expected_range, judged
from protoconch.log.fold import as_corrected, fold
from tests.strategies import FIRST, HATCHERY, entry, logs

CONCH = species("queen-conch")
DAY = 24 * 60.0
PAST = [
    entry("egg mass collected", "", {"mass": "M1", "eggs": 300_000}, number=1),
    entry("incubator loaded", "incubator 1", {"batch": "27A", "masses": ["M1"]}, number=2),
    entry("hatched", "incubator 1", {"batch": "27A"}, minutes=4 * DAY, number=3),
    entry("stocked", "large tank 1", {"batch": "27A", "animals": 36_000}, minutes=4 * DAY + 60,
          number=4),
    entry("measured", "large tank 1", {"mean_mm": 0.5, "sd_mm": 0.05, "animals": 30},
          minutes=9 * DAY, number=5),
    entry("stocked", "large tank 2", {"batch": "27B", "animals": 30_000}, minutes=9 * DAY,
          number=6),
    entry("moved", "large tank 2", {"to": ["tray 1", "tray 2"], "animals": 30_000},
          minutes=9.1 * DAY, number=7),
    entry("stocked", "small tank 1", {"batch": "27C", "animals": 1000}, minutes=9 * DAY, number=8),
    entry("moved", "small tank 1", {"to": ["raceway 1"]}, minutes=9.1 * DAY, number=9),
    entry("measured", "raceway 1", {"mean_mm": 20}, minutes=9.2 * DAY, number=10),
    entry("inoculated", "carboy 1", {"species": "t-iso", "litres": 18}, minutes=1, number=11),
    entry("read", "reservoir", {"quantity": "level", "value": 3000}, minutes=9 * DAY, number=12),
    entry("received", "", {"item": "f/2 stock", "amount": 500, "unit": "mL"}, number=13),
]  # fmt: skip
STATE = fold(PAST, HATCHERY)
FULL = vessel(HATCHERY, "reservoir").size

REFUSED = [
    ("counted", "large tank 1", {"aliquots": [9], "aliquot_ml": 5, "litres": 900}, "holds 400 L"),
    ("counted", "large tank 1", {"animals": 90_000_000}, "do not fit"),
    ("counted", "tray 1", {"animals": 5_000_000}, "do not fit"),
    ("counted", "large tank 1", {"aliquots": [9, 9], "aliquot_ml": 600, "litres": 1}, "aliquot"),
    ("stocked", "large tank 3", {"batch": "27A", "animals": 90_000_000}, "do not fit"),
    ("measured", "large tank 1", {"mean_mm": 300}, "1000 µm are 1 mm"),
    ("released", "raceway 1", {"animals": 2000}, "has 1,000 alive"),
    ("released", "raceway 2", {"animals": 1}, "holds no animals"),
    ("settled", "tray 1", {"animals": 9, "offered": 3}, "9 settled of 3"),
    ("graded", "raceway 1", {"classes": [{"from_mm": 9, "to_mm": 3, "animals": 5}]},
     "first number is the smaller"),
    ("egg mass collected", "", {"mass": "M1"}, "another label"),
    ("fed", "large tank 1", {"foods": [{"food": "t-iso", "litres": 500}]}, "do not go into"),
    ("inoculated", "carboy 2", {"species": "t-iso", "litres": 90}, "holds 20 L"),
    ("inoculated", "carboy 2", {"species": "t-iso", "litres": 9, "inoculum_l": 10}, "more than"),
    ("harvested", "carboy 1", {"litres": 90}, "holds 20 L"),
    ("culture counted", "carboy 1", {"chamber": "Noibauer", "loadings": [9]}, "Did you mean Neub"),
    ("read", "reservoir", {"quantity": "temperature", "value": 99}, "lies between -2 and 45 °C"),
    ("used", "", {"item": "f/2 stock", "amount": 3, "unit": "kg"}, "kept in mL"),
    ("moved", "large tank 1", {"to": ["tank 99"]}, "no tank 99"),
    ("moved", "large tank 1", {"to": ["carboy 2"]}, "needs a larval tank"),
    ("counted", "large tank 77", {"animals": 3}, "Did you mean large tank"),
    ("counted", "carboy 1", {"animals": 3}, "cannot happen in carboy 1"),
]  # fmt: skip
ASKED = [
    ("counted", "large tank 1", {"animals": 400}, "a digit too many or too few"),
    ("counted", "large tank 1", {"animals": 500_000}, "a digit too many or too few"),
    ("counted", "large tank 4", {"animals": 400}, "is empty by the log"),
    ("counted", "large tank 1", {"animals": 90_000}, "as crowded as is usual"),
    ("measured", "large tank 1", {"mean_mm": 0.3}, "shells do not shrink"),
    ("measured", "raceway 1", {"mean_mm": 200}, "usually has"),
    ("measured", "large tank 1", {"mean_mm": 4}, "usually has"),
    ("stocked", "large tank 1", {"batch": "27B", "animals": 9}, "still holds 36,000"),
    ("stocked", "large tank 2", {"batch": "27B", "animals": 9}, "was not cleaned"),
    ("stocked", "large tank 3", {"batch": "27X", "animals": 9}, "knows no batch 27X"),
    ("stocked", "large tank 3", {"batch": "27A", "animals": 100_000}, "250 per litre"),
    ("thinned", "large tank 1", {"kept": 60_000}, "has 36,000 alive"),
    ("thinned", "large tank 1", {"kept": 30_000, "removed": 30_000}, "has 36,000 alive"),
    ("moved", "large tank 1", {"to": ["tray 1"], "animals": 60_000}, "has 36,000 alive"),
    ("moved", "large tank 1", {"to": ["tray 1"]}, "lose their parents"),
    ("lost", "raceway 1", {"animals": 5000}, "has 1,000 alive"),
    ("hatched", "incubator 1", {"batch": "27A"}, "days are usual"),
    ("incubator loaded", "incubator 2", {"batch": "27D", "masses": ["M9"]}, "no egg mass M9"),
    ("egg mass collected", "", {"mass": "M2", "temperature_c": 12}, "on the mean"),
    ("fed", "large tank 1", {"foods": [{"food": "t-iso", "litres": 40, "cells_per_ml": 8e6}]},
     "usual on a day"),
    ("fed", "raceway 1", {"foods": [{"food": "pellets", "grams": 3000}]}, "usual for 1,000"),
    ("fed", "large tank 1", {"foods": [{"food": "t-iso", "litres": 1, "culture": "carboy 5"}]},
     "holds no culture"),
    ("weighed", "raceway 1", {"animals": 10, "grams": 500}, "are usual"),
    ("inoculated", "carboy 1", {"species": "t-iso", "litres": 9}, "still holds t-iso"),
    ("harvested", "carboy 3", {"litres": 9}, "was its start logged"),
    ("culture counted", "carboy 1", {"cells_per_ml": 9e7}, "Is the dilution right"),
    ("read", "reservoir", {"quantity": "salinity", "value": 3.5}, "usual are 20 to 45"),
    ("read", "large tank 1", {"quantity": "temperature", "value": 15}, "usual are"),
    ("read", "reservoir", {"quantity": "level", "value": FULL * 1.5}, "it is full at"),
    ("pumped", "reservoir", {"litres": FULL}, "it is full at"),
    ("drawn", "reservoir", {"litres": 3500}, "read its level"),
    ("used", "", {"item": "f/2 stock", "amount": 3, "unit": "L"}, "Only 500 mL"),
    ("received", "", {"item": "x", "amount": 3, "unit": "g", "expires": "2020-01-01"}, "expired"),
    ("water changed", "large tank 1", {"litres": 2000}, "two fillings"),
]  # fmt: skip
RIGHT = [
    ("counted", "large tank 1", {"aliquots": [3, 2, 4, 3, 2], "aliquot_ml": 50, "litres": 400}),
    ("measured", "large tank 1", {"mean_mm": 0.55, "sd_mm": 0.05, "animals": 30}),
    ("fed", "large tank 1", {"foods": [{"food": "t-iso", "litres": 1, "cells_per_ml": 6e6}]}),
    ("fed", "tray 9", {"foods": [{"food": "navicula", "litres": 1}]}),
    ("released", "raceway 1", {"animals": 1000}),
    ("graded", "raceway 1", {"classes": [{"from_mm": 3, "to_mm": 9, "animals": 1000}]}),
    ("read", "large tank 1", {"quantity": "temperature", "value": 28.1}),
    ("harvested", "carboy 1", {"litres": 9}),
    ("culture counted", "carboy 1", {"cells_per_ml": 6e6}),
    ("note", "", {"text": "calm"}),
    ("stocked", "large tank 3", {"batch": "27A", "animals": 40_000}),
    ("stocked", "raceway 2", {"batch": "27A", "animals": 300}),
]  # fmt: skip


def _verdict(kind, where, payload, minutes=10.5 * DAY):
    return judged(entry(kind, where, payload, minutes=minutes, number=99), STATE, HATCHERY, CONCH)


@pytest.mark.parametrize(("kind", "where", "payload", "words"), REFUSED)
def test_the_impossible_is_refused_with_the_reason(kind, where, payload, words):
    said = " ".join(_verdict(kind, where, payload).refused)
    assert words in said


@pytest.mark.parametrize(("kind", "where", "payload", "words"), ASKED)
def test_the_unlikely_is_asked_about_and_not_refused(kind, where, payload, words):
    verdict = _verdict(kind, where, payload)
    assert words in " ".join(verdict.unlikely)
    assert verdict.refused == ()


@pytest.mark.parametrize(("kind", "where", "payload"), RIGHT)
def test_the_usual_passes_without_a_word(kind, where, payload):
    verdict = _verdict(kind, where, payload)
    assert (verdict.refused, verdict.unlikely) == ((), ())


PERMIT = HATCHERY.permit
SECOND = [
    entry("egg mass collected", "", {"mass": f"N{n}"}, number=200 + n) for n in range(24)
] + [
    entry("culture counted", "carboy 1", {"cells_per_ml": 6e6, "found": "ciliates"},
          minutes=9 * DAY, number=300),
    entry("incubator loaded", "incubator 2", {"batch": "27D", "masses": ["N1"], "eggs": 1000},
          minutes=9 * DAY, number=301),
    entry("read", "tray loop", {"quantity": "pH", "value": 8.0}, minutes=9 * DAY, number=302),
]  # fmt: skip
LATER = fold([*PAST, *SECOND], HATCHERY)


@pytest.mark.parametrize(
    ("kind", "where", "payload", "words"),
    [
        ("egg mass collected", "", {"mass": "M2"}, "allows 24 egg masses in a season; 25 are"),
        ("fed", "large tank 1", {"foods": [{"food": "t-iso", "litres": 1, "culture": "carboy 1"}]},
         "Ciliates were found in carboy 1"),
        ("fed", "large tank 1", {"foods": [{"food": "t-iso", "litres": 30, "culture": "carboy 1"}]},
         "Carboy 1 has 18 L"),
        ("fed", "large tank 4", {"foods": [{"food": "t-iso", "litres": 1}]}, "is empty by the log"),
        ("incubator loaded", "incubator 2", {"batch": "27E", "masses": ["N2"]}, "holds batch 27D"),
        ("incubator loaded", "incubator 3", {"batch": "27E", "masses": ["N1"]}, "into batch 27D"),
        ("hatched", "incubator 2", {"batch": "27E"}, "holds batch 27D, not 27E"),
        ("hatched", "incubator 2", {"batch": "27D", "veligers": 2000}, "from 1,000 eggs"),
        ("inoculated", "carboy 2", {"species": "c-muelleri", "litres": 18, "inoculum_l": 23,
         "source": "carboy 1"}, "holds t-iso, not c-muelleri"),
        ("inoculated", "carboy 2", {"species": "t-iso", "litres": 25, "inoculum_l": 23,
         "source": "carboy 1"}, "Carboy 1 has 18 L by the log"),
        ("inoculated", "carboy 2", {"species": "t-iso", "litres": 2, "inoculum_l": 1,
         "source": "carboy 3"}, "Carboy 3 holds no culture"),
        ("inoculated", "carboy 2", {"species": "t-iso", "litres": 2, "inoculum_l": 1,
         "source": "carboy 1"}, "Ciliates were found in carboy 1"),
        ("harvested", "carboy 1", {"litres": 21.9}, ""),
        ("harvested", "carboy 1", {"litres": 22.6}, "has 18 L by the log"),
        ("culture ended", "carboy 7", {"reason": "crashed"}, "holds no culture"),
        ("counted", "raceway 1", {"animals": 9000}, "as crowded as is usual"),
        ("moved", "large tank 1", {"to": ["large tank 2"]}, "was not cleaned"),
        ("used", "", {"item": "bleach", "amount": 1, "unit": "L"}, "has no bleach in store"),
    ],
)  # fmt: skip
def test_what_the_log_knows_is_asked_about(kind, where, payload, words):
    one = entry(kind, where, payload, minutes=10 * DAY, number=999)
    said = " ".join(judged(one, LATER, HATCHERY, CONCH).unlikely)
    assert (words in said) if words else not said


def test_the_permit_covers_its_months_only():
    months = range(PERMIT.months[0], PERMIT.months[0] + 12)
    for month in (1 + m % 12 for m in months):
        one = entry("egg mass collected", "", {"mass": "M9"}, number=998)
        moved = replace(one, happened=one.happened.replace(month=month))
        told = " ".join(judged(moved, STATE, HATCHERY, CONCH).unlikely)
        assert ("does not cover" in told) is (month not in PERMIT.months)


@pytest.mark.parametrize(("ahead", "refused"), [(14, False), (16, True)])
def test_a_clock_may_be_wrong_by_a_quarter_of_an_hour(ahead, refused):
    one = entry("note", "", {"text": "x"})
    moved = replace(one, happened=one.arrived + timedelta(minutes=ahead))
    assert bool(judged(moved, STATE, HATCHERY, CONCH).refused) is refused


def test_nothing_happened_before_the_hatchery_began():
    one = entry("note", "", {"text": "x"})
    began = FIRST.date() + timedelta(days=1)
    assert "before the hatchery began" in judged(
        one, STATE, HATCHERY, CONCH, began=began).refused[0]  # fmt: skip
    assert judged(one, STATE, HATCHERY, CONCH, began=date(2027, 5, 1)).refused == ()


def test_a_corrected_entry_is_judged_as_any_other():
    one = entry("counted", "large tank 1", {"animals": 400}, minutes=10 * DAY)
    fix = entry("correction", "", {"of": str(one.id), "payload": {"animals": 34_000}}).payload
    assert judged(as_corrected(one, fix), STATE, HATCHERY, CONCH).unlikely == ()


@settings(max_examples=60, deadline=None)
@given(logs(most=8, pointing=2))
def test_every_entry_gets_whole_sentences_and_never_a_crash(log):
    state = fold(log, HATCHERY)
    for one in log:
        verdict = judged(one, state, HATCHERY, CONCH)
        for sentence in verdict.refused + verdict.unlikely:
            assert sentence[0].upper() == sentence[0]
            assert sentence[-1] in ".?"


@pytest.mark.parametrize(
    ("kind", "field", "where", "said"),
    [
        ("counted", "animals", "large tank 1", "last 36,000, usual 3,600 to 36,000"),
        ("measured", "mean_mm", "large tank 1", "last 0.5 mm, usual 0.23 to 2 mm"),
        ("read", "temperature", "reservoir", "usual 20.2 to 36.2 °C"),
        ("read", "level", "reservoir", "last 3,000 L"),
        ("harvested", "litres", "carboy 1", "last 18 L, usual 0 to 18 L"),
        ("stocked", "animals", "large tank 3", "usual 20,000 to 80,000"),
        ("counted", "animals", "large tank 4", ""),
        ("note", "text", "reservoir", ""),
        ("counted", "litres", "large tank 1", "last 400 L, usual 0 to 400 L"),
        ("lost", "animals", "raceway 1", "last 1,000, usual 0 to 1,000"),
        ("lost", "animals", "raceway 2", ""),
        ("measured", "mean_mm", "tray 30", ""),
        ("stocked", "animals", "tray 30", ""),
        ("culture counted", "cells_per_ml", "carboy 2", ""),
        ("culture counted", "cells_per_ml", "carboy 1", "usual 0 to 12,000,000 cells/mL"),
        ("harvested", "litres", "carboy 2", ""),
        ("inoculated", "litres", "carboy 2", "usual 0 to 20 L"),
        ("drawn", "litres", "reservoir", "usual 0 to 3,000 L"),
        ("read", "flow", "reservoir", ""),
    ],
)
def test_a_field_shows_what_was_there_last_and_what_is_usual(kind, field, where, said):
    found = expected_range(kind, field, where, STATE, hatchery=HATCHERY, species=CONCH, when=FIRST)
    assert found.sentence == said


def test_a_pump_has_the_room_that_is_left():
    found = expected_range("pumped", "litres", "reservoir", STATE, hatchery=HATCHERY,
                           species=CONCH, when=FIRST)  # fmt: skip
    assert (found.last, found.low, found.high) == (None, 0, FULL - 3000)
    last = expected_range("read", "pH", "tray loop", LATER, hatchery=HATCHERY, species=CONCH,
                          when=FIRST)  # fmt: skip
    assert last.sentence == "last 8, usual 7.2 to 9"


@pytest.mark.parametrize(("days", "asked"), [(0.9, True), (1, False), (10, False), (10.1, True)])
def test_eggs_hatch_one_to_ten_days_after_they_were_loaded(days, asked):
    said = _verdict("hatched", "incubator 1", {"batch": "27A"}, minutes=days * DAY).unlikely
    assert bool(said) is asked


@pytest.mark.parametrize(("value", "refused"), [(45, False), (45.1, True), (-2, False)])
def test_an_instrument_shows_its_ends(value, refused):
    read = {"quantity": "temperature", "value": value}
    assert bool(_verdict("read", "reservoir", read).refused) is refused
