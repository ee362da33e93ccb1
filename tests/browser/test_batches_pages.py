"""The batches, on a phone and on a desk."""

import pytest

from protoconch.records.models import Role
from tests.fixtures.browser import LOOKS, PHONE
from tests.web.pages.season import planted as invented

pytestmark = pytest.mark.browser


@pytest.fixture
def season(chromium, transactional_db):
    return invented.planted(invented.TODAY)


@pytest.fixture
def viewer(season):
    return invented.person(season[0], "viewer A", Role.VIEWER)


@LOOKS
def test_nothing_is_wrong_with_list_and_story(
    viewer, season, signed_in_page, faults_of_page, width, night
):
    page = signed_in_page(viewer, width, night=night)
    codes = [invented.code_in_log(season[1], letter) for letter in ("A", "D", "I")]
    for address in ("/batches", *(f"/batches/{code}" for code in codes)):
        page.goto(address)
        assert faults_of_page(page) == []
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


def test_from_the_list_to_a_batch_to_an_entry_of_it(viewer, season, signed_in_page):
    code = invented.code_in_log(season[1], "A")
    page = signed_in_page(viewer, PHONE)
    page.goto("/batches")
    page.get_by_role("link", name=code).click()
    page.get_by_role("heading", name=f"Batch {code}").wait_for()
    summary = page.get_by_text("The last 30")
    summary.focus()
    page.keyboard.press("Enter")
    page.locator("#h-entries ~ details a").first.click()
    page.wait_for_url("**/log/*")
