"""The page of the certificate on a phone and on a desk."""

from datetime import UTC, datetime

import pytest

from protoconch.web.own_certificate import brought_up, own_certificate
from tests.fixtures.browser import DESK, PHONE

pytestmark = pytest.mark.browser


@pytest.mark.parametrize(
    ("width", "night"), [(PHONE, True), (DESK, False)], ids=["phone by night", "desk by day"]
)
def test_the_pictures_bar_nobody_and_hold_their_words(
    browser_page, crew, faults_of_page, settings, tmp_path, width, night
):
    settings.DATA, settings.SECURE_PORT = tmp_path, 8312
    brought_up(own_certificate(tmp_path), ("localhost", "127.0.0.1"), datetime.now(UTC))
    page = browser_page(width, night=night)
    page.goto("/trust/")
    assert faults_of_page(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    outside = page.evaluate("""[...document.querySelectorAll('.trust text')].filter(
        (t) => t.getBBox().x < 24 || t.getBBox().x + t.getBBox().width > 176
    ).map((t) => t.textContent)""")
    assert outside == []
