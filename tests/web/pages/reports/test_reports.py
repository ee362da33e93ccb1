"""The Reports pages."""

import re

import pytest

from protoconch.records.models import Role
from tests.web.pages.season import planted as invented

TODAY = invented.TODAY
ADDRESSES = ("/reports", "/reports/season", "/reports/season.html", "/reports/work",
             "/reports/account", "/reports/numbers")  # fmt: skip


@pytest.fixture
def season(db):
    return invented.planted(TODAY)


@pytest.fixture
def page(season, client_of):
    return client_of(invented.person(season[0], "viewer A", Role.VIEWER))


@pytest.mark.parametrize("address", ADDRESSES)
def test_every_report_opens_for_a_viewer(page, address):
    assert page.get(address).status_code == 200


@pytest.mark.parametrize("address", [a for a in ADDRESSES if not a.endswith("html")])
def test_every_page_of_a_report_is_small(page, address):
    assert len(page.get(address).content) < 100_000


@pytest.mark.parametrize("address", ADDRESSES)
def test_nobody_sees_a_report_without_signing_in(client, season, page, address):
    assert client.get(address).status_code == 302


@pytest.mark.parametrize("address", ADDRESSES)
def test_without_a_plan_each_says_what_is_missing(site, client_of, address):
    text = client_of(invented.person(site)).get(address, follow=True).content.decode()
    assert "Nothing to report yet" in text


def test_the_account_of_the_season_adds_up_by_batch_and_in_all(page):
    text = page.get("/reports/account").content.decode()
    whole = re.findall(r"<dd>([^<]+)</dd>", text[: text.index('id="h-batches"')])
    stocked, _settled, *rest = (int(n.replace(",", "").replace("−", "-")) for n in whole)
    assert stocked == sum(rest) > 0
    batches = text[text.index('id="h-batches"') : text.index('id="h-masses"')]
    each = re.findall(r'data-label="Stocked">([\d,]+)', batches)
    assert sum(int(n.replace(",", "")) for n in each) == stocked


def test_each_egg_mass_is_traced_to_its_batch_and_the_permit_is_counted(page, season):
    text = page.get("/reports/account").content.decode()
    masses = sum(batch.egg_masses for batch in season[1].batches if batch.dates.collect <= TODAY)
    assert text.count("INVENTED-01</td>") == masses
    assert f"{masses} of the 24 egg masses" in text


def test_an_account_before_the_first_entry_says_how_it_begins(db, client_of):
    site, _plan = invented.planted(TODAY, logged=False)
    text = client_of(invented.person(site)).get("/reports/account").content.decode()
    assert "The account begins with the first egg mass" in text


def test_a_month_of_work_is_shown_alone(page):
    months = re.findall(r'href="\?month=([\d-]+)"', page.get("/reports/work").content.decode())
    assert len(months) > 6
    text = page.get(f"/reports/work?month={months[1]}").content.decode()
    assert "of work." in text
    assert page.get("/reports/work?month=nonsense").status_code == 200


def test_the_whole_report_can_be_saved(page):
    assert "attachment" in page.get("/reports/season.html?save")["Content-Disposition"]
