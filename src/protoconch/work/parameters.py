"""Minutes of work and masses of algae, from the tables of the trade's numbers."""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from protoconch.sources.reading import load_table
from protoconch.sources.values import SourcedValue


@cache
def table_values(name: str) -> Mapping[str, SourcedValue]:
    """Every number of the table sources/tables/<name>.toml by dotted name; read once.

    Raises: UnknownName, where there is no such table; BadFile, where it has faults.
    """
    return dict(_numbers("", load_table(name)))


def _numbers(prefix: str, part: Mapping[str, Any]) -> Iterator[tuple[str, SourcedValue]]:
    for key, entry in part.items():
        if isinstance(entry, SourcedValue):
            yield prefix + key, entry
        elif isinstance(entry, Mapping):
            yield from _numbers(f"{prefix}{key}.", entry)
