"""The water path drawn: from the sea down to the tanks, with flows, pressures, doses, findings."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from protoconch.pictures.drawing import Picture, line, picture
from protoconch.pictures.lettering import Label, room_for
from protoconch.pictures.water_layout import Item, rows_as_list, water_layout
from protoconch.pictures.water_marks import HALF, finding_mark, part_sign, place_sign
from protoconch.pictures.water_words import item_words, water_meaning
from protoconch.waterworks.assessment import Assessment
from protoconch.waterworks.findings.finding import Finding
from protoconch.words import say

LINE_PX = 15.0
SMALL_HALF = 8.0
GAP_PX = 13.0
"""Room below each row, in which lines turn [px]."""
SHOWN = ("danger", "fault", "weakness")
"""Findings that are worth a mark in the drawing."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """How wide things are drawn. column, indent: from one column to the next [px].

    words: room for words beside a sign [px]. left, right: margins [px].
    """

    column: float
    words: float
    left: float
    right: float


DESK = Sheet(column=206.0, words=150.0, left=50.0, right=172.0)
PHONE = Sheet(column=26.0, words=196.0, left=46.0, right=240.0)


@dataclass(frozen=True, slots=True)
class Drawn:
    """An item with its middle [px] and its words, line by line."""

    item: Item
    x: float
    y: float
    name: tuple[str, ...]
    figures: tuple[str, ...]

    @property
    def half(self) -> float:
        """Half the height of the sign [px]."""
        return 4.0 if not self.name and self.item.kind == "place" else HALF


def water_path(seen: Assessment, name: str = "water-path") -> Picture:
    """The water path on a wide sheet: water runs down, branches stand side by side.

    name: unique within the page.
    """
    return _drawing(seen, water_layout(seen.waterworks.network), DESK, name)


def water_path_phone(seen: Assessment, name: str = "water-path-phone") -> Picture:
    """The water path for a narrow screen: everything one below the other, branches set in."""
    items = rows_as_list(water_layout(seen.waterworks.network))
    return _drawing(seen, items, PHONE, name)


def numbered(findings: Sequence[Finding]) -> dict[str, list[int]]:
    """Numbers of the findings that are marked, by the place or part they are about."""
    found: dict[str, list[int]] = {}
    for number, finding in enumerate(findings, start=1):
        if finding.weight in SHOWN:
            # a fixture stands "at" its place; the words as they were written, in whatever language
            found.setdefault(str.split(finding.where, " at ")[-1], []).append(number)
    return found


def _drawing(seen: Assessment, items: Sequence[Item], sheet: Sheet, name: str) -> Picture:
    narrow = sheet is PHONE
    words = {item.key: _wrapped(item, items, seen, sheet) for item in items}
    tops, middles = _rows(items, words)
    drawn = {
        item.key: Drawn(
            item,
            sheet.left + item.column * sheet.column,
            middles[item.group, item.row],
            *words[item.key],
        )
        for item in items
    }
    below = {item.key: tops[item.group, item.row + 1] for item in items}
    marks, mark_labels = _marks(seen, drawn)
    lines = _lines(items, drawn, below, narrow=narrow)
    signs = [_sign(each, seen, drawn, sheet) for each in drawn.values()]
    labels = [label for each in drawn.values() for label in _labels(each)] + mark_labels
    width = sheet.left + max(item.column for item in items) * sheet.column + sheet.right
    return picture(
        name,
        say("The water path, from the sea to the tanks"),
        water_meaning(seen),
        (width, max(tops.values())),
        [*lines, *signs, *marks],
        labels,
    )


def _wrapped(
    item: Item, items: Sequence[Item], seen: Assessment, sheet: Sheet
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Name and figures of an item, broken into lines that fit."""
    name, figures = item_words(item, seen)
    if sheet is PHONE:
        figures = (*figures, *_led_elsewhere(item, items, seen))
    return (
        tuple(_broken(name, sheet.words, "word")),
        tuple(piece for figure in figures for piece in _broken(figure, sheet.words, "small")),
    )


def _led_elsewhere(item: Item, items: Sequence[Item], seen: Assessment) -> tuple[str, ...]:
    """Where a part leads whose line is not drawn on a narrow sheet."""
    if item.kind != "part" or any(other.parent == item.key for other in items) or not item.feeds:
        return ()
    place = seen.waterworks.network.place(seen.waterworks.network.part(item.names[0]).end)
    return (
        say("joins {name}", name=place.name)
        if place.kind == "joint"
        else say("to {name}", name=place.name),
    )


