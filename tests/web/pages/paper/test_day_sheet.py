"""What is printed says what the pages say, in each language that is offered."""

import time
from datetime import date, datetime

import pytest
from django.conf import settings
from django.utils import timezone, translation

from protoconch.records.queries.answers import tasks
from protoconch.records.queries.log import state
from protoconch.web.pages.paper.blank_sheets import SHEETS
from tests.sheets.paper.reading import codes_in, same_words, text_of
from tests.web.pages.today.season_begun import DAY, logged, stop_the_clock

LANGUAGES = [code for code, _name in settings.LANGUAGES]
ON = date.fromisoformat(DAY)
STORED = f"http://testserver/paper/{DAY}/typed?p=20270520T110000"


@pytest.fixture
def begun(monkeypatch, planned_site, crew):
    stop_the_clock(monkeypatch)
    logged(crew)
    return planned_site


@pytest.fixture
def printed(begun, viewer, client_of, tmp_path):
    """Gives the PDF at an address, for a reader of a language."""

    def of(address, language="en"):
        viewer.language = language
        viewer.save()
        answer = client_of(viewer).get(address)
        assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
        return answer.content

    return of


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_open_line_stands_on_the_sheet_with_its_amount(printed, begun, language, tmp_path):
    pdf = printed(f"/today/{DAY}/sheet.pdf", language)
    text = same_words(text_of(pdf, tmp_path, layout=False))
    with translation.override(language):
        work = tasks(begun, ON)
        assert len(work) > 3
        for task in work:
            for words in (task.what, task.where, task.amount, *task.cautions):
                assert same_words(str(words)) in text


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_sheet_has_the_title_of_the_page(printed, viewer, client_of, language, tmp_path):
    pdf = printed(f"/today/{DAY}/sheet.pdf", language)
    page = same_words(client_of(viewer).get(f"/today/{DAY}").content.decode())
    head = text_of(pdf, tmp_path, layout=False).split("\n")
    title = same_words(head[2])
    assert title in page.replace("&#x27;", "'"), head[:5]


def test_the_code_leads_to_the_lines_of_the_moment_it_was_printed(printed, tmp_path):
    assert codes_in(printed(f"/today/{DAY}/sheet.pdf"), tmp_path, first=True) == [STORED]


def test_the_foot_says_when_it_was_printed_and_where_the_codes_lead(printed, tmp_path):
    text = text_of(printed(f"/today/{DAY}/sheet.pdf"), tmp_path)
    assert "printed 20 May, 11:00; the codes lead to http://testserver" in text


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_week_has_the_work_of_each_of_its_days(printed, begun, language, tmp_path):
    pdf = printed(f"/paper/{DAY}/week.pdf", language)
    text = same_words(text_of(pdf, tmp_path, layout=False))
    with translation.override(language):
        for ahead in range(7):
            for task in tasks(begun, date(2027, 5, 20 + ahead)):
                assert same_words(str(task.what)) in text
                assert same_words(str(task.where)) in text
    days = {f"http://testserver/today/2027-05-{20 + ahead}" for ahead in range(7)}
    assert set(codes_in(pdf, tmp_path)) == days


def test_a_card_tells_where_a_batch_is_from_and_leaves_room_for_counts(printed, tmp_path):
    pdf = printed("/paper/batches/27C/card.pdf")
    text = text_of(pdf, tmp_path)
    for words in ("Batch 27C", "C1", "8 May 2027", "large tank 3", "Alive", "Expected alive"):
        assert words in text
    assert text.count("\f") == 1, "one page"
    assert codes_in(pdf, tmp_path) == ["http://testserver/at/batch/27C"]


def test_a_planned_batch_has_a_card_as_well(printed, tmp_path):
    text = text_of(printed("/paper/batches/27E/card.pdf"), tmp_path)
    assert "planned" in text


