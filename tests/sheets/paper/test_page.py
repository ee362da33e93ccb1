"""A sheet of paper says what it was given, can be read without us, and leads back."""

import subprocess
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from protoconch.sheets.paper.blank_sheet import BlankSheet, Column, blank_pdf
from protoconch.sheets.paper.labels import STOCKS, Label, labels_pdf
from protoconch.sheets.paper.page import (
    Box,
    Card,
    Fact,
    Line,
    Part,
    Sheet,
    card_pdf,
    sheet_pdf,
)
from protoconch.sheets.paper.week import Day, Kind, Week, week_pdf
from protoconch.words import day_text, say
from protoconch.words.reader import Reader
from tests.sheets.paper.reading import codes_in, codes_on, pages_of, same_words, text_of

ADDRESS = "http://192.168.1.20:8000/today/2027-07-14/sheet"
LINES = tuple(
    Line(n, "Count the larvae", f"large tank {n}", "5 aliquots of 100 mL", "It shows early.",
         boxes=(Box("aliquots", "", 5, "last 31–44"), Box("dead", "")))
    for n in range(1, 15)
)  # fmt: skip
SHEET = Sheet("An invented hatchery", "Wednesday 14 July 2027", "Fourteen things to do.", ADDRESS,
              (Part("Morning", LINES[:9]), Part("Evening", LINES[9:])),
              ("Unplug pumps before reaching into water: #1 *of* $all$ [cautions].",))  # fmt: skip


def test_every_line_and_caution_stands_on_the_paper_as_given(tmp_path: Path) -> None:
    text = " ".join(text_of(sheet_pdf(SHEET), tmp_path).split())
    for line in LINES:
        assert f"{line.what}, {line.where}" in text
        assert line.amount in text
    assert SHEET.title in text
    assert SHEET.cautions[0] in text
    assert text.count("last 31–44") == len(LINES)


def test_a_line_is_never_torn_over_two_pages(tmp_path: Path) -> None:
    pages = text_of(sheet_pdf(SHEET), tmp_path).split("\f")
    for page in pages:
        assert page.count("Count the larvae") == page.count("aliquots · last")


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_code_leads_back_to_the_place_to_type_it_in(paper: str, tmp_path: Path) -> None:
    assert set(codes_in(sheet_pdf(SHEET, paper), tmp_path)) == {ADDRESS}


LABELS = tuple(
    Label(f"large tank {n}", "400 L", "27A", f"http://192.168.1.20:8000/at/large-tank-{n}")
    for n in range(1, 17)
)
CARD = Card("An invented hatchery", "Batch 27A", "From 3 egg masses.", ADDRESS,
            (Fact("Egg masses", "M01, M02, M03"),), ("Date", "Tank", "Alive"),
            (("2 May", "large tank 1", "40,000"),))  # fmt: skip
WEEK = Week("An invented hatchery", "A week", "Two days of it.", ADDRESS, (
    Day("Monday 3 May", "", (Kind("Feed", (("large tank 1", "2 L"), ("large tank 2", "3 L"))),),
        "http://192.168.1.20:8000/today/2027-05-03"),
    Day("Tuesday 4 May", "", (), "http://192.168.1.20:8000/today/2027-05-04")))  # fmt: skip
BLANK = BlankSheet("An invented hatchery", "Counts", "One row each.", ADDRESS, "Place", (
    Column("Aliquots", "", 5, share=3.0), Column("Water", "L", hint="as read")),
    ("large tank 1", "large tank 2"), cautions=("Unplug first.",))  # fmt: skip
ALL: dict[str, Callable[[], bytes]] = {
    "sheet": lambda: sheet_pdf(SHEET), "card": lambda: card_pdf(CARD),
    "week": lambda: week_pdf(WEEK), "blank": lambda: blank_pdf(BLANK),
    "labels": lambda: labels_pdf(LABELS[:3]),
}  # fmt: skip


@pytest.mark.parametrize("size", STOCKS)
def test_each_label_leads_to_its_own_place(size: str, tmp_path: Path) -> None:
    pdf = labels_pdf(LABELS, stock=size, used=3)
    assert sorted(codes_in(pdf, tmp_path)) == sorted(label.address for label in LABELS)
    text = same_words(text_of(pdf, tmp_path, layout=False))
    assert all(same_words(label.name) in text for label in LABELS)
    assert len(pages_of(pdf, tmp_path, 20)) == -(-(len(LABELS) + 3) // STOCKS[size].number)


@pytest.mark.parametrize("size", STOCKS)
def test_labels_fit_on_their_sheet(size: str) -> None:
    stock = STOCKS[size]
    wide, high = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}[stock.paper]
    row = stock.left_mm + stock.across * stock.width_mm + (stock.across - 1) * stock.gap_mm
    assert row <= wide
    assert stock.top_mm + stock.down * stock.height_mm <= high
    assert abs(wide - row - stock.left_mm) < 1.0, "the margins left and right are alike"


