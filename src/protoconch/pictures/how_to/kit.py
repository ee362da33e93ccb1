"""Puts parts of the kit together: a scene in words becomes a line drawing."""

import re
from functools import cache

from protoconch.errors import UnknownName
from protoconch.pictures.drawing import element, rounded
from protoconch.pictures.how_to.living import LIVING
from protoconch.pictures.how_to.signs import SIGNS
from protoconch.pictures.how_to.tools import TOOLS
from protoconch.pictures.how_to.vessels import VESSELS
from protoconch.words import say

PARTS = {**VESSELS, **TOOLS, **LIVING, **SIGNS}
WIDTH, HEIGHT = 132.0, 96.0
"""Of a drawing, in its own units; the ground that things stand on is at 88."""
STROKE, THIN, THICK = 2.2, 1.3, 4.0
PLACED = re.compile(
    r"^(?P<part>[a-z_]+) (?P<x>-?[\d.]+) (?P<y>-?[\d.]+)"
    r"(?: x(?P<size>[\d.]+))?(?P<flip> <)?(?P<over> \^)?$"
)


@cache
def drawing(scene: str, ink: str = "currentColor", paper: str = "var(--foam,#fff)") -> str:
    """A scene as one <svg> element, black line on paper; what comes later stands in front.

    scene: parts with where they stand, "tank 40 88; hand 80 40 x0.8 <", one after the other;
    "x0.8" is the size, "<" turns the part left to right, "^" upside down. ink, paper: colours.
    Raises: UnknownName, for a part that is not in the kit or a place that cannot be read.
    """
    inside = "".join(_part(placed.strip(), ink, paper) for placed in scene.split(";"))
    return element(
        "svg", inside, xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {rounded(WIDTH)} {rounded(HEIGHT)}", fill="none", stroke=ink,
        stroke_linejoin="round", stroke_linecap="round", aria_hidden="true",
    )  # fmt: skip


def parts_of(scene: str) -> tuple[str, ...]:
    """The names of the parts in a scene, in their order."""
    return tuple(placed.split()[0] for placed in scene.split(";"))


def _part(placed: str, ink: str, paper: str) -> str:
    found = PLACED.match(placed)
    if found is None or found["part"] not in PARTS:
        raise UnknownName(say('"{placed}" is no part of a drawing with its place.', placed=placed))
    size = float(found["size"] or 1)
    move = f"translate({rounded(float(found['x']))} {rounded(float(found['y']))})"
    across, down = (-size if found[turned] else size for turned in ("flip", "over"))
    if across != 1 or down != 1:
        move += f" scale({across:g} {down:g})"
    lines = "".join(
        _line(kind, path, size, ink, paper)
        for kind, _, path in (line.strip().partition(" ") for line in _lines(found["part"]))
    )
    return element("g", lines, transform=move)


def _lines(part: str) -> list[str]:
    return PARTS[part].split("|")


def _line(kind: str, path: str, size: float, ink: str, paper: str) -> str:
    width = {"t": THIN, "x": THICK}.get(kind, STROKE) / size
    if kind == "k":
        return element("path", d=path, fill=ink, stroke="none")
    if kind == "o":
        return element("path", d=path, fill=paper, stroke_width=width)
    return element("path", d=path, stroke_width=width)
