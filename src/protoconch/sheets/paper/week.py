"""A week's work on paper: what on which day, how much, and who."""

from dataclasses import asdict, dataclass, field

from protoconch.sheets.paper.page import Words, coded
from protoconch.sheets.paper.press import code, pressed


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of work of a day. places: each with its amount."""

    what: str
    places: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Day:
    """A day. under: a sentence, such as the hours it takes. address: where it is entered."""

    heading: str
    under: str
    kinds: tuple[Kind, ...]
    address: str


@dataclass(frozen=True, slots=True)
class Week:
    """The sheet of a week. who: over the column in which the crew writes who does it."""

    site: str
    title: str
    under: str
    address: str
    days: tuple[Day, ...]
    who: str = "who"
    words: Words = field(default_factory=Words)
    foot: str = ""


def week_pdf(week: Week, paper: str = "letter") -> bytes:
    """A week's work as PDF; each day with a code of its own."""
    days = [{**asdict(day), "code": code(day.address)} for day in week.days]
    return pressed("week", {**coded(week), "days": days}, paper=paper)
