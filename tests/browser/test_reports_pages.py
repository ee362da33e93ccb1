"""The reports, on a phone, on a desk and on paper."""

import pytest

from protoconch.records.models import Role
from tests.fixtures.browser import DESK, LOOKS
from tests.web.pages.season import planted as invented

pytestmark = pytest.mark.browser
PAGES = ("/reports", "/reports/season", "/reports/work", "/reports/account", "/reports/numbers")


@pytest.fixture
def season(chromium, transactional_db):
    return invented.planted(invented.TODAY)


@pytest.fixture
def viewer(season):
    return invented.person(season[0], "viewer A", Role.VIEWER)


@LOOKS
def test_nothing_is_wrong_with_any_report(viewer, signed_in_page, faults_of_page, width, night):
    page = signed_in_page(viewer, width, night=night)
    for address in PAGES:
        page.goto(address)
        assert faults_of_page(page) == []
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


def test_the_account_prints_on_paper_without_what_only_a_screen_needs(viewer, signed_in_page):
    page = signed_in_page(viewer, DESK)
    page.goto("/reports/account")
    page.emulate_media(media="print")
    assert not page.get_by_role("navigation", name="Pages").is_visible()
    assert page.get_by_text("Stocked is the sum").is_visible()
    assert len(page.pdf(format="A4")) > 10_000
