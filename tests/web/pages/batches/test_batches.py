"""The Batches pages."""

import re

import pytest

from protoconch.records.models import Role
from tests.web.pages.season import planted as invented

TODAY = invented.TODAY


@pytest.fixture
def season(db):
    return invented.planted(TODAY)


@pytest.fixture
def page(season, client_of):
    return client_of(invented.person(season[0], "viewer A", Role.VIEWER))


@pytest.fixture
def first(season):
    return invented.code_in_log(season[1], "A")


def test_there_is_a_line_for_each_batch_with_its_number_and_limits(page, season):
    text = page.get("/batches").content.decode()
    for batch in season[1].batches:
        assert invented.code_in_log(season[1], batch.code) in text
    assert "by the count of" in text
    assert re.search(r'<span class="amount">[\d,]+</span>', text)


def test_a_batch_tells_its_story(page, first):
    text = page.get(f"/batches/{first}").content.decode()
    for said in ("Each count beside what was expected", "Where it was when", "The account",
                 "From which egg masses", "Food", "Losses", "Notes and photos"):  # fmt: skip
        assert said in text
    assert "Isochrysis" in text
    assert "crabs" in text
    assert "Film on the trays is thin" in text
    assert text.count('class="missed"') > 10


def test_its_pictures_are_drawn_in_the_words_of_each_who_looks(page, first, season, client_of):
    other = invented.person(season[0], "viewer B", Role.VIEWER)
    type(other).objects.filter(pk=other.pk).update(language="es")
    english = page.get(f"/batches/{first}").content.decode()
    spanish = client_of(other).get(f"/batches/{first}").content.decode()
    titles = [re.findall(r"<title[^>]*>([^<]+)</title>", text)[1:] for text in (english, spanish)]
    assert len(titles[0]) == len(titles[1]) >= 2
    assert not set(titles[0]) & set(titles[1])


def test_the_account_adds_up(page, first):
    text = page.get(f"/batches/{first}").content.decode()
    card = text[text.index('id="h-account"') : text.index('id="h-from"')]
    numbers = [int(n.replace(",", "").replace("−", "-")) for n in re.findall(r"<dd>([^<]+)", card)]
    assert numbers[0] == sum(numbers[1:]) > 0


def test_where_it_was_is_told_from_incubator_to_now(page, first):
    text = page.get(f"/batches/{first}").content.decode()
    card = text[text.index('id="h-where"') : text.index('id="h-food"')]
    vessels = re.findall(r"<li class=\"line\"><p>([^<]+)</p>", card)
    assert vessels[0].startswith("incubator")
    assert any(name.startswith("large tank") for name in vessels)
    assert any(name.startswith("tray") for name in vessels)
    assert card.count("now") == 1


def test_a_batch_that_is_only_planned_says_when_it_begins(db, client_of):
    site, plan = invented.planted(TODAY, logged=False)
    page = client_of(invented.person(site))
    code = invented.code_in_log(plan, "B")
    text = page.get(f"/batches/{code}").content.decode()
    assert "is planned" in text
    assert "Nothing of this batch is counted yet" in text
    assert "No batch has begun yet" in page.get("/batches").content.decode()


def test_a_hatchery_without_plan_or_log_is_told_how_a_batch_begins(site, client_of):
    text = client_of(invented.person(site)).get("/batches").content.decode()
    assert "A batch begins when egg masses go into an incubator" in text


@pytest.mark.parametrize("code", ["99Z", "%F0%9F%90%9A", "..", "a" * 300])
def test_a_batch_that_is_not_there_is_not_found(page, code):
    assert page.get(f"/batches/{code}").status_code == 404


def test_the_pages_are_small(page, first):
    assert len(page.get("/batches").content) < 100_000
    assert len(page.get(f"/batches/{first}").content) < 100_000


@pytest.mark.parametrize("address", ["/batches", "/batches/27A"])
def test_nobody_sees_batches_without_signing_in(client, season, page, address):
    assert client.get(address).status_code == 302
