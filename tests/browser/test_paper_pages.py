"""Paper in a real Chromium: a label is scanned and leads to its place, a sheet is typed in."""

import os
import re
from pathlib import Path

import pytest

from protoconch.records.models import Entry
from protoconch.records.queries.answers import tasks
from protoconch.web.pages.today.days import here_today
from tests.fixtures.browser import DESK, PHONE
from tests.sheets.paper.reading import codes_in
from tests.web.pages.today.season_begun import DAY, logged, stop_the_clock

pytestmark = pytest.mark.browser
TANK = "large tank 3"
TYPED = f"/paper/{DAY}/typed?p=20270520T060000"
SMALL_TARGETS = """[...document.querySelectorAll(
  'main button, main summary, main input:not([type=hidden],[type=checkbox],[type=radio]),' +
  'main select, main a, main label.choice')]
  .filter(e => e.getClientRects().length && e.getBoundingClientRect().height < 44)
  .map(e => e.outerHTML.slice(0, 120))"""
PAGES = {"paper": "/paper", "typed": TYPED, "counts": "/paper/blank/counts/typed",
         "place": "/at/large-tank-3", "batch": "/at/batch/27C"}  # fmt: skip


@pytest.fixture
def begun(transactional_db, monkeypatch, planned_site, crew):
    stop_the_clock(monkeypatch)
    logged(crew)
    return planned_site


def task_of(site, kind, where=""):
    return next(t for t in tasks(site, here_today()) if t.kind == kind and where in t.where)


def line_of(page, task):
    own = page.locator(f'input[type=hidden][value="{task.key}"]').first
    return page.locator(f"#{own.get_attribute('name').partition('-')[0]}")


def kept(page, name, width):
    """A picture of the page, where somebody wants to look."""
    if folder := os.environ.get("PICTURES"):
        page.screenshot(path=Path(folder) / f"{name}-{width}.png", full_page=True)


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_every_page_of_paper_is_large_enough_to_touch_and_sound(
    begun, signed_in_page, crew, faults_of_page, width
):
    page = signed_in_page(crew, width)
    for name, address in PAGES.items():
        page.goto(address)
        kept(page, name, width)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, name
        assert page.evaluate(SMALL_TARGETS) == [], name
        assert faults_of_page(page) == [], name


def test_a_label_that_is_scanned_opens_its_place(
    begun, signed_in_page, crew, live, settings, tmp_path
):
    settings.ADDRESS = live.url
    page = signed_in_page(crew, PHONE)
    pdf = page.request.get("/paper/labels.pdf?of=tanks").body()
    read = {code.rpartition("/")[2]: code for code in codes_in(pdf, tmp_path)}
    page.goto(read["large-tank-3"])
    assert page.locator("h1").inner_text().startswith("Large tank 3: 9,129 larvae of 27C")
    water = task_of(begun, "change water", TANK)
    line_of(page, water).get_by_label("done", exact=True).check()
    page.get_by_role("button", name="Save all").click()
    page.get_by_text("1 line is saved.").wait_for()
    assert Entry.objects.get(task=water.key).where == TANK


def test_a_sheet_that_is_scanned_is_typed_in_on_one_screen(
    begun, signed_in_page, crew, live, settings, tmp_path
):
    settings.ADDRESS = live.url
    page = signed_in_page(crew, DESK)
    (code,) = set(codes_in(page.request.get(f"/today/{DAY}/sheet.pdf").body(), tmp_path))
    page.goto(code)
    count, water = task_of(begun, "count", TANK), task_of(begun, "change water", TANK)
    feed = task_of(begun, "feed", TANK)
    boxes = line_of(page, count).locator("input[inputmode=numeric]:visible")
    boxes.first.focus()
    for number in (18, 21, 19, 22):  # Enter goes on to the next box
        page.keyboard.type(str(number))
        page.keyboard.press("Enter")
    page.keyboard.type("20")
    line_of(page, count).get_by_label("Time").fill("07:40")
    line_of(page, water).get_by_label("Water", exact=True).fill("4000")
    line_of(page, feed).get_by_label("not done").check()
    page.get_by_role("button", name="Save all").click()
    page.get_by_text("2 lines are saved.").wait_for()  # the third is asked about, and kept
    kept(page, "asked", DESK)
    odd = line_of(page, water)
    assert odd.get_by_label("Water", exact=True).input_value() == "4000"
    odd.get_by_label("Water", exact=True).fill("400")
    page.get_by_role("button", name="Save all").click()
    page.get_by_text("1 line is saved.").wait_for()
    made = {row.task: row.payload for row in Entry.objects.filter(task__startswith=DAY)}
    assert made[count.key]["aliquots"] == [18, 21, 19, 22, 20]
    assert made[water.key]["litres"] == 400
    assert made[feed.key]["skipped"] is True
    assert len(made) == 3


def test_a_sheet_is_typed_in_with_scripts_off(begun, signed_in_page, crew):
    page = signed_in_page(crew, PHONE, scripts=False)
    page.goto(TYPED)
    water = task_of(begun, "change water", TANK)
    line_of(page, water).get_by_label("done", exact=True).check()
    page.get_by_role("button", name="Save all").click()
    assert re.search("1 line is saved", page.locator("main").inner_text())
    assert Entry.objects.filter(task=water.key).count() == 1
