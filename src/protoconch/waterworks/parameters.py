"""The trade numbers of the waterworks, read from the data files."""

from collections.abc import Mapping
from typing import Any

from protoconch.sources.reading import load_catalogue
from protoconch.sources.values import SourcedValue


def table(name: str) -> Mapping[str, Any]:
    """The data file of that name, with its numbers as SourcedValues."""
    return load_catalogue(name)


def sourced(name: str, path: str) -> SourcedValue:
    """One number of a data file, with its source.

    name: of the file. path: dotted name of the number in it.
    Raises: KeyError, where the data file has no such number (a defect, not a person's mistake).
    """
    entry: Any = table(name)
    for part in path.split("."):
        entry = entry[part]
    if not isinstance(entry, SourcedValue):
        raise KeyError(f"{name}: {path} is no number")
    return entry


def number(name: str, path: str) -> float:
    """The planning value of one number of a data file [its unit]; inputs as sourced."""
    return sourced(name, path).number
