"""What a sheet of paper says, before it is pressed."""

from dataclasses import asdict, dataclass, field
from typing import Any

from protoconch.sheets.paper.press import code, pressed


@dataclass(frozen=True, slots=True)
class Box:
    """A place to write: so many boxes under one label, with the unit behind and a hint below.

    wide: for words instead of a number.
    """

    label: str
    unit: str = ""
    count: int = 1
    hint: str = ""
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """One thing to do. number: by which it is typed in. care: the shortest caution."""

    number: int
    what: str
    where: str
    amount: str
    why: str = ""
    care: str = ""
    boxes: tuple[Box, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """Lines under a heading: a round, a day."""

    heading: str
    lines: tuple[Line, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """The few words that every sheet carries, in the reader's language."""

    language: str = "en"
    done_by: str = "Done by"
    at: str = "at"
    notes: str = "Seen besides"
    scan: str = "Scan to type this sheet in"
    care: str = "Care first"
    done: str = "done"
    not_done: str = "not done"
    time: str = "time"
    by: str = "by"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of work. title: the day in words; under: a sentence; address: where it is typed in.

    cautions: shown once, before the work. lines_for_notes: ruled lines at the end.
    foot: a sentence at the foot of each page.
    """

    site: str
    title: str
    under: str
    address: str
    parts: tuple[Part, ...]
    cautions: tuple[str, ...] = ()
    lines_for_notes: int = 4
    words: Words = field(default_factory=Words)
    foot: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    """A line of a card: what, and its value."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Card:
    """A batch's card: its facts, then a table to write in by hand.

    under_table: a sentence under the table. foot: at the foot of each page.
    """

    site: str
    title: str
    under: str
    address: str
    facts: tuple[Fact, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    blank_rows: int = 8
    words: Words = field(default_factory=Words)
    under_table: str = ""
    foot: str = ""


def sheet_pdf(sheet: Sheet, paper: str = "letter") -> bytes:
    """A day's work as PDF."""
    return pressed("sheet", coded(sheet), paper=paper)


def card_pdf(card: Card, paper: str = "letter") -> bytes:
    """A batch's card as PDF."""
    return pressed("card", coded(card), paper=paper)


def coded(page: Any) -> dict[str, Any]:
    """The parts of a page by name, with the code of its address as a picture.

    page: a dataclass that has an address.
    """
    return {**asdict(page), "code": code(page.address)}