def test_each_tank_has_a_label_that_leads_to_it(printed, viewer, client_of, tmp_path):
    codes = codes_in(printed("/paper/labels.pdf?of=tanks&size=a4-8"), tmp_path)
    assert len(codes) == len(set(codes)) > 5
    client = client_of(viewer)
    for code in codes:
        assert client.get(code.removeprefix("http://testserver")).status_code == 200
    assert "http://testserver/at/large-tank-3" in codes


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("slug", SHEETS)
def test_a_blank_sheet_asks_what_its_screen_asks(
    printed, crew, client_of, slug, language, tmp_path
):
    crew.language = language
    crew.save()
    page = same_words(client_of(crew).get(f"/paper/blank/{slug}/typed").content.decode())
    pdf = printed(f"/paper/blank/{slug}.pdf", language)
    text = text_of(pdf, tmp_path, layout=False)
    with translation.override(language):
        sheet = SHEETS[slug]
        for words in (str(sheet.name), str(sheet.under)):
            assert same_words(words) in same_words(text)
            assert same_words(words) in page
        for asked in sheet.asked():
            for blank in asked.fields:
                label = str(blank.words)
                assert same_words(label[:1].upper() + label[1:]) in same_words(text)
                assert same_words(label[:1].upper() + label[1:]) in page
    assert codes_in(pdf, tmp_path) == [f"http://testserver/paper/blank/{slug}/typed"]
    assert text.count("\f") == 1, "one page"


def test_places_in_use_stand_on_a_blank_sheet(printed, begun, tmp_path):
    text = text_of(printed("/paper/blank/counts.pdf"), tmp_path)
    for place in state(begun).holdings:
        assert place in text


def test_the_codes_lead_where_the_setting_says(printed, settings, tmp_path):
    settings.ADDRESS = "https://hatchery.example/"
    codes = codes_in(printed("/paper/blank/losses.pdf"), tmp_path)
    assert codes[0].startswith("https://hatchery.example/paper/")


def test_opened_on_this_very_computer_the_codes_lead_to_its_address_in_the_network(
    begun, viewer, client_of, monkeypatch, settings
):
    monkeypatch.setattr("protoconch.web.pages.paper.leading.address_here", lambda: "192.0.2.7")
    page = client_of(viewer).get("/paper", headers={"host": "localhost:8000"}).content.decode()
    assert "http://192.0.2.7:" in page
    assert "only this computer knows" in page
    settings.ADDRESS = "https://hatchery.example/"
    page = client_of(viewer).get("/paper", headers={"host": "localhost:8000"}).content.decode()
    assert "https://hatchery.example</b>" in page
    assert "only this computer knows" not in page


def test_a_size_of_paper_is_remembered_on_the_device(begun, viewer, client_of, tmp_path):
    client = client_of(viewer)
    client.get("/paper?paper=a4")
    pdf = client.get(f"/today/{DAY}/sheet.pdf").content
    assert b"/MediaBox [0 0 595" in pdf or b"/MediaBox[0 0 595" in pdf


def test_a_sheet_is_pressed_in_a_second_and_a_half(printed):
    printed(f"/today/{DAY}/sheet.pdf")  # what is loaded once
    began = time.process_time()
    printed(f"/today/{DAY}/sheet.pdf")
    assert time.process_time() - began < 1.5


def test_the_page_of_paper_leads_to_every_sheet(begun, viewer, client_of):
    client = client_of(viewer)
    page = client.get("/paper").content.decode()
    wanted = [f"/today/{DAY}/sheet.pdf", f"/paper/{DAY}/week.pdf", "/paper/batches/27C/card.pdf",
              *(f"/paper/blank/{slug}.pdf" for slug in SHEETS), "/paper/labels.pdf"]  # fmt: skip
    for address in wanted:
        assert f'"{address}"' in page
    assert '<b class="code">http://testserver</b>' in page


def test_what_is_not_there_is_not_found(begun, viewer, client_of):
    client = client_of(viewer)
    for address in ("/paper/blank/nothing.pdf", "/paper/batches/none/card.pdf", "/at/nowhere",
                    "/at/batch/none", "/paper/2027-02-30/week.pdf"):  # fmt: skip
        assert client.get(address).status_code == 404, address


def test_a_sheet_of_a_moment_keeps_its_lines(begun, crew, client_of, tmp_path):
    """Tomorrow's sheet printed today has the lines that its code will show."""
    from protoconch.records.queries import answers
    from protoconch.web.pages.paper.printed import on_paper, when

    with timezone.override(begun.zone):  # as a page of the hatchery is answered
        printed = when("20270520T110000")
    before = on_paper(begun, answers.planned(begun), date(2027, 5, 21), printed)
    water = {"share": 1.0, "litres": 400.0}
    from tests.web.pages.today.season_begun import entry

    logged(crew, [entry("water changed", "large tank 3", water, "05-20", "10:30")])
    later = on_paper(begun, answers.planned(begun), date(2027, 5, 21), printed)
    assert [line.number for line in before] == list(range(1, len(before) + 1))
    assert datetime.fromisoformat("2027-05-20T11:00-04:00") == printed
    assert [line.task.where for line in before] == [line.task.where for line in later]