def test_a_stained_label_is_still_read(tmp_path: Path) -> None:
    from PIL import Image, ImageDraw

    (page,) = pages_of(labels_pdf(LABELS[:1]), tmp_path)
    with Image.open(page) as opened:
        picture = opened.convert("RGB")
    middle, wide = (79.7, 38.1), 13.0  # where the code of the first label is [mm], and a drop
    left, top, right, bottom = (
        round((at + side * wide / 2) * 150 / 25.4) for side in (-1, 1) for at in middle
    )
    ImageDraw.Draw(picture).ellipse((left, top, right, bottom), fill="grey")
    picture.save(page)
    assert codes_on([page]) == [LABELS[0].address]


@pytest.mark.parametrize("form", ALL)
def test_all_is_black_on_white_and_dark_enough_to_read(form: str, tmp_path: Path) -> None:
    """No meaning by colour: every ink is a grey, and the palest one has 4.5 to 1 against white."""
    import re
    import zlib

    from PIL import Image, ImageChops

    pdf = ALL[form]()
    for page in pages_of(pdf, tmp_path, 60):
        with Image.open(page) as picture:
            red, green, blue = picture.convert("RGB").split()
            for one, other in ((red, green), (green, blue)):
                assert (ImageChops.difference(one, other).getextrema())[1] <= 2
    inks = set()
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL):
        try:
            drawn = zlib.decompress(stream)
        except zlib.error:
            continue
        inks |= {float(g) for g in re.findall(rb"(?<=\s)([\d.]+) (?:g|G|scn|SCN)\s", drawn)}
    assert inks, "no ink was found"
    for grey in inks - {1.0}:
        light = grey / 12.92 if grey <= 0.04045 else ((grey + 0.055) / 1.055) ** 2.4
        assert 1.05 / (light + 0.05) >= 4.5, grey


@pytest.mark.parametrize("form", ALL)
def test_no_letter_is_too_small_for_a_wet_room(form: str, tmp_path: Path) -> None:
    import re

    (tmp_path / "s.pdf").write_bytes(ALL[form]())
    told = subprocess.run(["pdftotext", "-bbox", tmp_path / "s.pdf", "-"], capture_output=True,
                          text=True, check=True).stdout  # fmt: skip
    heights = [float(low) - float(high) for high, low in re.findall(
        r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)"', told)]  # fmt: skip
    assert heights
    assert min(heights) >= 10.0


def test_a_week_says_who_does_what_on_which_day_and_each_day_leads_there(tmp_path: Path) -> None:
    pdf = week_pdf(WEEK)
    text = same_words(text_of(pdf, tmp_path))
    for words in ("Monday 3 May", "Tuesday 4 May", "Feed", "large tank 2", "3 L", "who"):
        assert same_words(words) in text
    assert sorted(codes_in(pdf, tmp_path)) == sorted({ADDRESS, *(d.address for d in WEEK.days)})


def test_a_blank_sheet_has_its_places_and_empty_rows(tmp_path: Path) -> None:
    pdf = blank_pdf(BLANK)
    text = text_of(pdf, tmp_path)
    for words in ("large tank 1", "large tank 2", "Aliquots", "Water [L]", "as read", "Unplug"):
        assert words in text
    assert codes_in(pdf, tmp_path) == [ADDRESS]


def test_texts_are_pressed_in_the_words_of_whoever_reads(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    words = {"Feed {tank}": "Alimentar {tank}", "%d %B": "%d de %B", "May.": "mayo."}
    reader = Reader(lambda text: words.get(text, text))
    monkeypatch.setattr("protoconch.words.reader._reads", lambda: reader)
    title = say("Feed {tank}", tank="large tank 2")
    under = day_text(date(2027, 5, 3), "%d %B")
    text = text_of(sheet_pdf(Sheet("x", title, under, ADDRESS, ())), tmp_path)
    assert "Alimentar large tank 2" in text
    assert "03 de mayo" in text


def test_a_card_tells_its_facts_and_leaves_room_to_write(tmp_path: Path) -> None:
    text = text_of(card_pdf(CARD), tmp_path)
    for words in ("Batch 27A", "M01, M02, M03", "large tank 1", "40,000", "Alive"):
        assert words in text


def test_a_sheet_needs_no_font_of_the_machine(tmp_path: Path) -> None:
    (tmp_path / "s.pdf").write_bytes(sheet_pdf(SHEET))
    listed = subprocess.run(
        ["pdffonts", tmp_path / "s.pdf"], capture_output=True, text=True, check=True
    ).stdout
    assert "NotoSans" in listed
    assert " no " not in "\n".join(line[60:70] for line in listed.splitlines()[2:])


def test_equal_sheets_are_equal_bytes() -> None:
    assert sheet_pdf(SHEET) == sheet_pdf(SHEET)


def test_spanish_letters_are_in_the_font(tmp_path: Path) -> None:
    words = "Señal: ¿cuántos µm²? más de 30 °C – ≥ 5 ½ ✓"
    sheet = Sheet("x", words, "", ADDRESS, ())
    assert words in " ".join(text_of(sheet_pdf(sheet), tmp_path).split())
