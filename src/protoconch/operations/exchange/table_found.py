"""A table found in a text: what parts its columns, its decimal sign, the order of its dates.

Loggers and table programs write as they like: lines before the headings, semicolons, decimal
commas, the month before the day. All of it is found from the text and shown, so that a person can
change it.
"""

import csv
import io
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from protoconch.errors import BadInput
from protoconch.words import say

DELIMITERS = (",", ";", "\t", "|")
DECIMALS = (".", ",")
ORDERS = ("year-month-day", "day-month-year", "month-day-year")
MOST_BYTES = 3_000_000
MOST_COLUMNS, MOST_ROWS = 200, 20_000
LOOKED_AT = 200
HEADING_WITHIN = 40
PLAIN_DATE = re.compile(r"^\s*(\d{1,4})[./-](\d{1,2})[./-](\d{1,4})\b")
COMMA_NUMBER = re.compile(r"^\s*[+-]?\d+,\d+\s*$")
POINT_NUMBER = re.compile(r"^\s*[+-]?\d*\.\d+\s*$")
TOO_LONG = say("The table is larger than 3 MB; import it in parts, a month at a time.")
NO_TABLE = say(
    "There is no table in it: give a line of headings and below it one line for each row,"
    " with commas, semicolons or tabs between the columns."
)


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the line of the text on which it stands, from 1, and its cells."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table with how it was read.

    heading_line: line of the headings, from 1. order_sure: False where all dates fit both orders.
    order_line: line that decides the order, 0 where none does.
    """

    headings: tuple[str, ...]
    rows: tuple[Row, ...]
    delimiter: str
    decimal: str
    order: str
    heading_line: int
    order_sure: bool = True
    order_line: int = 0

    def column(self, number: int) -> tuple[str, ...]:
        """The filled cells of a column, by its number from 0."""
        return tuple(
            row.cells[number].strip() for row in self.rows
            if number < len(row.cells) and row.cells[number].strip()
        )  # fmt: skip


def decoded(content: bytes) -> str:
    """The text of a file in UTF-8, UTF-16 or the old western code. Raises: BadInput."""
    if len(content) > MOST_BYTES:
        raise BadInput(TOO_LONG)
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return content.decode("utf-16", errors="replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def table_found(
    text: str, *, delimiter: str = "", decimal: str = "", order: str = "", heading_line: int = 0
) -> Table:  # fmt: skip
    """The table in a text; what is given is taken, the rest is found.

    Raises: BadInput, where there is none or it is too large.
    """
    if len(text.encode("utf-8", errors="replace")) > MOST_BYTES:
        raise BadInput(TOO_LONG)
    if "\0" in text:
        raise BadInput(
            say("It holds characters that no table has; save it as CSV, then choose it.")
        )
    part = delimiter if delimiter in DELIMITERS else _delimiter(text)
    rows = _rows(text, part)
    at = _heading(rows, heading_line)
    body = tuple(row for row in rows[at + 1 :] if any(cell.strip() for cell in row.cells))
    headings = tuple(cell.strip() for cell in rows[at].cells)
    if not body or not any(headings):
        raise BadInput(NO_TABLE)
    if len(headings) > MOST_COLUMNS or len(body) > MOST_ROWS:
        raise BadInput(
            say(
                "The table has {headings} columns and {body:,} rows; at most {most_columns} "
                "columns and {most_rows:,} rows are taken at once.",
                headings=len(headings),
                body=len(body),
                most_columns=MOST_COLUMNS,
                most_rows=MOST_ROWS,
            )
        )
    found, line = _order(body)
    return Table(
        headings, body, part, decimal if decimal in DECIMALS else _decimal(body, part),
        order if order in ORDERS else found or ORDERS[1], rows[at].line,
        bool(found), line,
    )  # fmt: skip


def _delimiter(text: str) -> str:
    """What parts the most lines into the same number of columns."""
    lines = [line for line in text.splitlines() if line.strip()][:LOOKED_AT]

    def fits(part: str) -> tuple[int, int]:
        counts = Counter(
            n for line in lines if (n := len(next(csv.reader([line], delimiter=part), []))) > 1
        )
        number, times = max(counts.items(), key=lambda one: (one[1], one[0]), default=(0, 0))
        return times, number

    return max(DELIMITERS, key=fits) if lines else ","


def _rows(text: str, delimiter: str) -> tuple[Row, ...]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    found: list[Row] = []
    try:
        began = 1
        for cells in reader:
            found.append(Row(began, tuple(cells)))
            began = reader.line_num + 1
    except csv.Error as fault:
        raise BadInput(
            say("Line {line_num} cannot be parted into columns.", line_num=reader.line_num)
        ) from fault
    return tuple(found)


def _heading(rows: Sequence[Row], line: int) -> int:
    """Index of the row of headings: the first as wide as most rows, or the one said."""
    told = next((at for at, row in enumerate(rows) if row.line == line), None)
    if told is not None:
        return told
    widths = Counter(len(row.cells) for row in rows[:LOOKED_AT] if any(row.cells))
    if not widths:
        raise BadInput(NO_TABLE)
    usual = max(widths.items(), key=lambda one: (one[1], one[0]))[0]
    for at, row in enumerate(rows[:HEADING_WITHIN]):
        words = sum(1 for cell in row.cells if re.search(r"[^\W\d]", cell))
        if len(row.cells) >= usual and words * 2 >= sum(1 for cell in row.cells if cell.strip()):
            return at
    return 0


def _decimal(rows: Sequence[Row], delimiter: str) -> str:
    if delimiter == ",":
        quoted = [cell for row in rows[:LOOKED_AT] for cell in row.cells if "," in cell]
        return "," if quoted and all(COMMA_NUMBER.match(cell) for cell in quoted) else "."
    cells = [cell for row in rows[:LOOKED_AT] for cell in row.cells]
    commas = sum(1 for cell in cells if COMMA_NUMBER.match(cell))
    return "," if commas > sum(1 for cell in cells if POINT_NUMBER.match(cell)) else "."


def _order(rows: Sequence[Row]) -> tuple[str, int]:
    """The order of day and month, and the line that decides it; both empty where none does."""
    found = ""
    for row in rows:
        for cell in row.cells:
            date = PLAIN_DATE.match(cell)
            if date is None:
                continue
            first, second = int(date[1]), int(date[2])
            if len(date[1]) == 4:
                found = found or ORDERS[0]
            elif first > 12:
                return ORDERS[1], row.line
            elif second > 12:
                return ORDERS[2], row.line
            else:
                found = "?" if found != ORDERS[0] else found
    return ("", 0) if found == "?" else (found or ORDERS[0], 0)
