"""People in a real Chromium: coming in, what each role reaches, the tablet of the room."""

import pytest
from playwright.sync_api import expect

from protoconch.operations.people.invitations import new_person
from protoconch.operations.people.roles import set_pin
from protoconch.records.models import Entry, Person, Role
from tests.fixtures.browser import DESK, LOOKS, PHONE

pytestmark = pytest.mark.browser
WORDS = "three conchs in a bucket"


@pytest.fixture
def person(site):
    return new_person(site, "Crew B", WORDS, Role.CREW)


def keys(page, *names):
    for name in names:
        page.keyboard.press(name)


def focused(page):
    return page.evaluate("document.activeElement.name || document.activeElement.textContent.trim()")


def test_the_keyboard_alone_suffices_to_sign_in(browser_page, person):
    page = browser_page(DESK)
    page.goto("/me/")
    keys(page, "Tab")
    assert focused(page) == "To the content"
    keys(page, "Enter", "Tab")
    while focused(page) != "name":
        keys(page, "Tab")
    page.keyboard.type("crew b")
    keys(page, "Tab")
    page.keyboard.type("not my password")
    keys(page, "Enter")
    expect(page.get_by_role("alert")).to_contain_text("Name and password")
    expect(page.get_by_label("Your name")).to_have_value("crew b")
    page.get_by_label("Password").focus()
    page.keyboard.type(WORDS)
    keys(page, "Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("You are Crew B, Crew")


def test_where_the_keyboard_stands_is_seen(browser_page, person):
    page = browser_page(PHONE)
    page.goto("/sign-in/")
    keys(page, "Tab", "Tab")
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline == "solid"


def test_somebody_invited_comes_in_by_the_words_with_scripts_off(
    signed_in_page, browser_page, manager
):
    page = signed_in_page(manager, DESK, scripts=False)
    page.goto("/people/invite/")
    page.get_by_role("button", name="Show the code").click()
    code = page.locator(".said").inner_text()
    expect(page.get_by_role("img", name="The code as a square to scan")).to_be_visible()
    other = browser_page(PHONE, scripts=False)
    other.goto("/join/")
    other.get_by_label("Code from your manager").fill(code)
    other.get_by_label("Your name").fill("Crew C")
    other.get_by_label("Password").fill(WORDS)
    with other.expect_navigation():
        other.get_by_role("button", name="Come in").click()
    assert Person.objects.get(name="Crew C").role == Role.CREW
    other.goto("/me/")
    assert "Crew C" in other.get_by_role("heading", level=1).inner_text()


def test_a_phone_that_was_lost_is_signed_out_from_another(browser_page, person):
    def signed_in(width):
        page = browser_page(width)
        page.goto("/sign-in/?next=/me/")
        page.get_by_label("Your name").fill("Crew B")
        page.get_by_label("Password").fill(WORDS)
        with page.expect_navigation():
            page.get_by_role("button", name="Sign in").click()
        return page

    lost, kept = signed_in(PHONE), signed_in(DESK)
    kept.reload()
    kept.get_by_role("button", name="End ").click()
    kept.get_by_text("That device is signed out.").wait_for()
    lost.goto("/me/")
    assert "/sign-in/" in lost.url


REACHED = {
    "viewer": {"/site/": True, "/me/": True, "/people/": False, "/site/change/target/": False},
    "crew": {"/site/": True, "/me/tablet-number/": True, "/people/": False, "/site/text/": False},
    "manager": {"/site/": True, "/people/": True, "/site/change/target/": True},
}


@pytest.mark.parametrize("role", REACHED)
def test_each_role_reaches_what_it_may_and_is_told_what_it_may_not(signed_in_page, role, request):
    page = signed_in_page(request.getfixturevalue(role), PHONE)
    for address, open_ in REACHED[role].items():
        answer = page.goto(address)
        assert (answer.status == 200) is open_, address
        refused = "not open to you" in page.get_by_role("heading", level=1).inner_text()
        assert refused is not open_


def test_the_tablet_asks_who_before_it_saves(signed_in_page, manager, crew):
    page = signed_in_page(manager, 820)
    page.goto("/people/tablet/")
    with page.expect_navigation():
        page.get_by_role("button", name="Make it the tablet").click()
    page.goto("/me/")
    assert page.get_by_role("heading", level=1).inner_text() == "This is the tablet of the room"
    assert page.get_by_role("button", name="Sign out here").count() == 0
    assert page.goto("/people/").status == 403


@pytest.fixture
def tablet(signed_in_page, manager, crew):
    """Gives the tablet of the room, with or without scripts."""

    def opened(*, scripts):
        page = signed_in_page(manager, 820, scripts=scripts)
        page.goto("/people/tablet/")
        page.get_by_role("button", name="Make it the tablet").click()
        page.get_by_text("This is the tablet of the room now.").wait_for()
        return page

    return opened


@pytest.mark.parametrize("scripts", [True, False])
@pytest.mark.parametrize("number", ["", "4711"])
def test_at_the_tablet_an_entry_stands_under_the_name_that_was_touched(
    tablet, crew, scripts, number
):
    set_pin(crew, number)
    page = tablet(scripts=scripts)
    for words in ("the pump hums", "the pump is still"):
        page.goto("/log/add/note")
        page.get_by_label("Text", exact=True).fill(words)
        page.get_by_role("button", name="Save", exact=True).click()
        page.get_by_role("button", name=crew.name, exact=True).click()
        if number:
            page.get_by_label("Number for the tablet").fill(number)
            page.get_by_role("button", name="Save", exact=True).click()
        page.get_by_text("Who is it?").wait_for(state="hidden")
        page.get_by_text("Your number").wait_for(state="hidden")
        page.wait_for_url(lambda url: "/log/add/note" not in url)
    said = Entry.objects.order_by("number").values_list("who", "payload__text")
    assert [who for who, _ in said] == ["crew A", "crew A"]


def test_the_question_at_the_tablet_bars_nobody(tablet, faults_of_page):
    page = tablet(scripts=True)
    page.goto("/log/add/note")
    page.get_by_label("Text", exact=True).fill("the pump hums")
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_role("dialog", name="Who is it?").wait_for()
    assert faults_of_page(page) == []
    page.get_by_role("button", name="Nobody: go back").click()
    expect(page.get_by_role("dialog", name="Who is it?")).to_be_hidden()
    expect(page.get_by_label("Text", exact=True)).to_have_value("the pump hums")
    assert not Entry.objects.exists()


def test_the_pages_stand_under_the_thumb_and_hide_nothing(signed_in_page, manager):
    page = signed_in_page(manager, PHONE)
    page.goto("/people/")
    bar = page.get_by_role("navigation", name="Pages").bounding_box()
    assert bar["y"] + bar["height"] == pytest.approx(844, abs=1)
    page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    end = page.locator("main").bounding_box()
    assert end["y"] + end["height"] <= page.get_by_role("navigation").bounding_box()["y"] + 1
    for link in page.get_by_role("navigation").get_by_role("link").all():
        box = link.bounding_box()
        assert box["height"] >= 48
        assert box["width"] >= 48


PAGES = ["/me/", "/me/password/", "/me/tablet-number/", "/people/", "/people/invite/",
         "/people/tablet/", "/nothing/here/"]  # fmt: skip


@LOOKS
def test_nothing_bars_anybody(signed_in_page, manager, crew, faults_of_page, night, width):
    page = signed_in_page(manager, width, night=night)
    for address in (*PAGES, f"/people/{crew.pk}/"):
        page.goto(address)
        assert faults_of_page(page) == [], address
        assert page.evaluate("document.documentElement.scrollWidth") <= width, address


@pytest.mark.parametrize("night", [False, True])
def test_nothing_bars_a_newcomer(browser_page, person, faults_of_page, night):
    page = browser_page(PHONE, night=night)
    for address in ("/sign-in/", "/join/"):
        page.goto(address)
        assert faults_of_page(page) == [], address
        for field in page.locator("main input:visible:not([type=checkbox])").all():
            field.fill("not what is asked")
        with page.expect_navigation():
            page.locator("main form button").first.click()
        page.get_by_role("alert").or_(page.locator(".error")).first.wait_for()
        assert faults_of_page(page) == [], f"{address} with faults"
