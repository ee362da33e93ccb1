"""The four stages as they are drawn: a letter, a word, a pattern and a shade each."""

from dataclasses import dataclass

from protoconch.pictures.drawing import box, element
from protoconch.words import say


@dataclass(frozen=True, slots=True)
class StageLook:
    """How one stage is told apart without colour: by its letter, its word and its pattern."""

    letter: str
    word: str
    pattern: str


def _ground(class_: str, opacity: str) -> str:
    return box(0, 0, 8, 8, class_, style=f"fill-opacity:{opacity}")


def _strokes(path: str, class_: str, width: str) -> str:
    return element("path", d=path, class_=class_, style=f"stroke-width:{width}")


def _dot(x: float, y: float) -> str:
    return element("circle", cx=x, cy=y, r=1.3, class_="f-ink")


LOOKS: tuple[StageLook, ...] = (
    StageLook("E", say("egg"), _ground("f-foam", "1") + _dot(2, 2) + _dot(6, 6)),
    StageLook(
        "V",
        say("veliger"),
        _ground("f-tide", ".45") + _strokes("M-2 2L2-2M0 8L8 0M6 10L10 6", "s-ink", "1.3"),
    ),
    StageLook(
        "P", say("post-larva"), _ground("f-tide", ".12") + _strokes("M0 4H8M4 0V8", "s-ink", "1.1")
    ),
    StageLook("J", say("juvenile"), _ground("f-ink", ".78")),
)
"""In the order of season.answer.STAGES: dots, slanting lines, a grid, plain dark."""


def patterns(name: str) -> str:
    """The patterns of all stages, as definitions for one drawing of that name."""
    tiles = "".join(
        element(
            "pattern",
            look.pattern,
            id=f"{name}-{look.letter}",
            width=8,
            height=8,
            patternUnits="userSpaceOnUse",
        )
        for look in LOOKS
    )
    return element("defs", tiles)


def filled_with(name: str, stage: int) -> str:
    """Style that fills a shape with the pattern of a stage."""
    return f"fill:url(#{name}-{LOOKS[stage].letter})"
