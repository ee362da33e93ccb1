"""The log in a real Chromium: entries added, corrected, taken back, and doubts settled."""

import pytest
from playwright.sync_api import expect

from protoconch.records.models import Entry
from protoconch.records.queries.log import state
from tests.fixtures.browser import DESK, LOOKS, PHONE
from tests.web.pages.today.season_begun import (
    entry,
    logged,
    stop_the_clock,
)

pytestmark = pytest.mark.browser
TANK = "large tank 3"
SIZES = pytest.mark.parametrize("width", [PHONE, DESK])


@pytest.fixture(autouse=True)
def noon(monkeypatch):
    stop_the_clock(monkeypatch)


@pytest.fixture
def begun(transactional_db, site, crew):
    logged(crew)
    return site


def alive(site):
    return state(site).holdings[TANK].alive


@SIZES
def test_a_count_is_corrected_and_the_correction_undone(begun, signed_in_page, crew, width):
    before = alive(begun)
    page = signed_in_page(crew, width)
    page.goto("/log")
    page.get_by_role("link", name="counted large tank 3").click()
    page.get_by_role("link", name="Correct it").click()
    field = page.get_by_label("Count of each aliquot")
    assert field.input_value() == "20 17 23 19 18"
    field.fill("40 34 46 38 36")
    page.get_by_label("Why it is corrected").fill("each was counted in half the dish")
    page.get_by_role("button", name="Save the correction").click()
    page.get_by_text("It was corrected").wait_for()
    assert alive(begun) == pytest.approx(2 * before, abs=1)
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("Undone.").wait_for()
    assert alive(begun) == before
    expect(page.get_by_text("It was corrected")).to_have_count(0)
    assert Entry.objects.filter(kind="correction").count() == 2  # nothing is ever deleted


@SIZES
def test_an_entry_is_taken_back_without_scripts(begun, signed_in_page, crew, width):
    page = signed_in_page(crew, width, scripts=False)
    page.goto("/log?kind=read")
    page.locator(".told a").click()
    page.get_by_role("button", name="Take it back").click()
    expect(page.locator("main")).to_contain_text("does not count")
    assert ("reservoir", "temperature") not in state(begun).readings


def test_something_else_is_added_by_keyboard_alone(begun, signed_in_page, crew):
    page = signed_in_page(crew, DESK)
    page.goto("/log/add")
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent.startsWith('Note')"):
            break
    page.keyboard.press("Enter")
    page.wait_for_url("**/log/add/note")
    for _ in range(30):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name === 'payload.text'"):
            break
    page.keyboard.type("A turtle off the intake")
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent.trim() === 'Save'"):
            break
    page.keyboard.press("Enter")
    page.wait_for_url("**/log/*-*-*")
    assert Entry.objects.get(kind="note").payload["text"] == "A turtle off the intake"


def test_lengths_are_typed_one_by_one_with_a_button_for_the_next(begun, signed_in_page, crew):
    page = signed_in_page(crew, PHONE)
    page.goto(f"/log/add/measured?where={TANK}")
    page.get_by_label("Shell lengths").click()
    for part in ("0.71", "0,68", "0.74"):
        page.keyboard.type(part)
        page.get_by_role("button", name="Next number").click()
    page.get_by_role("button", name="Save").click()
    page.wait_for_url("**/log/*-*-*")
    latest = Entry.objects.filter(kind="measured").latest("number")
    assert latest.payload["lengths_mm"] == [0.71, 0.68, 0.74]


@SIZES
def test_a_doubt_is_settled_on_top_of_the_log(begun, signed_in_page, crew, width):
    logged(crew, [entry("counted", "large tank 2", {"animals": 50}, "05-19")])
    page = signed_in_page(crew, width)
    page.goto("/log")
    assert "wants a decision" in page.locator("h1").inner_text()
    page.get_by_role("button", name="It did not happen").click()
    page.get_by_text("Settled.").wait_for()
    assert state(begun).doubts == ()


@LOOKS
def test_nothing_bars_anybody(begun, signed_in_page, crew, faults_of_page, width, night):
    logged(crew, [entry("counted", "large tank 2", {"animals": 50}, "05-19")])
    counted = Entry.objects.filter(kind="counted").earliest("number").uuid
    page = signed_in_page(crew, width, night=night)
    for address in ("/log", "/log?words=nothing+fits", "/log/add", "/log/add/fed",
                    "/log/add/graded", f"/log/{counted}", f"/log/{counted}/correct"):  # fmt: skip
        page.goto(address)
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        assert faults_of_page(page) == [], address
        assert page.evaluate("document.documentElement.scrollWidth") <= width, address


def test_a_refused_form_is_read_out_with_its_reasons(begun, signed_in_page, crew, faults_of_page):
    page = signed_in_page(crew, PHONE)
    page.goto(f"/log/add/counted?where={TANK}")
    page.get_by_label("Count of each aliquot").fill("12 x 9")
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Not saved.").wait_for()
    page.locator("[role=alert]:focus").wait_for()
    assert page.get_by_label("Count of each aliquot").input_value() == "12 x 9"
    assert faults_of_page(page) == []
