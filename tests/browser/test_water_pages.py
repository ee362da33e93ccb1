"""The water, on a phone and on a desk."""

import pytest
from playwright.sync_api import expect

from tests.fixtures.browser import LOOKS, PHONE

pytestmark = pytest.mark.browser


@LOOKS
def test_nothing_is_wrong_with_the_page(chromium, crew, signed_in_page, faults_of_page, width,
                                        night):  # fmt: skip
    page = signed_in_page(crew, width, night=night)
    page.goto("/water")
    for summary in page.locator("summary").all():
        summary.click()
    assert faults_of_page(page) == []
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert sum(page.evaluate(
        "[...document.querySelectorAll('main button, main summary, main .button, main input')]"
        ".map(e => e.getBoundingClientRect()).map(r => r.height > 0 && r.height < 47.5)"
    )) == 0  # fmt: skip


def test_a_level_is_three_touches(chromium, crew, signed_in_page):
    page = signed_in_page(crew, PHONE)
    page.goto("/water")
    page.get_by_label("Level, L reservoir").click()
    page.keyboard.type("9500")
    page.get_by_role("button", name="Save Level reservoir").click()
    page.wait_for_url("**/log/*-*")
    page.goto("/water")
    assert "9,500" in page.locator("#h-store + .two").inner_text()


@pytest.mark.parametrize("scripts", [True, False])
def test_a_probe_is_read_by_keyboard_alone_and_without_scripts(
    chromium, crew, signed_in_page, scripts
):
    page = signed_in_page(crew, PHONE, scripts=scripts)
    page.goto("/water")
    summary = page.locator("summary", has_text="Temperature, tray loop")
    summary.focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.type("29.2")
    page.keyboard.press("Enter")
    page.wait_for_url("**/log/*-*")
    page.goto("/water")
    assert "29.2" in page.locator("[aria-labelledby=h-loop-1]").inner_text()


def test_an_impossible_value_comes_back_with_its_reason_and_what_was_typed(
    chromium, crew, signed_in_page
):
    page = signed_in_page(crew, PHONE)
    page.goto("/water")
    page.get_by_label("Level, L reservoir").fill("-5")
    page.get_by_role("button", name="Save Level reservoir").click()
    page.get_by_text("Not saved.").wait_for()
    expect(page.locator("input[value='-5']")).to_have_count(1)
