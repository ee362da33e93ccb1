"""The frame of the pages in a real Chromium."""

import pytest

from tests.fixtures.browser import DESK, PHONE

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_who_is_signed_in_sees_the_pages_by_their_names(signed_in_page, crew, width):
    page = signed_in_page(crew, width)
    page.goto("/")
    assert page.get_by_role("link", name="Today").is_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_nothing_on_a_page_bars_anybody(signed_in_page, crew, faults_of_page):
    for night in (False, True):
        page = signed_in_page(crew, PHONE, night=night)
        page.goto("/")
        assert faults_of_page(page) == []


BUTTON = """(ground) => {
  const style = new CSSStyleSheet();
  style.replaceSync(`@keyframes coming { from { background: rgb(200 200 200) } }
    #pressed { color: white; background: ${ground}; animation: coming 2s }`);
  document.adoptedStyleSheets = [style];
  const button = document.createElement("button");
  button.id = "pressed";
  button.append("Look");
  document.querySelector("main").append(button);
}"""


@pytest.mark.parametrize("ground", ["rgb(0 60 80)", "rgb(200 200 200)"], ids=["dark", "faint"])
def test_colours_are_judged_once_they_have_stopped_changing(
    signed_in_page, crew, faults_of_page, ground
):
    page = signed_in_page(crew, PHONE)
    page.goto("/")
    page.evaluate(BUTTON, ground)
    faint = any("color-contrast" in fault for fault in faults_of_page(page))
    assert faint is (ground == "rgb(200 200 200)")
