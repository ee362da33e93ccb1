"""How to read a ribbon: the stages, the tenfold layers, what is sure and what is seldom."""

from protoconch.pictures.drawing import Point, box, curve, line, shape
from protoconch.pictures.lettering import Label
from protoconch.pictures.scales import Thickness
from protoconch.pictures.stages import LOOKS, filled_with
from protoconch.pictures.words import counted
from protoconch.words import say

KEY_NUMBERS = (100_000.0, 10_000.0, 1_000.0, 100.0)


def stage_key(
    name: str, left: float, top: float, step: float, per_row: int = 4
) -> tuple[list[str], list[Label]]:
    """A patch of each stage with its word beside it, `step` pixels apart."""
    parts, labels = [], []
    for i, look in enumerate(LOOKS):
        x, y = left + i % per_row * step, top + i // per_row * 22
        parts += [
            box(x, y, 26, 16, "sure", style=filled_with(name, i)),
            box(x, y, 26, 16, "frame"),
        ]
        labels.append(Label(f"{look.letter} {look.word}", x + 32, y + 13))
    return parts, labels


def thickness_key(
    name: str, left: float, base: float, thickness: Thickness, run: float
) -> tuple[list[str], list[Label]]:
    """A ribbon that loses nine in ten at each step, with the number over each step.

    run: length of each step [px].
    """
    edge: list[Point] = [(left, base)]
    labels = []
    for i, number in enumerate(KEY_NUMBERS):
        out, x = thickness.of(number), left + i * run
        edge += [(x, base - out), (x + run, base - out)]
        labels.append(Label(counted(number), x + run / 2, base - out - 4, "small", "middle"))
    edge.append((left + len(KEY_NUMBERS) * run, base))
    parts = [shape(edge, "sure", style=filled_with(name, 3)), curve(edge[1:-1], "middle")]
    for i, number in enumerate(KEY_NUMBERS[1:], start=1):
        y = base - thickness.of(number)
        parts.append(line((left, y), (left + i * run, y), "tenfold"))
    parts.append(line(edge[0], edge[-1], "base"))
    return parts, labels


BAND_WORDS = (
    say("dashed edge: 1 future in 10 has more"),
    say("line: half of the futures have more"),
    say("full shade: 9 in 10 have at least this"),
)


def band_key(name: str, left: float, base: float, run: float) -> tuple[list[str], list[Label]]:
    """A piece of ribbon with its three edges, each joined to its words on the right."""
    outs = (48.0, 31.0, 14.0)
    parts = []
    for out, class_ in zip(outs, ("few", "half", "sure"), strict=True):
        corners: list[Point] = [
            (left, base),
            (left, base - out),
            (left + run, base - out),
            (left + run, base),
        ]
        parts.append(shape(corners, class_, style=filled_with(name, 3)))
    for out, class_ in zip(outs[:2], ("seldom", "middle"), strict=True):
        parts.append(line((left, base - out), (left + run + 6, base - out), class_))
    parts.append(line((left, base), (left + run, base), "base"))
    parts.append(line((left + run, base - outs[2]), (left + run + 6, base - outs[2]), "rule"))
    labels = [
        Label(words, left + run + 10, base - out + 4, "small")
        for words, out in zip(BAND_WORDS, outs, strict=True)
    ]
    return parts, labels
