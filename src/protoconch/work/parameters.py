"""Minutes of work by task, from the table of the trade's numbers."""

from collections.abc import Mapping
from functools import lru_cache

from protoconch.sources.values import SourcedValue


@lru_cache(maxsize=1)
def work_values() -> Mapping[str, SourcedValue]:
    """Every entry of the work table, by dotted name; read once.

    Raises: BadFile, where the table has faults.
    """
    from protoconch.sources.reading import load_table

    return load_table("work")
