"""Reading drawn markup back, to look at what was really drawn."""

import xml.etree.ElementTree as ET


def parsed(markup):
    """The root of a piece of our own markup."""
    return ET.fromstring(markup)  # noqa: S314 - written by the code under test


def corners(path):
    """The points of a path of straight steps, to a tenth of a pixel."""
    head, *steps = path.removeprefix("M").removesuffix("z").split("l")
    x, y = map(float, head.split())
    found = [(x, y)]
    for step in steps:
        dx, dy = map(float, step.split())
        x, y = x + dx, y + dy
        found.append((round(x, 1), round(y, 1)))
    return found
