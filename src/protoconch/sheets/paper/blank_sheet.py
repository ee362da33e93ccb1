"""A sheet to write on while there is neither power nor a phone: a place, a time, large boxes."""

from dataclasses import dataclass, field

from protoconch.sheets.paper.page import Words, coded
from protoconch.sheets.paper.press import pressed


@dataclass(frozen=True, slots=True)
class Column:
    """What is written in a column. boxes: numbers side by side. hint: small under the label.

    share: its width beside the others.
    """

    label: str
    unit: str = ""
    boxes: int = 1
    hint: str = ""
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class BlankSheet:
    """A sheet of empty rows. places: written already in the first rows; rows: all of them."""

    site: str
    title: str
    under: str
    address: str
    place: str
    columns: tuple[Column, ...]
    places: tuple[str, ...] = ()
    rows: int = 10
    cautions: tuple[str, ...] = ()
    day: str = "Day"
    words: Words = field(default_factory=Words)
    foot: str = ""


def blank_pdf(sheet: BlankSheet, paper: str = "letter") -> bytes:
    """A blank sheet as PDF, across the paper."""
    return pressed("blank", coded(sheet), paper=paper)
