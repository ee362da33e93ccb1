"""Words in a drawing: how much room they take, and where they fit without touching others."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

Anchor = Literal["start", "middle", "end"]

SIZE_PX = {"word": 13.0, "strong": 13.0, "small": 12.0, "stage": 12.0, "large": 16.0}
"""Height of each style of lettering [px]; face.py writes the same sizes into the stylesheet."""

# Room for one letter as a share of the letter height: the widest of the usual screen letterings
# (measured in DejaVu Sans), so that what fits here fits everywhere.
_NARROW, _WIDE = 0.40, 0.99
_WIDTHS = {
    **dict.fromkeys("ijl.,:;'|!ftrI()[]/-·", _NARROW),
    **dict.fromkeys("mwMW%@", _WIDE),
    " ": 0.32,
    "\N{NO-BREAK SPACE}": 0.32,
}
_CAPITAL, _OTHER = 0.70, 0.64
_BOLD = 1.10


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a place: x where they are anchored, y of the line they stand on [px]."""

    words: str
    x: float
    y: float
    style: str = "word"
    anchor: Anchor = "start"

    def __post_init__(self) -> None:
        """Take the words as the reader of the drawing reads them: they are measured and drawn."""
        object.__setattr__(self, "words", str(self.words))

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom of the room they take [px]."""
        width = room_for(self.words, self.style)
        left = self.x - {"start": 0.0, "middle": width / 2, "end": width}[self.anchor]
        size = SIZE_PX[self.style]
        return left, self.y - 0.80 * size, left + width, self.y + 0.24 * size


def room_for(words: str, style: str = "word") -> float:
    """Width that the words need [px], never less than in the usual letterings."""
    letters = str(words)
    widths = (_WIDTHS.get(letter, _CAPITAL if letter.isupper() else _OTHER) for letter in letters)
    return sum(widths) * SIZE_PX[style] * (_BOLD if style in {"strong", "large"} else 1.0)


def overlap(one: Label, other: Label) -> bool:
    """Whether the boxes of two labels share any room."""
    left, top, right, bottom = one.box
    left2, top2, right2, bottom2 = other.box
    return left < right2 and left2 < right and top < bottom2 and top2 < bottom


class Lettering:
    """The labels of one drawing, none touching another and none outside the frame."""

    def __init__(self, left: float, top: float, right: float, bottom: float) -> None:
        """Begin with an empty frame [px]."""
        self.frame = (left, top, right, bottom)
        self.labels: list[Label] = []

    def add(self, *labels: Label) -> None:
        """Put labels whose places the drawing has kept free."""
        self.labels += labels

    def fit(self, candidates: Sequence[Label]) -> bool:
        """Put the first candidate that is free; False where none is."""
        for candidate in candidates:
            if self._is_free(candidate):
                self.labels.append(candidate)
                return True
        return False

    def _is_free(self, label: Label) -> bool:
        left, top, right, bottom = label.box
        inside = (
            left >= self.frame[0]
            and top >= self.frame[1]
            and right <= self.frame[2]
            and bottom <= self.frame[3]
        )
        return inside and not any(overlap(label, other) for other in self.labels)


def collisions(labels: Iterable[Label]) -> list[tuple[Label, Label]]:
    """Pairs of labels that overlap; empty in a picture fit to be seen."""
    seen: list[Label] = []
    found = []
    for label in labels:
        found += [(other, label) for other in seen if overlap(other, label)]
        seen.append(label)
    return found
