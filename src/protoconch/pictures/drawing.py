"""SVG written as text: elements, curves, and the finished picture with its sentence."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from protoconch.pictures.face import stylesheet
from protoconch.pictures.lettering import Label

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Picture:
    """A finished drawing.

    svg: one <svg> element, to stand inside a page that carries `face.stylesheet()`.
    title: what is drawn; meaning: what it says this time, worked out from its numbers.
    labels: the words in it with their boxes, so that anyone can check that none collide.
    """

    svg: str
    title: str
    meaning: str
    width: float
    height: float
    labels: tuple[Label, ...]

    def standalone(self) -> str:
        """The same drawing as a file of its own, with its colours and its paper in it."""
        style = element("style", stylesheet() + "svg{background:var(--foam)}")
        head, tail = self.svg.split(">", 1)
        return f'<?xml version="1.0" encoding="UTF-8"?>\n{head}>{style}{tail}\n'


def rounded(number: float) -> str:
    """A length in the drawing, to a tenth of a pixel, without needless digits."""
    shown = f"{number:.1f}".removesuffix(".0")
    return "0" if shown == "-0" else shown


def element(name: str, content: str = "", /, **attributes: str | float) -> str:
    """One element; content is markup already, attribute values are escaped here.

    attributes: "stroke_width" becomes stroke-width, "class_" becomes class; numbers are rounded.
    """
    written = "".join(
        f' {key.strip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
    )
    return f"<{name}{written}>{content}</{name}>" if content else f"<{name}{written}/>"


def _value(value: str | float) -> str:
    return escape(value) if isinstance(value, str) else rounded(value)


def line(start: Point, end: Point, class_: str) -> str:
    """A straight line."""
    return element("line", x1=start[0], y1=start[1], x2=end[0], y2=end[1], class_=class_)


def box(left: float, top: float, width: float, height: float, class_: str, **more: str) -> str:
    """A rectangle."""
    return element("rect", x=left, y=top, width=width, height=height, class_=class_, **more)


def curve(points: Sequence[Point], class_: str) -> str:
    """An open line through the points."""
    return element("path", d=_path(points), class_=class_)


def shape(points: Sequence[Point], class_: str, **more: str) -> str:
    """A closed outline, filled."""
    return element("path", d=_path(points) + "z", class_=class_, **more)


def _path(points: Sequence[Point]) -> str:
    """Path data: the first point, then steps from point to point, in tenths of a pixel."""
    tenths = [(round(10 * x), round(10 * y)) for x, y in points]
    steps = [
        f"l{rounded((x - x0) / 10)} {rounded((y - y0) / 10)}"
        for (x0, y0), (x, y) in pairwise(tenths)
        if (x, y) != (x0, y0)
    ]
    x, y = tenths[0]
    return f"M{rounded(x / 10)} {rounded(y / 10)}" + "".join(steps)


def written(labels: Iterable[Label]) -> str:
    """The words of a drawing."""
    return "".join(
        element(
            "text",
            escape(label.words),
            x=label.x,
            y=label.y,
            class_=label.style,
            text_anchor=label.anchor,
        )
        for label in labels
    )


def picture(
    name: str,
    title: str,
    meaning: str,
    size: tuple[float, float],
    parts: Iterable[str],
    labels: Sequence[Label],
) -> Picture:
    """A drawing with its name for screen readers and its sentence.

    name: unique within the page, letters and hyphens; size: width and height [px].
    """
    width, height = size
    head = element("title", escape(title), id=f"{name}-t") + element(
        "desc", escape(meaning), id=f"{name}-d"
    )
    svg = element(
        "svg",
        head + "".join(parts) + written(labels),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {rounded(width)} {rounded(height)}",
        role="img",
        aria_labelledby=f"{name}-t",
        aria_describedby=f"{name}-d",
        class_="picture",
    )
    return Picture(svg, title, meaning, width, height, tuple(labels))


def simplified(points: Sequence[Point], tolerance: float = 0.35) -> list[Point]:
    """Fewer points that stay within the tolerance [px] of the line through all of them."""
    if len(points) < 3:
        return list(points)
    places = np.asarray(points, dtype=np.float64)
    keep = {0, len(points) - 1}
    spans = [(0, len(points) - 1)]
    while spans:
        first, last = spans.pop()
        if last - first < 2:
            continue
        gaps = _gaps(places[first : last + 1])
        worst = int(np.argmax(gaps))
        if gaps[worst] > tolerance:
            keep.add(first + worst)
            spans += [(first, first + worst), (first + worst, last)]
    return [points[i] for i in sorted(keep)]


def _gaps(places: NDArray[np.float64]) -> NDArray[np.float64]:
    """Distances of points, shape (n, 2), from the straight line between first and last [px]."""
    away, along = places - places[0], places[-1] - places[0]
    share = away @ along / max(float(along @ along), 1e-12)
    gaps: NDArray[np.float64] = np.hypot(*(away - np.clip(share, 0, 1)[:, None] * along).T)
    return gaps
