"""Labels for tanks, trays and cultures, laid out for the sheets of labels that shops sell."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from types import MappingProxyType

from protoconch.sheets.paper.page import coded
from protoconch.sheets.paper.press import pressed


@dataclass(frozen=True, slots=True)
class Label:
    """A label for a tank or a culture: its name, what is in it, and where its code leads."""

    name: str
    under: str
    more: str
    address: str


@dataclass(frozen=True, slots=True)
class Stock:
    """A sheet of labels: its paper, how many across and down, and where they lie on it [mm]."""

    paper: str
    across: int
    down: int
    width_mm: float
    height_mm: float
    left_mm: float
    top_mm: float
    gap_mm: float = 0.0

    @property
    def number(self) -> int:
        """Labels on a sheet."""
        return self.across * self.down


STOCKS: Mapping[str, Stock] = MappingProxyType({
    "letter-10": Stock("letter", 2, 5, 101.6, 50.8, 4.0, 12.7, 4.7),
    "letter-6": Stock("letter", 2, 3, 101.6, 84.7, 4.0, 12.7, 4.7),
    "a4-14": Stock("a4", 2, 7, 99.1, 38.1, 4.65, 15.15, 2.5),
    "a4-8": Stock("a4", 2, 4, 99.1, 67.7, 4.65, 13.1, 2.5),
})  # fmt: skip
"""Sizes of label paper as it is sold: common practice, no source; compare with the packet. The
first is the one that is taken where nobody chose."""
FIRST = next(iter(STOCKS))


def labels_pdf(
    labels: tuple[Label, ...], language: str = "en", stock: str = FIRST, used: int = 0,
    title: str = "Labels",
) -> bytes:  # fmt: skip
    """Labels, each with its code, as PDF.

    stock: of STOCKS. used: places of the first sheet whose label is gone already.
    """
    words = {
        "labels": [coded(label) for label in labels], "language": language,
        "title": title,
        "stock": asdict(STOCKS[stock]), "used": used % STOCKS[stock].number,
    }  # fmt: skip
    return pressed("labels", words, paper=STOCKS[stock].paper)
