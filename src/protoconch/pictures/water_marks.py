"""The signs of the drawing: how a pump, a cartridge, a lamp, a valve, a tank are drawn.

Each is told by its outline alone, so that it reads in black and white; the bow tie of a valve and
the circle of a pump are the trade's own.
"""

from protoconch.pictures.drawing import box, curve, element, line, shape
from protoconch.waterworks.network.parts import (
    Cartridge,
    Drain,
    Part,
    Pipe,
    Place,
    Pump,
    Uv,
    Valve,
)

HALF = 13.0
"""Half the height of a sign [px]."""


def part_sign(part: Part, x: float, y: float) -> str:
    """The sign of a part, around its middle [px]."""
    if isinstance(part, Pump):
        return _circle(x, y, HALF - 1) + shape(
            [(x - 7, y - 6), (x + 7, y - 6), (x, y + 8)], "f-ink"
        )
    if isinstance(part, Cartridge):
        bars = "".join(line((x + dx, y - 9), (x + dx, y + 9), "base") for dx in (-5, 0, 5))
        return box(x - 11, y - HALF, 22, 2 * HALF, "f-foam s-ink") + bars
    if isinstance(part, Uv):
        rays = "".join(
            line((x + dx, y + dy), (x + 1.9 * dx, y + 1.9 * dy), "base")
            for dx, dy in ((0, -5), (4, -4), (5, 0), (4, 4), (0, 5), (-4, 4), (-5, 0), (-4, -4))
        )
        return (
            box(x - 12, y - HALF, 24, 2 * HALF, "f-foam s-ink")
            + element("circle", cx=x, cy=y, r=3.2, class_="f-ink")
            + rays
        )
    if isinstance(part, Valve):
        return _valve(part, x, y)
    if isinstance(part, Drain):
        return line((x, y - HALF), (x, y + HALF), "seldom") + _arrow(x, y + HALF)
    way = _arrow(x, y + 4) if isinstance(part, Pipe) else ""
    stop = line((x - 7, y + 6), (x + 7, y + 6), "middle") if _has_check(part) else ""
    return box(x - 3, y - HALF, 6, 2 * HALF, "f-foam s-ink") + way + stop


def _has_check(part: Part) -> bool:
    return isinstance(part, Pipe) and part.check_valve


def _valve(part: Valve, x: float, y: float) -> str:
    inside = "f-ink s-ink" if part.shut else "f-foam s-ink"
    return (
        shape([(x - 9, y - 11), (x + 9, y - 11), (x, y)], inside)
        + shape([(x - 9, y + 11), (x + 9, y + 11), (x, y)], inside)
        + line((x, y - HALF), (x, y - 11), "middle")
        + line((x, y + 11), (x, y + HALF), "middle")
    )


def place_sign(place: Place, x: float, y: float) -> str:
    """The sign of a place, around its middle [px]."""
    if place.kind == "joint":
        return element("circle", cx=x, cy=y, r=3.4, class_="f-ink")
    if place.kind == "sea":
        return _waves(x, y - 5) + _waves(x, y + 1) + _waves(x, y + 7)
    if place.kind in ("reservoir", "sump"):
        walls = [(x - 15, y - HALF), (x - 15, y + HALF), (x + 15, y + HALF), (x + 15, y - HALF)]
        return shape(walls, "f-foam") + curve(walls, "middle") + _waves(x, y - 3)
    if place.kind == "tank":
        walls = [(x - 14, y - 10), (x - 11, y + HALF), (x + 11, y + HALF), (x + 14, y - 10)]
        return shape(walls, "f-foam") + curve(walls, "middle") + _waves(x, y - 3, 10)
    return curve([(x - 12, y - 4), (x, y + 9), (x + 12, y - 4)], "middle")


def finding_mark(weight: str, x: float, y: float) -> str:
    """The outline around a finding's number: diamond for danger, square for fault, else a disc."""
    if weight == "danger":
        return "".join(
            shape([(x, y - r), (x + r, y), (x, y + r), (x - r, y)], "f-foam s-ink")
            for r in (17, 14)
        )
    if weight == "fault":
        return box(x - 11, y - 11, 22, 22, "f-foam s-ink")
    return element("circle", cx=x, cy=y, r=11, class_="f-foam s-ink")


def _circle(x: float, y: float, radius: float) -> str:
    return element("circle", cx=x, cy=y, r=radius, class_="f-foam s-ink")


def _arrow(x: float, y: float) -> str:
    return shape([(x - 4, y - 5), (x + 4, y - 5), (x, y + 3)], "f-ink")


def _waves(x: float, y: float, half: float = 13) -> str:
    steps = [(x - half + i * half / 3, y + (2.2 if i % 2 else -2.2)) for i in range(7)]
    return curve(steps, "base")
