"""The algae room, on a phone and on a desk."""

from datetime import timedelta

import pytest

from protoconch.operations.algae_room import make_room
from tests.fixtures.browser import DESK, LOOKS, PHONE
from tests.web.pages.algae.test_algae import count, day, log, noon, start

pytestmark = pytest.mark.browser
__all__ = ["day", "noon"]


@pytest.fixture
def room(transactional_db, planned_site, noon):
    """Some cultures by the log, each standing otherwise."""
    now = noon
    start(planned_site, now, "carboy 2", 6)
    count(planned_site, now, 6.1)
    start(planned_site, now, "carboy 3", 7, species="c-muelleri")
    log(planned_site, "harvested", "carboy 3", now, litres=4.0)
    start(planned_site, now, "flask 1", 1, litres=0.25)
    start(planned_site, now, "bottle 4", 60, litres=2.0)
    start(planned_site, now, "bottle 5", 4, litres=2.0)
    count(planned_site, now, 2.0, "bottle 5", found="bacteria")
    make_room(planned_site, now + timedelta(seconds=1))
    return planned_site


@LOOKS
def test_nothing_is_wrong_with_the_pages(room, crew, signed_in_page, faults_of_page, width, night):
    page = signed_in_page(crew, width, night=night)
    vessels = [f"/algae/vessels/carboy {number}" for number in (2, 3, 9)]
    for address in ("/algae", *vessels, "/algae/bench", "/algae/bench?litres=x"):
        page.goto(address)
        page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
        assert faults_of_page(page) == [], address
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
        assert sum(page.evaluate(
            "[...document.querySelectorAll('main button, main summary, main .button, main input')]"
            ".map(e => e.getBoundingClientRect()).map(r => r.height > 0 && r.height < 43.5)"
        )) == 0, address  # fmt: skip


@pytest.mark.parametrize("scripts", [True, False])
def test_a_culture_is_counted_from_its_own_page(room, crew, signed_in_page, scripts):
    page = signed_in_page(crew, PHONE, scripts=scripts)
    page.goto("/algae")
    page.get_by_role("link", name="Carboy 2").click()
    page.get_by_role("link", name="Count", exact=True).click()
    assert page.get_by_label("Place").input_value() == "carboy 2"
    page.locator("[name='payload.cells_per_ml']").fill("7200000")
    with page.expect_navigation():
        page.get_by_role("button", name="Save").click()
    if page.get_by_text("Are you sure?").count():
        page.get_by_role("button", name="Yes, save it").click()
    page.wait_for_url("**/log/*-*")
    page.goto("/algae/vessels/carboy 2")
    assert "7.2" in page.locator("#h-curve ~ table").inner_text()


def test_the_bench_works_by_keyboard_alone(room, crew, signed_in_page):
    page = signed_in_page(crew, DESK)
    page.goto("/algae/bench")
    page.get_by_label("Volume").focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("3.5 L")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="3.5 L of f/2").wait_for()
    assert "1.75 mL" in page.locator("#h-in ~ ul").inner_text()
