"""Out and in, as people do it: by thumb, by keyboard, day and night."""

import os
import re
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

import pytest

from protoconch.operations.recording import record
from protoconch.records.queries.log import rows
from tests.fixtures.browser import DESK, LOOKS, PHONE
from tests.operations.test_photos import placed

pytestmark = pytest.mark.browser

HEADINGS = "kind,happened,where,batch,animals,litres,quantity,value,item,amount,unit,expires,text"
MISTAKES = (
    ("counting,2026-07-13 08:00,,,,,,,,,,,", 'There is no kind of entry "counting"'),
    ("note,31/02/2026 08:00,,,,,,,,,,,calm", "There is no day '31/02/2026'"),
    ("note,13/07/2026 25:10,,,,,,,,,,,calm", "The time of day in '13/07/2026 25:10' is none"),
    ("stocked,13/07/2026 09:00,large tank 77,26A,9000,400,,,,,,,", "has no large tank 77"),
    ("stocked,13/07/2026 09:00,large tank 2,26A,many,400,,,,,,,", "is 'many'"),
    ("stocked,13/07/2026 09:00,large tank 3,26A,9000,400 g,,,,,,,", "measures something else"),
    ("read,13/07/2026 09:00,large tank 1,,,,temperature,280,,,,,", "which no instrument shows"),
    ("read,13/07/2026 09:00,large tank 1,,,,warmth,28,,,,,", "The quantity that was read is"),
    ("received,13/07/2026 10:00,,,,,,,salt,25,kg,13/13/2026,", "There is no day '13/13/2026'"),
    ("note,,,,,,,,,,,,calm", "The time is missing"),
)  # fmt: skip
RIGHT = (
    ("counting,2026-07-13 08:00,,,,,,,,,,,", "note,13/07/2026 08:00,,,,,,,,,,,counting begins"),
    ("31/02/2026", "13/07/2026"),
    ("25:10", "15:10"),
    ("large tank 77", "large tank 1"),
    ("many", "9000"),
    ("400 g", "400 L"),
    ("temperature,280", "temperature,28"),
    ("warmth,28", "salinity,36"),
    ("13/13/2026", "13/12/2026"),
    ("note,,,", "note,13/07/2026 16:00,,"),
)


@pytest.fixture
def looked_at(faults_of_page):
    """Checks a page as axe and a narrow screen see it, and keeps a picture where one is asked."""

    def look(page, name):
        folder = os.environ.get("PROTOCONCH_PICTURES")
        if folder:
            page.screenshot(path=Path(folder) / f"{name}.png", full_page=True)
        assert faults_of_page(page) == []
        width = "document.documentElement.scrollWidth <= document.documentElement.clientWidth"
        assert page.evaluate(width), f"{name} scrolls sideways"

    return look


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_ten_mistakes_are_each_named_then_put_right_and_taken_in(
    crew, signed_in_page, looked_at, width
):
    page = signed_in_page(crew, width)
    page.goto("/exchange")
    looked_at(page, f"exchange-{width}")
    with page.expect_navigation():  # else the page before would be looked at
        page.get_by_role("link", name="Entries of the log").click()
    looked_at(page, f"import-start-{width}")
    text = "\n".join((HEADINGS, *(row for row, _said in MISTAKES)))
    page.get_by_label("Or paste the table").fill(text)
    with page.expect_navigation():
        page.get_by_role("button", name="Go on").click()
    looked_at(page, f"import-columns-{width}")
    with page.expect_navigation():
        page.get_by_role("button", name="Look at what it says").click()
    for number, (_row, said) in enumerate(MISTAKES, start=2):
        line = page.get_by_role("listitem").filter(
            has=page.get_by_text(re.compile(f"^Row {number}$"))
        )
        assert said in " ".join(line.all_inner_texts()), f"row {number}"
    looked_at(page, f"import-mistakes-{width}")
    assert rows(crew.site).count() == 0
    for wrong, right in RIGHT:
        assert wrong in text
        text = text.replace(wrong, right)
    page.get_by_label("Text", exact=True).fill(text)
    with page.expect_navigation():
        page.get_by_role("button", name="Look again").last.click()
    assert page.get_by_role("heading", level=1).inner_text() == "10 entries can be taken in"
    looked_at(page, f"import-ready-{width}")
    if page.get_by_label("I have looked at these rows").count():
        page.get_by_label("I have looked at these rows").check()
    page.get_by_role("button", name="Take it all in").click()
    page.wait_for_url("**/log")
    page.get_by_text("10 entries were taken in.").wait_for()
    assert rows(crew.site).count() == 10


def test_a_table_goes_in_by_keyboard_alone_and_without_scripts_at_night(
    crew, signed_in_page, looked_at
):
    page = signed_in_page(crew, PHONE, night=True, scripts=False)
    page.goto("/exchange/import?what=readings")
    page.get_by_label("Or paste the table").focus()
    page.keyboard.insert_text("Time;Temp (°F)\n13/07/2026 08:00;82,4\n")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.get_by_role("heading", level=1).filter(has_text="1 row: what are its columns?").wait_for()
    page.get_by_label("Place, where no column names it").focus()
    page.keyboard.insert_text("large tank 1")
    page.get_by_role("button", name="Look at what it says").focus()
    with page.expect_navigation():
        page.keyboard.press("Enter")
    page.get_by_role("heading", level=1).filter(has_text="1 entry can be taken in").wait_for()
    if page.get_by_label("I have looked at these rows").count():
        page.get_by_label("I have looked at these rows").focus()
        page.keyboard.press("Space")
    page.get_by_role("button", name="Take it all in").focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/log")
    assert rows(crew.site).get().payload["value"] == 28.0  # 82.4 °F


@LOOKS
def test_nothing_is_wrong_with_keys_and_photos(crew, signed_in_page, looked_at, width, night):
    raw = {"id": str(uuid4()), "kind": "note", "happened": "2026-07-13T08:00:00-04:00",
           "payload": {"text": "the larvae swim at the top"}}  # fmt: skip
    of = record(crew, [raw], datetime.now(UTC), sure=True)[0].entry
    when = "night" if night else "day"
    page = signed_in_page(crew, width, night=night)
    page.goto("/exchange")
    page.get_by_text("One table alone").click()
    looked_at(page, f"exchange-{when}-{width}")
    page.goto("/exchange/keys")
    page.get_by_label("What it is for").fill("my phone")
    with page.expect_navigation():
        page.get_by_role("button", name="An address for the calendar").click()
    assert page.get_by_label("Subscribe to it in your calendar").input_value().endswith(".ics")
    looked_at(page, f"keys-{when}-{width}")
    page.goto(f"/log/{of.id}")
    with page.expect_navigation():
        page.get_by_role("link", name="Add a photo").click()
    looked_at(page, f"photo-add-{when}-{width}")
    page.get_by_label("Photo").set_input_files(
        {"name": "larvae.jpg", "mimeType": "image/jpeg", "buffer": placed()}
    )
    page.get_by_label("What it shows").fill("larvae at the surface")
    page.get_by_role("button", name="Save the photo").click()
    page.wait_for_url(f"**/log/{of.id}")
    shown = page.get_by_role("img", name="larvae at the surface")
    assert shown.evaluate("each => each.decode().then(() => each.naturalHeight)") == 1600
    looked_at(page, f"photo-shown-{when}-{width}")
