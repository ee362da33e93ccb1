"""Entries told in plain sentences, whole ones, from one table that can be translated."""

import string
from uuid import UUID

import pytest
from hypothesis import given, settings

from protoconch.log.fold import as_corrected
from protoconch.log.kinds import KINDS
from protoconch.log.sentences import change_sentence, sentence
from protoconch.log.templates import TEMPLATES
from protoconch.words import Reader, listed
from tests.strategies import CONTENT, entry, logs

COUNT = entry("counted", "large tank 2", {"aliquots": [2, 3, 2, 1, 4], "aliquot_ml": 27.35,
              "litres": 400})  # fmt: skip


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (COUNT, "Crew A counted large tank 2: about 35,100 alive (18,100 to 61,300)."),
        (entry("counted", "tray 1", {"animals": 1234, "note": "pale"}),
         "Crew A counted tray 1: 1,234 alive, all of them counted. Note: pale"),
        (entry("moved", "large tank 1", {"to": ["tray 1", "tray 2", "tray 3"]}),
         "Crew A moved all animals of large tank 1 to tray 1, tray 2 and tray 3."),
        (entry("graded", "raceway 1", {"classes": [
            {"from_mm": 5, "to_mm": 9, "animals": 40, "to": "raceway 2"},
            {"from_mm": 9, "to_mm": 20, "animals": 3}]}),
         "Crew A graded raceway 1: 40 of 5 to 9 mm into raceway 2 and 3 of 9 to 20 mm."),
        (entry("lost", "raceway 1", {"cause": "no air"}),
         "Crew A lost all animals of raceway 1: no air."),
        (entry("released", "raceway 1", {"animals": 90, "site": "the north bank"}),
         "Crew A released 90 animals of raceway 1 at the north bank."),
        (entry("read", "tray loop", {"quantity": "temperature", "value": 27.46}),
         "Crew A read a temperature of 27.5 °C in tray loop."),
        (entry("fed", "tray 1", {"foods": [{"food": "t-iso", "litres": 3.2}, {"food": "pellets",
               "grams": 12}]}), "Crew A fed tray 1: 3.2 L of t-iso and 12 g of pellets."),
        (entry("culture counted", "carboy 1", {"chamber": "Neubauer", "loadings": [200, 190]}),
         "Crew A counted carboy 1: 488,000 cells/mL (422,000 to 563,000)."),
        (entry("received", "", {"item": "f/2 stock", "amount": 2, "unit": "L",
               "expires": "2028-01-02"}),
         "Crew A received 2 L of f/2 stock, to be used by 2028-01-02."),
        (entry("harvested", "carboy 1", {"litres": 9}),
         "Crew A drew 9 L of culture from carboy 1."),
        (entry("done", "", {"work": "siphon", "skipped": True}),
         "Crew A skipped the work 'siphon'."),
    ],
)  # fmt: skip
def test_an_entry_reads_as_one_would_say_it(one, said):
    assert sentence(one) == said


def test_a_correction_says_what_was_and_what_is():
    fix = entry("correction", "", {"of": str(COUNT.id), "where": "large tank 3", "payload": {
        "aliquots": [2, 3, 2, 1, 40], "aliquot_ml": 27.35, "litres": 400}}, who="the manager",
        number=2)  # fmt: skip
    assert change_sentence(fix, COUNT) == (
        "The manager corrected what crew A wrote on 01 May 2027, 08:00: the place was large tank 2,"
        " is large tank 3 and the count of each aliquot was 2, 3, 2, 1, 4, is 2, 3, 2, 1, 40."
    )
    back = entry("correction", "", {"of": str(COUNT.id), "withdraw": True}, number=3)
    assert change_sentence(back, COUNT).startswith("Crew A took back what crew A wrote")
    yes = entry("confirmed", "", {"of": str(COUNT.id)}, number=4)
    assert "confirmed what crew A wrote" in change_sentence(yes, COUNT)
    assert as_corrected(COUNT, fix.payload).where == "large tank 3"


@settings(max_examples=100, deadline=None)
@given(logs())
def test_every_entry_can_be_told_and_no_place_stays_open(log):
    for one in log:
        said = sentence(one)
        assert said.startswith("Crew A")
        assert "{" not in said
        assert "None" not in said


def test_a_sentence_is_told_again_to_a_reader_of_another_language():
    loud = Reader(translated=lambda said: said.upper().replace("{WHO}", "{who}"))
    for value in TEMPLATES.values():
        assert all(name is None or name.isidentifier()
                   for _, name, _, _ in string.Formatter().parse(value))  # fmt: skip
    assert sentence(entry("cleaned", "", {})).spoken(loud) == "Crew A CLEANED."
    assert {key.split(".")[0] for key in TEMPLATES} >= KINDS.keys()
    assert CONTENT.keys() <= KINDS.keys()


def test_a_list_reads_as_a_list():
    assert [listed(part) for part in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == [
        "", "a", "a and b", "a, b and c",
    ]  # fmt: skip
    assert UUID(int=1) == COUNT.id
