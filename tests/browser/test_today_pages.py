"""Today in a real Chromium: a day entered on a phone and on a desk, by thumb, by keyboard, without
scripts, by day and by night."""

import re
from datetime import timedelta

import pytest
from playwright.sync_api import expect

from protoconch.records.models import Entry
from protoconch.records.queries.answers import tasks
from protoconch.records.queries.log import state
from protoconch.web.pages.today.days import here_today
from protoconch.web.pages.today.lines import line_id
from tests.fixtures.browser import DESK, LOOKS, PHONE
from tests.web.pages.today.season_begun import (
    NOON,
    entry,
    logged,
    stop_the_clock,
)

pytestmark = pytest.mark.browser
TANK = "large tank 3"
UNFOLD = """document.querySelectorAll('details').forEach(one => {
  one.removeAttribute('name'); one.open = true;
})"""
SMALL_TARGETS = """[...document.querySelectorAll(
  'main button, main summary, main input:not([type=hidden],[type=checkbox]), main select, main a')]
  .filter(e => e.getClientRects().length && e.getBoundingClientRect().height < 44)
  .map(e => e.outerHTML.slice(0, 120))"""
SIZES = pytest.mark.parametrize("width", [PHONE, DESK])


@pytest.fixture(autouse=True)
def noon(monkeypatch):
    stop_the_clock(monkeypatch)


@pytest.fixture
def begun(transactional_db, planned_site, crew):
    logged(crew)
    return planned_site


class Hand:
    """A person at a page, whose touches are counted."""

    def __init__(self, page):
        self.page, self.touches = page, 0

    def touch(self, spot):
        self.touches += 1
        spot.click()

    def type(self, words):
        """Type where the cursor stands; on a number pad Enter goes on."""
        for part in words.split():
            self.page.keyboard.type(part)
            self.page.keyboard.press("Enter")


def line_of(page, task):
    return page.locator(f"#{line_id(task.key)}")


def first_task(site, kind, where=""):
    return next(t for t in tasks(site, here_today()) if t.kind == kind and where in t.where)


def settled(page, task):
    page.locator(f"#{line_id(task.key)}.settled").wait_for()


def saved(task):
    return Entry.objects.get(task=task.key)


@SIZES
def test_a_full_day_is_entered_line_by_line(begun, signed_in_page, crew, width):
    page = signed_in_page(crew, width)
    page.goto("/")
    for _ in range(60):  # what is entered may ask for more: a culture poured wants its vessel clean
        line = page.locator(".task:not(.settled)").first
        if not line.count():
            break
        line = page.locator(f"#{line.get_attribute('id')}")
        if not line.locator("details").first.evaluate("e => e.open"):
            line.locator("summary").first.click()
        form = line.locator("form.settle").first
        for field in form.locator("input[data-needed]:visible").all():
            if not field.input_value():
                told = re.search(r"(?:about|at most|last:) ([\d,.]+)", form.inner_text())
                field.fill(told.group(1).replace(",", "").rstrip(".") if told else "20")
        sure = line.get_by_role("button", name="Yes, save it as it stands")
        save = form.get_by_role("button", name="Save", exact=True)
        page.locator("#title").evaluate("e => e.dataset.before = 'yes'")
        (sure if sure.count() else save).first.click()
        expect(page.locator("#title[data-before]")).to_have_count(0)
    done = Entry.objects.filter(task__startswith="2027-05-20/").values("task").distinct().count()
    assert done > 10
    title = page.locator("h1").inner_text()
    assert re.match(r"All (\w+) things today are done", title)
    page.reload()
    assert page.locator("h1").inner_text() == title
    assert page.locator(".task:not(.settled)").count() == 0
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@SIZES
def test_a_feeding_and_a_change_of_water_take_two_touches(begun, signed_in_page, crew, width):
    page = signed_in_page(crew, width)
    page.goto("/")
    for kind in ("feed", "change water"):
        task, hand = first_task(begun, kind, TANK), Hand(page)
        hand.touch(line_of(page, task).locator("summary").first)
        hand.touch(line_of(page, task).get_by_role("button", name="Save", exact=True).first)
        settled(page, task)
        assert hand.touches <= 3
    assert state(begun).holdings[TANK].last_fed is not None


