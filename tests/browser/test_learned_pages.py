"""What the log has taught, as people see it: on a phone and on a desk."""

import pytest

from protoconch.records.queries.learning import KeptSeason, keep_season
from tests.fixtures.browser import DESK, PHONE
from tests.web.pages.season import planted as invented
from tests.web.pages.site.test_learned import SAID

pytestmark = pytest.mark.browser


@pytest.fixture
def site(chromium, transactional_db):
    site, _ = invented.planted(invented.TODAY, compare=False, logged=False)
    keep_season(site, KeptSeason(SAID, over=True))
    return site


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_nothing_is_wrong_with_what_the_log_has_taught(site, signed_in_page, faults_of_page, width):
    page = signed_in_page(invented.person(site), width)
    page.goto("/season")
    page.get_by_text("3 numbers from this hatchery's log are ready to be used").wait_for()
    page.get_by_role("link", name="See how far each moved").click()
    page.get_by_role("heading", name="Ready to be used", exact=True).wait_for()
    assert faults_of_page(page) == []
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    page.get_by_role("button", name="Use them").click()
    page.get_by_role("heading", name="In use", exact=True).wait_for()
    assert faults_of_page(page) == []
    page.get_by_role("button", name="Go back to the numbers of the book").click()
    page.get_by_role("heading", name="Left as they are", exact=True).wait_for()
