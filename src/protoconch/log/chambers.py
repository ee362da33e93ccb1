"""Counting chambers by name: the area of a square, its depth, and how many are usually counted."""

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from protoconch.errors import UnknownName
from protoconch.sources.reading import load_catalogue
from protoconch.sources.reading_toml import did_you_mean
from protoconch.words import say


@dataclass(frozen=True, slots=True)
class Chamber:
    """One chamber. square_mm2: area of a square [mm2]. depth_mm: [mm]. squares: usually counted."""

    name: str
    square_mm2: float
    depth_mm: float
    squares: float


@cache
def chambers() -> MappingProxyType[str, Chamber]:
    """All chambers that an entry can name; read-only."""
    table = load_catalogue("log_chambers")
    return MappingProxyType(
        {
            entry["name"]: Chamber(
                entry["name"], entry["square_mm2"].number, entry["depth_mm"].number,
                entry["squares"].number,
            )
            for entry in table.values()
        }
    )  # fmt: skip


def chamber(name: str) -> Chamber:
    """The chamber of that name, in capitals or not. Raises: UnknownName, with the nearest name."""
    known = {one.name.lower(): one for one in chambers().values()}
    if name.lower() not in known:
        raise UnknownName(
            say(
                "There is no counting chamber {name}; there are {chambers}.{near}",
                name=name,
                chambers=", ".join(chambers()),
                near=did_you_mean(name, chambers()),
            )
        )
    return known[name.lower()]