def day_with(site, kind, monkeypatch):
    """Put the clock to the next day on which such work is due; its task."""
    for ahead in range(12):
        stop_the_clock(monkeypatch, NOON + timedelta(days=ahead))
        for task in tasks(site, here_today()):
            if task.kind == kind and task.where.startswith("large tank"):
                return task
    raise AssertionError(kind)


@pytest.mark.parametrize(
    ("kind", "typed", "told"),
    [("count", "24 22 26 23 25", "counted"), ("measure", "560 590 575 610", "measured")],
)
@SIZES
def test_a_count_and_lengths_take_three_touches(
    begun, signed_in_page, crew, monkeypatch, kind, typed, told, width
):
    task = day_with(begun, kind, monkeypatch)
    page = signed_in_page(crew, width)
    page.goto("/")
    hand, line = Hand(page), line_of(page, task)
    hand.touch(line.locator("summary").first)  # the first box has the cursor now
    page.locator(".settle input:focus").wait_for()
    if kind == "count":
        for n, part in enumerate(typed.split()):
            page.keyboard.type(part)
            if n < 4:
                page.keyboard.press("Enter")
    else:
        for n, part in enumerate(typed.split()):
            page.keyboard.type(part)
            if n < 3:
                page.keyboard.type(" ")
    hand.touch(line.get_by_role("button", name="Save", exact=True).first)
    sure = line.get_by_role("button", name="Yes, save it as it stands")
    sure.or_(page.locator(f"#{line_id(task.key)}.settled")).first.wait_for()
    if sure.count():
        hand.touch(sure.first)
    settled(page, task)
    assert hand.touches <= 3
    made = saved(task)
    assert made.kind == told
    numbers = made.payload.get("aliquots") or made.payload["lengths_mm"]
    assert len(numbers) == len(typed.split())


def test_a_reading_takes_three_touches_from_its_form(begun, signed_in_page, crew):
    page = signed_in_page(crew, PHONE)
    page.goto("/log/add/read?where=reservoir")
    hand = Hand(page)
    page.get_by_label("Quantity that was read").select_option("temperature")
    hand.touches += 1
    hand.touch(page.get_by_label("Value that was read"))
    page.keyboard.type("28.6")
    hand.touch(page.get_by_role("button", name="Save"))
    page.wait_for_url("**/log/*-*-*")
    assert hand.touches <= 3
    assert state(begun).readings["reservoir", "temperature"].value == 28.6


@SIZES
def test_a_refused_value_says_why_at_the_field_and_stays(begun, signed_in_page, crew, width):
    task = first_task(begun, "change water", TANK)
    page = signed_in_page(crew, width)
    page.goto("/")
    line = line_of(page, task)
    line.locator("summary").first.click()
    sieve = line.get_by_label("Mesh of the sieve")
    sieve.fill("9000")
    line.get_by_role("button", name="Save", exact=True).first.click()
    line.get_by_text("Not saved.").wait_for()
    field = line.get_by_label("Mesh of the sieve")
    assert field.input_value() == "9000"
    assert field.get_attribute("aria-invalid") == "true"
    told = field.get_attribute("aria-describedby").split()
    assert any("at most 5,000" in page.locator(f"[id='{one}']").inner_text() for one in told)
    assert not Entry.objects.filter(task=task.key).exists()


@SIZES
def test_an_unlikely_value_is_asked_about_and_then_saved(begun, signed_in_page, crew, width):
    task = first_task(begun, "change water", TANK)
    page = signed_in_page(crew, width)
    page.goto("/")
    line = line_of(page, task)
    line.locator("summary").first.click()
    line.get_by_label("Water", exact=True).fill("4000")
    line.get_by_role("button", name="Save", exact=True).first.click()
    line.get_by_text("Are you sure?").wait_for()
    assert line.get_by_label("Water", exact=True).input_value() == "4000"
    page.locator("[data-focus]:focus").wait_for()
    line.get_by_role("button", name="Yes, save it as it stands").click()
    settled(page, task)
    assert saved(task).payload["litres"] == 4000


