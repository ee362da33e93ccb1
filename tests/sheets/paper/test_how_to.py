"""How-to cards on half a sheet."""

import pytest

from protoconch.animals.profiles import species
from protoconch.errors import UnknownName
from protoconch.sheets.how_to_card import listed_cards, shown_card
from protoconch.sheets.paper.how_to import how_to_pdf
from protoconch.words import ENGLISH, Reader, read_by
from protoconch.work.how_to import CARDS
from tests.sheets.paper.reading import codes_in, text_of

CONCH = species("queen-conch")
SLUGS = [slug for _area, cards in listed_cards() for slug, _what in cards]
PLACE = "http://192.0.2.1:8000/how-to/"


def pressed(slug, **how):
    card = shown_card(slug, CONCH, ink="#000", paper="#fff")
    return how_to_pdf(card, "Nowhere Cay", PLACE + slug, **how)


def flat(words):
    return " ".join(words.split())


def test_every_kind_of_work_is_listed_once():
    assert len(SLUGS) == len(set(SLUGS)) == len(CARDS)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_card_fits_on_one_side_and_says_all_that_the_page_says(slug, tmp_path):
    card = shown_card(slug, CONCH)
    told = text_of(pressed(slug), tmp_path, layout=False)
    assert told.rstrip("\f").count("\f") == 0
    words = flat(told.replace("-\n", "-"))
    assert words.index("Care first") < words.index(flat(card.steps[0].words)[:12])
    said = (card.what, card.why, card.record, *card.cautions)
    for each in (*said, *(s.words for s in card.steps), *(n.words for n in card.numbers)):
        assert flat(each) in words
    for number in card.numbers:
        assert flat(number.amount) in words
        assert flat(number.source) in words


def test_its_code_leads_to_the_card(tmp_path):
    assert codes_in(pressed("thin"), tmp_path) == [PLACE + "thin"]


def test_a_card_speaks_the_words_of_its_reader(tmp_path):
    read_by(lambda: Reader(translated=lambda words: words.replace("Stir", "Remueva")))
    try:
        told = text_of(pressed("count", language="es", paper="a4"), tmp_path, layout=False)
    finally:
        read_by(lambda: ENGLISH)
    assert "Remueva the tank" in flat(told)


def test_a_number_of_the_species_stands_with_its_range_and_who_says_so():
    numbers = shown_card("induce", CONCH).numbers
    told = {str(n.words): (str(n.amount), str(n.source)) for n in numbers}
    assert told["Share of ready larvae that settle"] == (
        "60 % (30 to 90 %)", "common practice, no source",
    )  # fmt: skip
    assert told["Hydrogen peroxide in the water"][1].startswith("from memory of Boettcher")


def test_a_card_that_is_not_there_is_named():
    with pytest.raises(UnknownName, match="no how-to card juggle"):
        shown_card("juggle", CONCH)
