"""The pages of the how-to cards."""

from protoconch.log.kinds import KINDS
from protoconch.sheets.how_to_card import listed_cards, slug_of
from protoconch.web.pages.log.choices import kind_of
from protoconch.work.how_to import CARDS

SLUGS = [slug for _area, cards in listed_cards() for slug, _what in cards]


def test_the_list_leads_to_every_card(client_of, viewer):
    page = client_of(viewer).get("/how-to").content.decode()
    for slug in SLUGS:
        assert f'href="/how-to/{slug}"' in page


def test_a_card_shows_care_first_then_its_drawn_steps_and_where_to_enter(client_of, crew):
    client = client_of(crew)
    for kind, card in CARDS.items():
        page = client.get(f"/how-to/{slug_of(kind)}").content.decode()
        assert page.count('<svg xmlns="http') == len(card.steps), kind
        assert page.index('class="care"') < page.index('class="drawn"'), kind
        for entry in card.writes:
            slug = entry.replace(" ", "-")
            assert f'href="/log/add/{slug}"' in page, kind
            assert kind_of(slug) is KINDS[entry], kind
        assert len(page.encode()) < 40_000, kind


def test_who_only_looks_is_not_asked_to_enter(client_of, viewer):
    page = client_of(viewer).get("/how-to/thin").content.decode()
    assert "Write down how many were kept" in page
    assert "/log/add/" not in page.partition("<main")[2]


def test_a_card_on_paper_is_a_pdf(client_of, viewer):
    answer = client_of(viewer).get("/how-to/thin/card.pdf?paper=a4")
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")


def test_a_card_that_is_not_there_leads_back_to_the_work(client_of, viewer):
    for address in ("/how-to/juggle", "/how-to/juggle/card.pdf"):
        assert client_of(viewer).get(address).status_code == 404


def test_nobody_reads_them_without_being_signed_in(client, site):
    assert client.get("/how-to").status_code == 302