def test_pressing_save_twice_fast_adds_once(begun, signed_in_page, crew):
    task = first_task(begun, "feed", TANK)
    page = signed_in_page(crew, PHONE)
    page.goto("/")
    line = line_of(page, task)
    line.locator("summary").first.click()
    line.get_by_role("button", name="Save", exact=True).first.dblclick()
    settled(page, task)
    assert Entry.objects.filter(task=task.key).count() == 1


def test_a_line_is_left_out_with_a_reason(begun, signed_in_page, crew):
    task = first_task(begun, "feed", TANK)
    page = signed_in_page(crew, PHONE)
    page.goto("/")
    line = line_of(page, task)
    line.locator("summary").first.click()
    line.locator("details.other > summary", has_text="Not done").click()
    skip = line.locator("details.other[open]")
    skip.get_by_label("Note").fill("the water is still cloudy")
    skip.get_by_role("button", name="Save").click()
    settled(page, task)
    assert "Not done, said crew A" in line_of(page, task).inner_text()
    assert saved(task).payload["skipped"] is True


def test_the_keyboard_alone_is_enough(begun, signed_in_page, crew):
    task = first_task(begun, "change water", TANK)
    page = signed_in_page(crew, DESK)
    page.goto("/")
    place = f"document.activeElement.closest('#{line_id(task.key)}')"
    for _ in range(200):
        page.keyboard.press("Tab")
        if page.evaluate(f"!!{place}"):
            break
    page.keyboard.press("Enter")
    page.locator(".settle :focus").wait_for()
    for _ in range(12):
        if page.evaluate("document.activeElement.textContent.trim() === 'Save'"):
            break
        page.keyboard.press("Tab")
    shown = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert shown != "none"
    page.keyboard.press("Enter")
    settled(page, task)
    page.locator("summary:focus").wait_for()  # and on to the next line
    assert saved(task).kind == "water changed"


@SIZES
def test_without_scripts_a_line_is_entered_and_refused_all_the_same(
    begun, signed_in_page, crew, width
):
    task = first_task(begun, "change water", TANK)
    page = signed_in_page(crew, width, scripts=False)
    page.goto("/")
    line = line_of(page, task)
    line.locator("summary").first.click()
    line.get_by_label("Mesh of the sieve").fill("9000")
    with page.expect_navigation():
        line.get_by_role("button", name="Save", exact=True).first.click()
    assert line.get_by_label("Mesh of the sieve").input_value() == "9000"  # open, with the reason
    expect(line).to_contain_text("at most 5,000")
    line.get_by_label("Mesh of the sieve").fill("300")
    with page.expect_navigation():
        line.get_by_role("button", name="Save", exact=True).first.click()
    assert page.url.endswith(f"/#{line_id(task.key)}")
    expect(line_of(page, task)).to_contain_text("Done by crew A")


@LOOKS
def test_nothing_bars_anybody(begun, signed_in_page, crew, faults_of_page, width, night):
    logged(crew, [entry("read", "reservoir", {"quantity": "temperature", "value": 34}, "05-20")])
    page = signed_in_page(crew, width, night=night)
    for address in ("/", "/today/2027-05-19", "/today/2027-05-22"):
        page.goto(address)
        if address == "/":
            page.evaluate(UNFOLD)
        assert faults_of_page(page) == [], address
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        small = page.evaluate(SMALL_TARGETS)
        assert small == [], address


def test_the_phone_loads_less_than_a_hundred_kilobytes(begun, signed_in_page, crew):
    page = signed_in_page(crew, PHONE)
    sizes = []
    page.on("requestfinished", lambda request: sizes.append(request.sizes()["responseBodySize"]))
    page.goto("/", wait_until="networkidle")
    raw = len(page.content())
    print(f"Today on a phone: {sum(sizes):,} bytes sent, {raw:,} letters of page")
    assert sum(sizes) < 100_000


def test_the_days_sheet_prints_legibly_in_black_and_white(begun, signed_in_page, crew):
    page = signed_in_page(crew, DESK)
    page.goto("/")
    page.emulate_media(media="print")
    assert page.locator(".settle:visible").count() == 0
    assert page.locator(".cautions:visible").count() > 0
    assert page.locator(".task .amount:visible").count() == page.locator(".task").count() > 10
    assert not page.locator("nav.places").is_visible()
