"""Tables for table programs: every cell comes back, and none becomes a formula."""

import csv
import io
import zipfile
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from protoconch.sheets.workbook import (
    MARK,
    RISKY_STARTS,
    Column,
    Sheet,
    csv_lines,
    readme,
    safe,
    unsafe,
    write_workbook,
    write_zip,
)

MORNING = datetime.fromisoformat("2027-07-13T08:05")  # a table program knows no zones
COLUMNS = (Column("where"), Column("litres", "L", "water"), Column("day"))
ROWS = (("=1+1", 3.5, date(2027, 7, 13)), ("large tank 1", -2, MORNING))
SHEET = Sheet("egg masses", "What there is.", COLUMNS, ROWS)
TEXT = st.text(st.characters(codec="utf-8", exclude_categories=("Cc",)), max_size=30)


def read(sheet):
    text = "".join(csv_lines(sheet))
    assert text.startswith(MARK)
    return list(csv.reader(io.StringIO(text.removeprefix(MARK), newline="")))


def test_units_stand_in_the_headings_and_numbers_stay_numbers():
    assert read(SHEET) == [
        ["where", "litres [L]", "day"],
        ["'=1+1", "3.5", "2027-07-13"],
        ["large tank 1", "-2", "2027-07-13 08:05"],
    ]


@given(TEXT | st.sampled_from(RISKY_STARTS).flatmap(lambda sign: TEXT.map(sign.__add__)))
def test_no_text_in_a_csv_begins_as_a_formula_does(text):
    (cell,) = read(Sheet("x", "", (Column("a"), Column("b")), [(text, 1)]))[1][:1]
    number = cell.lstrip("+-").replace(".", "").isdigit() or "e" in cell.lower()
    assert not cell.startswith(RISKY_STARTS) or (number and cell == text)
    assert unsafe(cell) == text or text.startswith("'")


@pytest.mark.parametrize("text", ["=cmd|' /C calc'!A0", "@SUM(A1)", "+1+1", "-2+3", "-1-1", "\t=1"])
def test_what_would_run_does_not_run(text):
    assert safe(text) == f"'{text}"


@pytest.mark.parametrize("text", ["-1.5", "+3", "-2e5"])
def test_a_plain_number_below_zero_is_no_formula(text):
    assert safe(text) == text


def test_a_workbook_has_no_formula_and_every_cell():
    file = io.BytesIO()
    write_workbook([SHEET], file)
    page = load_workbook(file)["egg masses"]
    kinds = {cell.data_type for row in page.iter_rows() for cell in row}
    assert "f" not in kinds
    assert [[cell.value for cell in row] for row in page.iter_rows(min_row=2)] == [
        ["=1+1", 3.5, MORNING.replace(hour=0, minute=0)], ["large tank 1", -2, MORNING],
    ]  # fmt: skip


def test_the_zip_has_a_file_for_each_and_one_that_explains():
    file = io.BytesIO()
    write_zip([readme([SHEET], [("hatchery", "an invented one")]), SHEET], file)
    with zipfile.ZipFile(file) as found:
        assert found.namelist() == ["read-me.csv", "egg-masses.csv"]
        assert "egg masses,litres,L,water" in found.read("read-me.csv").decode()


def test_a_long_table_comes_in_parts():
    parts = list(csv_lines(Sheet("x", "", (Column("a"),), ((("w" * 1000),) for _ in range(500)))))
    assert len(parts) > 5
    assert max(map(len, parts)) < 100_000