def _broken(words: str, room: float, style: str) -> list[str]:
    """Words in lines that fit; a word too long for any line is cut."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and room_for(longer, style) <= room:
            lines[-1] = longer
        else:
            lines += _cut(word, room, style)
    return lines


def _cut(word: str, room: float, style: str) -> list[str]:
    letters = max(1, int(len(word) * room / room_for(word, style)))
    if letters >= len(word):
        return [word]
    return [word[:letters], *_cut(word[letters:], room, style)]


Words = Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]]


Rows = dict[tuple[str, int], float]


def _rows(items: Sequence[Item], words: Words) -> tuple[Rows, Rows]:
    """Top and middle of each row of each group, and as a last top its foot [px]."""
    tops: Rows = {}
    middles: Rows = {}
    for group in {item.group: None for item in items}:
        y, rows = 12.0, [item for item in items if item.group == group]
        for row in range(max(item.row for item in rows) + 1):
            here = [item for item in rows if item.row == row]
            half = max((_half(item, words) for item in here), default=0.0)
            tall = max((_tall(item, words) for item in here), default=0.0)
            tops[group, row], middles[group, row] = y, y + half
            y += max(2 * half, tall) + GAP_PX
        tops[group, max(item.row for item in rows) + 1] = y
    return tops, middles


def _half(item: Item, words: Words) -> float:
    """Half the height of an item's sign [px]."""
    return SMALL_HALF if item.kind == "place" and not words[item.key][0] else HALF


def _tall(item: Item, words: Words) -> float:
    """Height of an item's words [px]."""
    name, figures = words[item.key]
    under_the_bar = 22.0 if item.kind == "ring" else 2.0
    return (len(name) + len(figures)) * LINE_PX + under_the_bar


def _labels(each: Drawn) -> list[Label]:
    x, top = each.x + 21, each.y - HALF + 11
    lines = [(word, "word") for word in each.name] + [(word, "small") for word in each.figures]
    if len(lines) == 1:
        top = each.y + 4.5
    if each.item.kind == "ring":
        top = each.y + 19
    return [Label(word, x, top + i * LINE_PX, style) for i, (word, style) in enumerate(lines)]


def _sign(each: Drawn, seen: Assessment, drawn: Mapping[str, Drawn], sheet: Sheet) -> str:
    network = seen.waterworks.network
    if each.item.kind == "part":
        return part_sign(network.part(each.item.names[0]), each.x, each.y)
    if each.item.kind == "place":
        return place_sign(network.place(each.item.names[0]), each.x, each.y)
    ends = [drawn[key].x for key in each.item.feeds] or [each.x]
    left, right = min(*ends, each.x), max(*ends, each.x)
    if sheet is PHONE:
        left, right = each.x - 12, each.x + 12
    bar = [line((left, each.y + dy), (right, each.y + dy), "middle") for dy in (-3.0, 3.0)]
    bar += [line((x, each.y - 3), (x, each.y + 3), "middle") for x in (left, right)]
    return "".join(bar)


def _lines(
    items: Sequence[Item], drawn: Mapping[str, Drawn], below: Mapping[str, float], *, narrow: bool
) -> list[str]:
    """The lines between items."""
    found = []
    for item in items:
        start = drawn[item.key]
        for key in item.feeds:
            end = drawn[key]
            if narrow and end.item.parent != item.key:
                continue
            turn = _turn(start, end, below, many=len(item.feeds) > 1, narrow=narrow)
            foot = start.y + (3.0 if item.kind == "ring" else start.half)
            x = end.x if item.kind == "ring" and not narrow else start.x
            top = end.y - (3.0 if end.item.kind == "ring" else end.half)
            if abs(x - end.x) < 0.05:
                found.append(line((x, foot), (x, top), "middle"))
                continue
            found.append(line((x, foot), (x, turn), "middle"))
            found.append(line((x, turn), (end.x, turn), "middle"))
            found.append(line((end.x, turn), (end.x, top), "middle"))
    return found


def _turn(
    start: Drawn, end: Drawn, below: Mapping[str, float], *, many: bool, narrow: bool
) -> float:
    """Height at which a line turns aside [px]."""
    if many and not narrow:
        return below[start.item.key] - GAP_PX / 2
    return end.y - HALF - GAP_PX / 2


def _marks(seen: Assessment, drawn: Mapping[str, Drawn]) -> tuple[list[str], list[Label]]:
    """The findings' numbers beside what they are about."""
    numbers = numbered(seen.findings)
    shapes, labels = [], []
    for each in drawn.values():
        here = sorted(n for name in each.item.names for n in numbers.get(name, ()))
        if not here:
            continue
        first = here[0]
        weight = seen.findings[first - 1].weight
        more = "+" if len(here) > 1 else ""
        x, y = each.x - 29, each.y
        shapes.append(finding_mark(weight, x, y))
        labels.append(Label(f"{first}{more}", x, y + 4.3, "stage", "middle"))
    return shapes, labels
