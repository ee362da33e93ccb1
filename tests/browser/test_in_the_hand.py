"""All main pages as they are held: in the sun and by night, with gloves, in one hand."""

from pathlib import Path

import pytest

from protoconch.records.queries.answers import planned, tasks
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.web.pages.today.blanks import beside
from protoconch.web.pages.today.days import here_today
from protoconch.web.pages.today.lines import line_id
from protoconch.work.entries.of_task import ways
from tests.fixtures.browser import PHONE, at_rest
from tests.web.pages.today.season_begun import DAY, logged, stop_the_clock

pytestmark = pytest.mark.browser

SMALL_PHONE = 360
LOOK = Path(__file__).with_name("in_the_hand.js").read_text()
WORKED_AT = (
    "/", f"/today/{DAY}/ways", "/log/add", "/log/add/counted", "/log/add/read", "/log/add/fed",
    "/log/add/culture-counted", "/how-to/change-water",
)  # fmt: skip
"""Pages that are used with wet hands: words at 7:1, everything touched at 44 px."""
READ_AT = (
    "/season", "/batches", "/algae", "/water", "/log", "/site/", "/reports", "/how-to", "/paper",
    "/me/",
)  # fmt: skip
"""Pages that are read: words at 4.5:1; links inside sentences may be as high as the sentence."""
UNFOLD = """document.querySelectorAll('details').forEach(one => {
  one.removeAttribute('name'); one.open = true;
})"""
REACH = 0.4
"""Share of the screen, from its top, that a thumb does not reach without shifting the grip;
assumption, no source."""


@pytest.fixture
def begun(monkeypatch, transactional_db, planned_site, crew):
    stop_the_clock(monkeypatch)
    logged(crew)
    return planned_site


@pytest.mark.parametrize(
    ("width", "night"), [(SMALL_PHONE, False), (PHONE, True)], ids=["sun", "night"]
)
def test_words_stand_out_and_what_is_touched_is_large(begun, signed_in_page, crew, width, night):
    page = signed_in_page(crew, width, night=night)
    faults, least = [], {}
    for address in (*WORKED_AT, *READ_AT):
        page.goto(address)
        page.evaluate(UNFOLD)
        at_rest(page)
        at_work = address in WORKED_AT
        seen = page.evaluate(f"{LOOK.rstrip().rstrip(chr(59))}({str(at_work).lower()})")
        least[address] = seen["contrasts"][0][0]
        asked = 7.0 if at_work else 4.5
        faults += [f"{address}: {r:.2f} {w}" for r, w in seen["contrasts"] if r < asked]
        faults += [f"{address}: {t}" for t in seen["targets"]]
        faults += [f"{address}: only under a pointer: {t}" for t in seen["pointed"]]
        faults += [f"{address}: opens letters: {t}" for t in seen["letters"]]
        if seen["wide"] > width:
            faults.append(f"{address}: {seen['wide']} px wide")
    print(
        f"least contrast {min(least.values()):.2f}; at work {min(least[a] for a in WORKED_AT):.2f}"
    )
    assert faults == []


def test_the_number_expected_or_read_last_stands_beside_its_field(begun, signed_in_page, crew):
    page = signed_in_page(crew, PHONE)
    page.goto("/")
    present, described, plan = state(begun), hatchery(begun), planned(begun)
    told, nothing = 0, set()
    for task in tasks(begun, here_today()):
        usual = ways(task, present, described, plan.algae)[0]
        form = page.locator(f"#{line_id(task.key)} form.settle").first
        for blank in (blank for asked in usual.asked for blank in asked.fields):
            if beside(blank):
                told += 1
                assert str(beside(blank)) in form.text_content()
            elif blank.needed and blank.value is None and blank.sort in ("number", "whole"):
                nothing.add(blank.name)
    assert told >= 3
    assert nothing <= {"removed"}  # nobody knows before how many are too many


def test_the_thumb_reaches_the_pages_and_what_saves(begun, signed_in_page, crew):
    page = signed_in_page(crew, PHONE)
    page.goto("/")
    height = page.viewport_size["height"]
    for link in page.locator("nav.places a").all():
        assert link.bounding_box()["y"] > (1 - REACH) * height
    bar = page.locator("nav.places").bounding_box()["y"]
    reached = []
    for line in page.locator(".task:not(.settled)").all():
        line.locator("summary").first.click()
        page.wait_for_timeout(50)
        save = line.locator(".settle button:visible").last.bounding_box()
        assert save["y"] + save["height"] <= bar, line.inner_text()[:60]
        reached.append(save["y"] > REACH * height)
        line.locator("summary").first.click()
    print(f"Save within reach of the thumb at {sum(reached)} of {len(reached)} lines")
    assert sum(reached) >= 0.8 * len(reached)


def test_pages_read_the_same_without_scripts(begun, signed_in_page, crew):
    with_scripts = signed_in_page(crew, PHONE)
    without = signed_in_page(crew, PHONE, scripts=False)
    for address in ("/", "/season", "/batches", "/algae", "/water", "/log", "/how-to/thin"):
        seen = []
        for page in (with_scripts, without):
            page.goto(address)
            seen.append(page.locator("main").inner_text())
        assert len(seen[1]) > 0.95 * len(seen[0]) > 100, address
        assert without.locator("h1").is_visible()


def test_the_other_ways_are_there_when_the_network_is_gone(begun, signed_in_page, crew):
    page = signed_in_page(crew, PHONE)
    with page.expect_response("**/ways") as behind:
        page.goto("/")
    behind.value.finished()
    page.context.set_offline(True)
    line = page.locator(".task:not(.settled)").first
    line.locator("summary").first.click()
    line.locator("details.other > summary", has_text="Not done").click()
    line.locator("details.other[open] button").click()
    line.locator(".on-phone").wait_for()
    assert line.locator(".working").count() == 1
