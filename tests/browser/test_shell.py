"""The frame of the pages in a real Chromium."""

import pytest

from tests.fixtures.browser import DESK, PHONE

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_who_is_signed_in_sees_the_pages_by_their_names(signed_in_page, crew, width):
    page = signed_in_page(crew, width)
    page.goto("/")
    assert page.get_by_role("link", name="Today").is_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_nothing_on_a_page_bars_anybody(signed_in_page, crew, faults_of_page):
    for night in (False, True):
        page = signed_in_page(crew, PHONE, night=night)
        page.goto("/")
        assert faults_of_page(page) == []
