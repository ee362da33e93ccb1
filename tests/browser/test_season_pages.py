"""Season and what if, as people use them: on a phone, on a desk, by night, by keyboard alone."""

import pytest
from playwright.sync_api import expect

from protoconch.records.models import WhatIf
from tests.fixtures.browser import DESK, LOOKS, PHONE
from tests.web.pages.season import planted as invented

pytestmark = pytest.mark.browser
PAGES = ("/season", "/season/what-if?animals=900&dying-veliger=2.0")


@pytest.fixture
def season(chromium, transactional_db):
    return invented.planted(invented.TODAY)


@pytest.fixture
def manager(season):
    return invented.person(season[0])


def overhang(page):
    return page.evaluate("document.documentElement.scrollWidth - innerWidth")


@LOOKS
def test_nothing_is_wrong_with_the_pages(manager, signed_in_page, faults_of_page, width, night):
    page = signed_in_page(manager, width, night=night)
    for address in PAGES:
        page.goto(address)
        assert faults_of_page(page) == []
        assert overhang(page) <= 0


def test_a_phone_is_shown_columns_and_a_desk_one_picture(manager, signed_in_page):
    page = signed_in_page(manager, PHONE)
    fetched = []
    page.on("request", lambda request: fetched.append(request.url))
    page.goto("/season")
    assert page.locator(".phone svg.picture").first.is_visible()
    assert not page.locator(".desk img").is_visible()
    assert not [url for url in fetched if url.endswith(".svg") and "ribbons" in url]
    page = signed_in_page(manager, DESK)
    page.goto("/season")
    picture = page.locator(".desk img")
    picture.scroll_into_view_if_needed()
    page.wait_for_load_state("networkidle")
    assert page.locator(".desk img").evaluate("img => img.naturalWidth") > 0
    assert not page.locator(".phone").is_visible()


def test_change_keep_compare_and_drop(manager, signed_in_page, faults_of_page):
    page = signed_in_page(manager, PHONE)
    page.goto("/season/what-if")
    animals = page.get_by_role("textbox", name="Juveniles asked")
    animals.fill("900")
    page.get_by_text("900 juveniles, not 1,200").wait_for()
    page.get_by_label("Larvae die", exact=True).select_option("2.0")
    page.get_by_text("larvae die twice as fast").wait_for()
    expect(page.locator("#changed-t")).to_have_count(1)
    page.get_by_label("Keep it as").fill("bad larvae")
    page.get_by_role("button", name="Keep it").click()
    page.get_by_text("bad larvae is kept.").wait_for()
    page.goto("/season/what-if?algae_g=0.4")
    page.get_by_label("Keep it as").fill("little algae")
    page.get_by_role("button", name="Keep it").click()
    page.get_by_label("Compare bad larvae").check()
    page.get_by_label("Compare little algae").check()
    page.get_by_role("button", name="Compare side by side").click()
    page.get_by_role("heading", name="little algae beside bad larvae").wait_for()
    for width in (DESK, PHONE):
        page.set_viewport_size({"width": width, "height": 850})
        assert faults_of_page(page) == []
        assert overhang(page) <= 0
    page.get_by_role("button", name="Drop little algae").click()
    page.get_by_text("little algae is dropped.").wait_for()
    assert [row.name for row in WhatIf.objects.all()] == ["bad larvae"]


def test_a_slider_moves_the_number_and_the_odds(manager, signed_in_page):
    page = signed_in_page(manager, DESK)
    page.goto("/season/what-if")
    slider = page.get_by_role("slider", name="Algae a day, dry")
    slider.focus()
    for _ in range(12):
        slider.press("ArrowLeft")
    page.get_by_text("g of algae a day, not 2 g").wait_for()
    assert float(page.get_by_role("textbox", name="Algae a day, dry").input_value()) < 2


def test_what_cannot_be_is_said_where_the_odds_would_stand(manager, signed_in_page):
    page = signed_in_page(manager, PHONE)
    page.goto("/season/what-if")
    page.get_by_role("textbox", name="Juveniles asked").fill("many")
    page.locator("#changed .notice").wait_for()
    assert page.get_by_role("textbox", name="Juveniles asked").input_value() == "many"


def test_it_works_without_scripts(manager, signed_in_page):
    page = signed_in_page(manager, PHONE, scripts=False)
    page.goto("/season")
    page.get_by_label("Juveniles asked").fill("900")
    page.get_by_role("button", name="See what becomes of it").click()
    page.get_by_text("900 juveniles, not 1,200").wait_for()
    page.get_by_label("Keep it as").fill("without scripts")
    page.get_by_role("button", name="Keep it").click()
    page.get_by_text("without scripts is kept.").wait_for()


def test_the_keyboard_alone_changes_and_keeps(manager, signed_in_page):
    page = signed_in_page(manager, DESK)
    page.goto("/season/what-if")

    def tab_to(name, most=40):
        for _ in range(most):
            page.keyboard.press("Tab")
            told = page.evaluate(
                "(document.activeElement.labels?.[0] ?? document.activeElement).textContent.trim()"
            )
            if told == name:
                return
        pytest.fail(f"Tab never came to {name}")

    tab_to("Juveniles asked")
    page.keyboard.press("Control+A")
    page.keyboard.type("800")
    page.get_by_text("800 juveniles, not 1,200").wait_for()
    tab_to("Keep it as")
    page.keyboard.type("by keyboard")
    page.keyboard.press("Enter")
    page.get_by_text("by keyboard is kept.").wait_for()
