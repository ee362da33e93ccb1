"""The cards: what each kind of work is for, how it is done, and where care is due."""

import pytest

from protoconch.animals.profiles import species
from protoconch.errors import UnknownName
from protoconch.log.kinds import KINDS as ENTRIES
from protoconch.sources.references import references
from protoconch.words import Said
from protoconch.work.how_to import CARDS, HOW_TO, Number, sourced
from protoconch.work.how_to.card import OF_SPECIES

CONCH = species("queen-conch")


@pytest.fixture(params=CARDS)
def card(request):
    return CARDS[request.param]


def test_a_card_has_four_to_seven_steps_and_says_where_care_is_due(card):
    assert 4 <= len(card.steps) <= 7
    assert card.cautions


def test_a_card_says_what_to_write_down_and_the_log_takes_it(card):
    assert card.record.startswith("Write down")
    assert card.writes
    assert set(card.writes) <= set(ENTRIES)


def test_the_numbers_of_a_card_have_a_source(card):
    for number in card.numbers:
        found = sourced(number, CONCH)
        assert found is not None
        assert found.source in references() or found.source in ("practice", "assumption")


def test_all_words_of_a_card_can_be_told_in_another_language(card):
    words = (card.what, card.why, card.record, *card.steps, *(n.words for n in card.numbers))
    assert all(isinstance(each, Said) for each in words)


def test_work_near_water_and_chlorine_and_lamps_names_what_can_hurt():
    for kind, word in (
        ("change water", "electricity"), ("make medium", "Chlorine"), ("induce", "peroxide"),
        ("change a lamp", "UV"), ("change a cartridge", "pressure"), ("siphon", "heavy"),
        ("release", "permit"), ("power is out", "generator"), ("inoculate", "Glass"),
    ):  # fmt: skip
        assert any(word in caution for caution in CARDS[kind].cautions), kind


def test_every_task_with_animals_has_a_card():
    assert set(HOW_TO) < set(CARDS)


def test_a_number_that_is_nowhere_is_refused_and_one_a_species_lacks_is_left_out():
    with pytest.raises(UnknownName, match=r"no number chlorine\.smell in sterilising"):
        sourced(Number("", "sterilising", "chlorine.smell"), CONCH)
    assert sourced(Number("", OF_SPECIES, "veliger.wings"), CONCH) is None
