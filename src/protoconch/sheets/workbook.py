"""Tables for table programs: as CSV line by line, as one workbook, and as a zip of both kinds.

What people typed never becomes a formula: in CSV a text that begins like one gets an apostrophe in
front, in a workbook it is marked as text.
"""

import csv
import io
import re
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import IO

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Font

from protoconch.words import say

Cell = str | int | float | bool | date | datetime | None
RISKY_STARTS = ("=", "+", "-", "@", "\t", "\r")
PLAIN_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?")
LONGEST_SHEET_NAME = 31
MARK = "\ufeff"
"""Tells table programs that a CSV file is in UTF-8."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name, the unit of its numbers, and what it means in words."""

    name: str
    unit: str = ""
    words: str = ""

    @property
    def heading(self) -> str:
        """The name with its unit: "litres [L]"."""
        return f"{self.name} [{self.unit}]" if self.unit else self.name


@dataclass(frozen=True, slots=True)
class Sheet:
    """One table. name: of the sheet or file; words: what it holds. rows: read once, as they come.

    Times have no zone of their own: `localised` writes them by the site's clock.
    """

    name: str
    words: str
    columns: tuple[Column, ...]
    rows: Iterable[Sequence[Cell]]

    @property
    def file(self) -> str:
        """The name of its file, without its ending."""
        return slug(self.name)


def slug(name: str) -> str:
    """A name as it stands in an address or a file name: "egg-masses"."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def safe(text: str) -> str:
    """A text that no table program takes for a formula; a plain number stays as it is."""
    if text.startswith(RISKY_STARTS) and not PLAIN_NUMBER.fullmatch(text):
        return f"'{text}"
    return text


def unsafe(text: str) -> str:
    """The text that `safe` was given."""
    return text[1:] if text[:1] == "'" and text[1:].startswith(RISKY_STARTS) else text


def csv_lines(sheet: Sheet) -> Iterator[str]:
    """The table as lines of comma-separated values (RFC 4180), the headings first."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    out.write(MARK)
    writer.writerow([safe(column.heading) for column in sheet.columns])
    for row in sheet.rows:
        writer.writerow([_written(cell) for cell in row])
        if out.tell() > 60_000:
            yield _emptied(out)
    yield _emptied(out)


def readme(sheets: Sequence[Sheet], about: Sequence[tuple[str, str]]) -> Sheet:
    """What every table and column holds. about: further lines, such as whose tables these are."""
    rows: list[Sequence[Cell]] = [(name, "", "", text) for name, text in about]
    for sheet in sheets:
        rows.append((sheet.name, "", "", sheet.words))
        rows += [(sheet.name, one.name, one.unit, one.words) for one in sheet.columns]
    columns = (
        Column(say("table")), Column(say("column")), Column(say("unit")),
        Column(say("what it holds")),
    )  # fmt: skip
    return Sheet("read me", say("What every table and column holds."), columns, rows)


def write_workbook(sheets: Iterable[Sheet], file: IO[bytes]) -> None:
    """All tables as one workbook, a sheet for each."""
    book = Workbook(write_only=True)
    for sheet in sheets:
        page = book.create_sheet(sheet.name[:LONGEST_SHEET_NAME])
        page.freeze_panes = "A2"
        page.append([_text(page, column.heading, bold=True) for column in sheet.columns])
        for row in sheet.rows:
            page.append([_text(page, cell) if isinstance(cell, str) else cell for cell in row])
    book.save(file)


def write_zip(sheets: Iterable[Sheet], file: IO[bytes]) -> None:
    """All tables as CSV files in one zip."""
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        for sheet in sheets:
            with packed.open(f"{sheet.file}.csv", "w") as inner:
                for lines in csv_lines(sheet):
                    inner.write(lines.encode())


def _text(page: object, text: str, *, bold: bool = False) -> WriteOnlyCell:
    """A cell that holds text, whatever the text begins with."""
    cell = WriteOnlyCell(page, value=str(text))
    cell.data_type = "s"
    if bold:
        cell.font = Font(bold=True)
    return cell


def _written(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        return cell.isoformat(sep=" ", timespec="minutes")
    if isinstance(cell, date):
        return cell.isoformat()
    return safe(str(cell)) if isinstance(cell, str) else f"{cell:.12g}"


def _emptied(out: io.StringIO) -> str:
    lines = out.getvalue()
    out.seek(0)
    out.truncate()
    return lines
