"""Entries as flat rows for a table, one column for each field, and rows back to entries.

Lists of numbers stand in one cell ("12; 15; 11"). What has fields of its own, a feeding with
several foods, has columns such as "foods.1.food". Fields of a correction that are called as a part
of the entry itself have "new" before them: "new where".
"""

import json
import math
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime, time, tzinfo
from typing import Any
from uuid import UUID

from protoconch.errors import BadFile, BadInput, Problem
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.entry import Entry
from protoconch.log.fields import field_of
from protoconch.log.kinds import KINDS
from protoconch.log.reading.entries import KEYS, read_entry, written
from protoconch.words import say

ENTRY_COLUMNS = tuple(key for key in KEYS if key != "payload")
BETWEEN = re.compile(r"[;,\n]")
FIRST_ROW = 2
"""Number of the first row under the names of the columns, as a table program counts."""


def columns(kinds: Iterable[str]) -> tuple[str, ...]:
    """All simple columns that entries of these kinds can have, those of the entry itself first."""
    found = dict.fromkeys(ENTRY_COLUMNS)
    for kind in kinds:
        found |= dict.fromkeys(_column(name) for name in KINDS[kind].payload.model_fields)
    return tuple(found)


def rows(entries: Iterable[Entry]) -> list[dict[str, str]]:
    """A row of cells for each entry, by column; an empty cell has no key."""
    return [_row(entry) for entry in entries]


def columns_of(found: Sequence[Mapping[str, str]]) -> tuple[str, ...]:
    """The columns that the rows use: those of the entry first, then in the order of first use."""
    used = dict.fromkeys(ENTRY_COLUMNS)
    for row in found:
        used |= dict.fromkeys(row)
    return tuple(used)


def entries_of(
    table: Iterable[Mapping[str, Any]], hatchery: Hatchery, *,
    ids: Iterator[UUID], arrived: datetime, zone: tzinfo, file: str = "The table",
) -> tuple[Entry, ...]:  # fmt: skip
    """The entries that a table holds.

    table: rows by column, in order; cells are texts, numbers or dates. Empty rows are passed over.
    ids: for rows that have none. arrived: the moment of the import. zone: of times without one.
    Raises: BadFile, with every fault of every row by the number of its row (the first is 2).
    """
    known = {vessel.name: vessel for vessel in vessels(hatchery)}
    found: list[Entry] = []
    problems: list[Problem] = []
    seen: dict[UUID, int] = {}
    for number, row in enumerate(table, start=FIRST_ROW):
        cells = {str(k).strip(): v for k, v in row.items() if not _empty(v)}
        if not cells:
            continue
        try:
            entry = read_entry(_raw(cells, ids, arrived, zone), known)
        except BadInput as error:
            problems += [Problem(number, line) for line in str(error).splitlines()]
            continue
        if entry.id in seen:
            sentence = say(
                "This entry is the same as that of row {row}: both carry {id}.",
                row=seen[entry.id],
                id=entry.id,
            )
            problems.append(Problem(number, sentence))
        seen[entry.id] = number
        found.append(entry)
    if problems:
        raise BadFile(file, tuple(problems))
    return tuple(found)


def _row(entry: Entry) -> dict[str, str]:
    raw = written(entry)
    raw["unasked"] = "yes" if entry.unasked else ""
    cells = {key: raw[key] for key in ENTRY_COLUMNS if raw[key]}
    for name, value in raw["payload"].items():
        cells |= _cells(_column(name), value)
    return cells


def _cells(column: str, value: Any) -> dict[str, str]:
    if isinstance(value, Mapping):
        if column == _column("payload"):
            return {column: json.dumps(value, ensure_ascii=False)}
        return {
            k: v
            for name, part in value.items()
            for k, v in _cells(f"{column}.{name}", part).items()
        }
    if isinstance(value, list):
        if any(isinstance(part, Mapping) or BETWEEN.search(str(part)) for part in value):
            return _joined((f"{column}.{n}", part) for n, part in enumerate(value, start=1))
        return {column: "; ".join(str(part) for part in value)}
    if isinstance(value, bool):
        return {column: "yes" if value else "no"}
    return {column: str(value)}


def _joined(parts: Iterable[tuple[str, Any]]) -> dict[str, str]:
    cells: dict[str, str] = {}
    for column, part in parts:
        cells |= _cells(column, part)
    return cells


def _column(name: str) -> str:
    return f"new {name}" if name in KEYS else name


def _raw(
    cells: Mapping[str, Any], ids: Iterator[UUID], arrived: datetime, zone: tzinfo
) -> dict[str, Any]:
    kind = str(cells.get("kind", ""))
    raw: dict[str, Any] = {key: cells[key] for key in ENTRY_COLUMNS if key in cells}
    for key in ("who", "where", "task", "kind"):
        if key in raw:
            raw[key] = _text(raw[key])
    raw["id"] = raw.get("id") or next(ids)
    raw["arrived"] = _zoned(raw.get("arrived") or arrived, zone)
    raw["happened"] = _zoned(raw.get("happened"), zone)
    payload: dict[str, Any] = {}
    for column, value in cells.items():
        if column not in ENTRY_COLUMNS:
            _put(payload, column.removeprefix("new ").split("."), _cell(kind, column, value))
    raw["payload"] = _with_lists(payload)
    return raw


def _cell(kind: str, column: str, value: Any) -> Any:
    """A cell as the payload wants it; a number in a field that is text becomes text."""
    if column == _column("payload") and isinstance(value, str):
        try:
            return json.loads(value)
        except ValueError:
            return value
    if isinstance(value, datetime) and value.time() == time():
        return value.date().isoformat()
    if isinstance(value, datetime | date):
        return value.isoformat()
    name = column.removeprefix("new ").rpartition(".")[2]
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value if field_of(kind, name).is_number else _text(value)
    return value


def _put(tree: dict[str, Any], path: list[str], value: Any) -> None:
    for part in path[:-1]:
        below = tree.setdefault(part, {})
        if not isinstance(below, dict):
            return
        tree = below
    tree[path[-1]] = value


def _with_lists(tree: Any) -> Any:
    """Maps whose names are all whole numbers as lists in their order."""
    if not isinstance(tree, dict):
        return tree
    made = {name: _with_lists(part) for name, part in tree.items()}
    if made and all(name.isdecimal() and len(name) < 6 for name in made):
        return [made[name] for name in sorted(made, key=int)]
    return made


def _text(value: Any) -> str:
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).strip()


def _zoned(value: Any, zone: tzinfo) -> Any:
    """A time with a zone; what is no time stays for the reader to refuse."""
    try:
        moment = (
            value if isinstance(value, datetime) else datetime.fromisoformat(str(value).strip())
        )
    except ValueError:
        return value
    return moment.replace(tzinfo=zone) if moment.tzinfo is None else moment


def _empty(value: Any) -> bool:
    return (
        value is None
        or (isinstance(value, str) and not value.strip())
        or (isinstance(value, float) and math.isnan(value))
    )
