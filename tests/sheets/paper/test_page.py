"""A sheet of paper says what it was given, can be read without us, and leads back."""

import subprocess
from pathlib import Path

import pytest

from protoconch.sheets.paper.page import (
    Box,
    Card,
    Fact,
    Label,
    Line,
    Part,
    Sheet,
    card_pdf,
    labels_pdf,
    sheet_pdf,
)

ADDRESS = "http://192.168.1.20:8000/today/2027-07-14/sheet"
LINES = tuple(
    Line(n, "Count the larvae", f"large tank {n}", "5 aliquots of 100 mL", "It shows early.",
         boxes=(Box("aliquots", "", 5, "last 31–44"), Box("dead", "")))
    for n in range(1, 15)
)  # fmt: skip
SHEET = Sheet("An invented hatchery", "Wednesday 14 July 2027", "Fourteen things to do.", ADDRESS,
              (Part("Morning", LINES[:9]), Part("Evening", LINES[9:])),
              ("Unplug pumps before reaching into water: #1 *of* $all$ [cautions].",))  # fmt: skip


def text_of(pdf: bytes, folder: Path) -> str:
    file = folder / "sheet.pdf"
    file.write_bytes(pdf)
    return subprocess.run(
        ["pdftotext", "-layout", file, "-"], capture_output=True, text=True, check=True
    ).stdout


def pages_of(pdf: bytes, folder: Path) -> list[Path]:
    (folder / "sheet.pdf").write_bytes(pdf)
    command = ["pdftoppm", "-r", "150", "-png", folder / "sheet.pdf", folder / "page"]
    subprocess.run(command, check=True)
    return sorted(folder.glob("page*.png"))


def codes_in(pdf: bytes, folder: Path) -> list[str]:
    import zxingcpp
    from PIL import Image

    found = []
    for page in pages_of(pdf, folder):
        with Image.open(page) as picture:
            found += [code.text for code in zxingcpp.read_barcodes(picture)]
    return found


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


def test_each_label_leads_to_its_own_place(tmp_path: Path) -> None:
    labels = tuple(
        Label(f"large tank {n}", "400 L", "27A", f"http://192.168.1.20:8000/at/large%20tank%20{n}")
        for n in range(1, 13)
    )
    pdf = labels_pdf(labels)
    assert sorted(codes_in(pdf, tmp_path)) == sorted(label.address for label in labels)
    assert all(label.name in text_of(pdf, tmp_path) for label in labels)


def test_a_card_tells_its_facts_and_leaves_room_to_write(tmp_path: Path) -> None:
    card = Card("An invented hatchery", "Batch 27A", "From 3 egg masses.", ADDRESS,
                (Fact("Egg masses", "M01, M02, M03"),), ("Date", "Tank", "Alive"),
                (("2 May", "large tank 1", "40,000"),))  # fmt: skip
    text = text_of(card_pdf(card), tmp_path)
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
