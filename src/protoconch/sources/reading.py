"""Reads the data files in which each number of the trade carries its source.

A number is a table, named by its header:

    [veliger.growth_um_d]
    value = 21.6
    low = 19.9
    high = 24.1
    unit = "um/d"
    conditions = "29 °C"
    source = "brito-manzano-2004"
    place = "from the sizes at hatch and at settling"
    confidence = "derived"

shape is "pert" where low and high are given and nothing else is said, else "fixed"; "lognormal"
takes value as the median and low to high as the middle 90 %; "beta" needs beta = [a, b]. Where no
source gives a number, `missing` says so instead of a value, and `borrow` may name the species whose
number stands in. A file with any fault is refused as a whole, with every fault and its line.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from protoconch.errors import UnknownName
from protoconch.sources.checking import sourced_value
from protoconch.sources.reading_lines import Path
from protoconch.sources.reading_toml import Document, did_you_mean, parse
from protoconch.sources.references import Reference, references
from protoconch.sources.values import SourcedValue
from protoconch.words import say

__all__ = ["Reference", "load_catalogue", "load_table", "load_values",
           "number_tables", "references", "sourced_tables", "values_in"]  # fmt: skip

MARKS = frozenset(("value", "missing", "low", "high", "confidence"))
"""Fields by which a table of a wider data file is known as a number."""


def load_values(text: str, file: str) -> dict[str, SourcedValue]:
    """The sourced numbers of a text, by dotted name, in the order of the file.

    text: TOML in which every table is a number. file: its name, for the sentences.
    Raises: BadFile, with every fault and its line.
    """
    document = parse(text, file)
    values = values_in(document)
    document.finish()
    return values


def values_in(document: Document, besides: tuple[str, ...] = ()) -> dict[str, SourcedValue]:
    """The sound numbers of a document, by dotted name; faults are noted in the document.

    besides: names at the top of the file that hold something else than numbers.
    """
    found: dict[str, SourcedValue] = {}
    for key, entry in document.content.items():
        if key in besides:
            continue
        for path in number_tables(document, (key,), entry):
            name = ".".join(str(part) for part in path)
            value = sourced_value(document, path, name, references())
            if name in found:
                document.fault(path, say("{name} is given twice.", name=name))
            elif value is not None:
                found[name] = value
    return found


def number_tables(document: Document, path: Path, entry: object) -> Iterator[Path]:
    """Paths of the tables that hold fields and not only further tables."""
    name = ".".join(str(part) for part in path)
    if not isinstance(entry, dict):
        document.fault(
            path, say("{name} must be a table with a value, a unit and a source.", name=name)
        )
        return
    below = {key: part for key, part in entry.items() if isinstance(part, dict)}
    if len(below) < len(entry) or not entry:
        yield path
    else:
        for key, part in below.items():
            yield from number_tables(document, (*path, key), part)


@cache
def load_table(name: str) -> Mapping[str, SourcedValue]:
    """The numbers of the data file sources/tables/<name>.toml, by dotted name; read-only.

    Raises: UnknownName, where there is no such file; BadFile, with every fault and its line.
    """
    return MappingProxyType(load_values(_table_text(name), f"sources/tables/{name}.toml"))


@cache
def load_catalogue(name: str) -> Mapping[str, Any]:
    """A data file sources/tables/<name>.toml that holds rows of things, numbers among them.

    Returns: its tables and arrays of tables as they are (arrays as tuples), with each table that
    describes a number as a SourcedValue; read-only at the top.
    Raises: UnknownName, where there is no such file; BadFile, with every fault and its line.
    """
    return sourced_tables(_table_text(name), f"sources/tables/{name}.toml")


def _table_text(name: str) -> str:
    folder = files("protoconch.sources").joinpath("tables")
    names = (entry.name for entry in folder.iterdir())
    known = sorted(n.removesuffix(".toml") for n in names if n.endswith(".toml"))
    if name not in known:
        raise UnknownName(
            say(
                "There is no data file {name}; there are {names}.{hint}",
                name=name,
                names=", ".join(known),
                hint=did_you_mean(name, known),
            )
        )
    return folder.joinpath(f"{name}.toml").read_text(encoding="utf-8")


def sourced_tables(text: str, file: str) -> Mapping[str, Any]:
    """A data file's content, with each table that describes a number as a SourcedValue.

    A table is a number where it has a value, missing, low, high or confidence.
    Raises: BadFile, with every fault and its line.
    """
    document = parse(text, file)
    content = {key: _with_numbers(document, (key,), entry)
               for key, entry in document.content.items()}  # fmt: skip
    document.finish()
    return MappingProxyType(content)


def _with_numbers(document: Document, path: Path, entry: Any) -> Any:
    if isinstance(entry, list):
        return tuple(_with_numbers(document, (*path, i), part) for i, part in enumerate(entry))
    if not isinstance(entry, dict):
        return entry
    if MARKS & entry.keys() and not any(isinstance(part, dict) for part in entry.values()):
        name = ".".join(str(part) for part in path)
        return sourced_value(document, path, name, references())
    source = entry.get("source")
    if isinstance(source, str) and source not in references():
        hint = did_you_mean(source, references())
        document.fault(
            (*path, "source"),
            say("{source} is not in the list of references.{hint}", source=source, hint=hint),
        )
    return {key: _with_numbers(document, (*path, key), part) for key, part in entry.items()}
