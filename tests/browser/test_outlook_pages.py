"""The outlook as people see it: on a phone and on a desk, by day and by night."""

import pytest

from tests.fixtures.browser import DESK, LOOKS, PHONE
from tests.web.pages.season import planted as invented
from tests.web.pages.season.ahead import looked_ahead_from

pytestmark = pytest.mark.browser


@pytest.fixture
def season(chromium, transactional_db):
    return looked_ahead_from(invented.TODAY)


@LOOKS
def test_nothing_is_wrong_with_the_outlook(season, signed_in_page, faults_of_page, width, night):
    page = signed_in_page(invented.person(season[0]), width, night=night)
    page.goto("/season")
    page.get_by_role("heading", name="What would help most").wait_for()
    page.evaluate("document.querySelectorAll('details').forEach(part => part.open = true)")
    page.get_by_text("Numbers that this hatchery's own log has moved").wait_for()
    assert page.locator("#odds-over-time-t").count() == 1
    assert faults_of_page(page) == []
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    if width == DESK:
        picture = page.locator(".desk img")
        picture.scroll_into_view_if_needed()
        picture.evaluate("image => image.decode()")
        assert picture.evaluate("image => image.naturalWidth") > 0
    code = f"{season[1].hatchery.first_day.year % 100:02d}{season[1].batches[0].code}"
    page.goto(f"/batches/{code}")
    page.get_by_role("heading", name="Each count beside what was expected").wait_for()
    assert faults_of_page(page) == []
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


def test_the_odds_can_be_read_with_scripts_off(season, signed_in_page):
    page = signed_in_page(invented.person(season[0]), PHONE, scripts=False)
    page.goto("/season")
    assert page.get_by_text("These odds are what the log makes of the season").is_visible()
    page.get_by_text("What this log has taught").click()
    page.get_by_text("Numbers that this hatchery's own log has moved").wait_for()
