"""From nobody known to a plan of one's own, in a real Chromium."""

import pytest
from playwright.sync_api import expect

from protoconch.operations import planning
from protoconch.operations.starting import first_code
from protoconch.records.models import Person, Site
from protoconch.records.queries.site import hatchery
from tests.fixtures.browser import DESK, LOOKS, PHONE

pytestmark = pytest.mark.browser
WORDS = "three conchs in a bucket"


@pytest.fixture(autouse=True)
def asked(monkeypatch):
    found = []
    monkeypatch.setattr(planning, "make_plan", found.append)
    return found


def title(page):
    return page.get_by_role("heading", level=1).inner_text()


def at(page, number):
    page.get_by_text(f"Question {number} of 11", exact=True).wait_for()


def press(page, name, *, then):
    with page.expect_navigation():  # the next page may bear the same number
        page.get_by_role("button", name=name, exact=True).click()
    at(page, then)


@pytest.mark.parametrize(("width", "scripts"), [(PHONE, True), (DESK, True), (PHONE, False)])
def test_a_newcomer_comes_from_the_first_page_to_a_plan(browser_page, asked, width, scripts):
    page = browser_page(width, scripts=scripts)
    page.goto("/")
    assert title(page) == "Nobody is known here yet"
    page.get_by_label("Code that the program printed").fill(first_code())
    page.get_by_role("button", name="Begin").click()
    page.get_by_label("What is the hatchery called?").fill("Practice hatchery")
    page.get_by_label("Where does it stand?").fill("A cay that does not exist")
    for number in range(2, 10):
        press(page, "On", then=number)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.get_by_label("Where may they be collected?").fill("the north bank")
    press(page, "On", then=9)
    page.get_by_text("This field is required.").wait_for()
    page.get_by_label("Number of the permit").fill("none yet")
    press(page, "On", then=10)
    press(page, "Back", then=9)
    expect(page.get_by_label("Number of the permit")).to_have_value("none yet")
    press(page, "On", then=10)
    press(page, "On", then=11)
    page.get_by_label("Your name").fill("Manager A")
    page.get_by_label("Password").fill(WORDS)
    page.get_by_role("button", name="Make the plan").click()
    page.wait_for_url("**/season*")
    assert hatchery(Site.objects.get()).name == "Practice hatchery"
    assert asked == [Site.objects.get()]
    page.get_by_role("link", name="Manager A").wait_for()


def test_the_keyboard_alone_suffices(browser_page, live):
    page = browser_page(DESK)
    page.goto(f"/welcome/?code={first_code().replace(' ', '-')}")

    def to(name):
        for _ in range(40):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.name") == name:
                return
        pytest.fail(f"The keyboard does not reach {name}")

    typed = {"name": "Practice hatchery", "place": "Nowhere"}
    for number in range(11):
        at(page, number + 1)
        if number == 8:
            typed = {"area": "a bank", "number": "none yet"}
        if number == 10:
            typed = {"name": "Manager A", "password": WORDS}
        for name, words in typed.items():
            to(name)
            page.keyboard.type(words)
        typed = {}
        to("go")
        with page.expect_navigation():
            page.keyboard.press("Enter")
    page.wait_for_url("**/season*")
    assert Person.objects.get().name == "Manager A"


def test_the_zone_of_the_browser_is_offered(browser_page, chromium, live):
    context = chromium.new_context(base_url=live.url, timezone_id="America/Belize")
    page = context.new_page()
    page.goto(f"/welcome/?code={first_code().replace(' ', '-')}")
    assert page.get_by_label("Time zone").input_value() == "America/Belize"
    context.close()


@LOOKS
def test_nothing_bars_anybody(browser_page, faults_of_page, night, width):
    page = browser_page(width, night=night)
    page.goto("/welcome/")
    assert faults_of_page(page) == []
    page.goto(f"/welcome/?code={first_code().replace(' ', '-')}")
    from protoconch.web.pages.welcome.questions import KEYS

    for key in KEYS:
        page.goto(f"/welcome/{key}/")
        assert faults_of_page(page) == [], key
        if key in ("where", "permit", "manager"):
            with page.expect_navigation():
                page.get_by_role(
                    "button", name="Make the plan" if key == "manager" else "On"
                ).click()
            page.locator(".error").first.wait_for()
            assert faults_of_page(page) == [], f"{key} with faults"
