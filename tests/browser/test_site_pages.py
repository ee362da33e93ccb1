"""Site in a real Chromium: what is described, and how it is changed."""

import pytest
from playwright.sync_api import expect

from protoconch.hatchery.reading import whole_demo_text
from protoconch.records.queries.site import hatchery
from tests.fixtures.browser import DESK, LOOKS, PHONE

pytestmark = pytest.mark.browser
PAGES = ["/site/", "/site/water-system/", "/site/text/", "/site/waterworks/", "/site/history/",
         "/site/own-values/", "/site/change/target/", "/site/change/permit/",
         "/site/change/tanks/", "/site/change/algae/", "/site/change/crew/",
         "/site/change/water/", "/site/change/where/"]  # fmt: skip


@LOOKS
def test_nothing_bars_anybody(signed_in_page, manager, faults_of_page, night, width):
    page = signed_in_page(manager, width, night=night)
    for address in PAGES:
        page.goto(address)
        assert faults_of_page(page) == [], address
        assert page.evaluate("document.documentElement.scrollWidth") <= width, address


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_a_wrong_number_is_told_beside_its_field_and_then_put_right(
    signed_in_page, manager, site, width
):
    page = signed_in_page(manager, width)
    page.goto("/site/")
    page.get_by_role("link", name="Change Season and target").click()
    page.get_by_label("Healthy juveniles").fill("many")
    with page.expect_navigation():  # else the field before would be looked at
        page.get_by_role("button", name="Save").click()
    field = page.get_by_label("Healthy juveniles")
    assert field.input_value() == "many"
    told = field.get_attribute("aria-describedby").split()[-1]
    assert "not a number" in page.locator(f"#{told}").inner_text()
    field.fill("900")
    page.get_by_role("button", name="Save").click()
    page.wait_for_url("**/site/")
    assert hatchery(site).target.animals == 900
    assert "900" in page.locator("#main").inner_text()


def test_a_file_with_ten_mistakes_is_told_line_by_line_and_then_brought_in(
    signed_in_page, manager, site
):
    from tests.web.pages.site.test_text import TEN_MISTAKES

    text = whole_demo_text()
    for right, wrong in TEN_MISTAKES:
        text = text.replace(right, wrong, 1)
    page = signed_in_page(manager, DESK, scripts=False)
    page.goto("/site/text/")
    page.get_by_label("Or a file").set_input_files(
        {"name": "h.toml", "mimeType": "application/toml", "buffer": text.encode()}
    )
    page.get_by_role("button", name="Look at it first").click()
    expect(page.get_by_role("alert")).to_contain_text("10 lines are at fault")
    sound = whole_demo_text().replace("animals = 1200", "animals = 900")
    page.get_by_label("The description as text").fill(sound)
    page.get_by_role("button", name="Look at it first").click()
    with page.expect_navigation():
        page.get_by_role("button", name="Save this description").click()
    assert hatchery(site).target.animals == 900


def test_the_way_of_the_water_is_drawn_for_the_width(signed_in_page, viewer):
    for width, shown in ((PHONE, ".phone"), (DESK, ".desk")):
        page = signed_in_page(viewer, width)
        page.goto("/site/")
        assert page.locator(f"{shown} svg").is_visible()
        assert page.locator("#main svg:visible").count() == 1


def test_on_paper_there_is_the_page_without_the_frame(signed_in_page, viewer):
    page = signed_in_page(viewer, DESK)
    page.goto("/site/")
    page.emulate_media(media="print")
    assert not page.get_by_role("navigation", name="Pages").is_visible()
    assert page.get_by_role("heading", level=1).is_visible()
