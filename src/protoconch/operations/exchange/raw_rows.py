"""Rows of a table as raw entries, each with an id that follows from what it says."""

import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta, tzinfo
from typing import Any, NamedTuple
from uuid import UUID, uuid5

from protoconch.errors import BadFile, BadInput, Problem
from protoconch.hatchery.description import Hatchery
from protoconch.log.fields import field_of
from protoconch.log.payloads.water import QUANTITIES
from protoconch.log.reading import written
from protoconch.log.table import ENTRY_COLUMNS, entries_of
from protoconch.operations.exchange.columns import CLOCK, DAY, HAPPENED, WHERE, Meaning
from protoconch.operations.exchange.moments import day_of, moment_of
from protoconch.operations.exchange.table_found import Row, Table
from protoconch.sheets.workbook import unsafe
from protoconch.units import quantity
from protoconch.words import say

OWN_SPACE = UUID("8f3f6a1e-5d0b-4a57-9a55-2f1f0c7d9b11")
"""Name space of the ids that follow from a row's content."""

NUMBER = re.compile(r"^[+-]?[\d.,'\s]*\d(?:[eE][+-]?\d+)?$")
DATES = ("expires",)
SOME_TIME = "2000-01-01T00:00+00:00"


class Made(NamedTuple):
    """A raw entry from one row. line: of the text."""

    line: int
    raw: dict[str, Any]


class Rows(NamedTuple):
    """What became of the rows of a table: raw entries, and all that is wrong, by line."""

    made: tuple[Made, ...]
    problems: tuple[Problem, ...]


def entry_rows(
    table: Table, meanings: Sequence[Meaning], hatchery: Hatchery, zone: tzinfo, site: str,
    arrived: datetime, kind: str = "",
) -> Rows:  # fmt: skip
    """The entries of a table, each row by itself.

    kind: of rows that name none. site: what keeps the ids of two hatcheries apart.
    """
    made, problems, ids = [], [], _Ids(site)
    seen: dict[str, int] = {}
    for row in table.rows:
        cells, faults = _entry_cells(row, table, meanings, zone, kind)
        cells["id"] = cells.get("id") or str(ids.of(cells))
        try:
            raw = _read(cells, hatchery, zone, arrived)
        except BadInput as fault:
            faults += _sentences(fault)
        if faults:
            problems += [Problem(row.line, said) for said in dict.fromkeys(faults)]
            continue
        if raw["id"] in seen:
            said = say(
                "It carries the same number as row {row}; each entry has its own.",
                row=seen[raw["id"]],
            )
            problems.append(Problem(row.line, said))
            continue
        seen[raw["id"]] = row.line
        made.append(Made(row.line, raw))
    return Rows(tuple(made), tuple(problems))


def reading_rows(
    table: Table, meanings: Sequence[Meaning], zone: tzinfo, site: str, *,
    where: str = "", instrument: str = "", every_min: int = 0,
) -> Rows:  # fmt: skip
    """The readings of a logger's table: one entry for each filled value of each row.

    where: of rows that name no place. every_min: of each quantity at most one in so many minutes,
    the first; 0 takes them all.
    """
    made: list[Made] = []
    problems: list[Problem] = []
    last: dict[tuple[str, str], datetime] = {}
    seen: set[UUID] = set()
    for row in table.rows:
        cells = _by_target(row, meanings)
        try:
            moment = _moment(cells, table, zone)
        except BadInput as fault:
            problems += [Problem(row.line, said) for said in _sentences(fault)]
            continue
        place = cells.get(WHERE, where)
        for name, unit in meanings:
            if name not in QUANTITIES or not cells.get(name):
                continue
            before = last.get((place, name))
            if before is not None and timedelta() <= moment - before < timedelta(minutes=every_min):
                continue
            try:
                value = _value(cells[name], unit, name, table.decimal)
            except BadInput as fault:
                problems += [Problem(row.line, said) for said in _sentences(fault)]
                continue
            last[place, name] = moment
            raw = _reading(moment, place, name, value, instrument)
            raw["id"] = uuid5(OWN_SPACE, _canonical({"site": site, **raw}))
            if raw["id"] not in seen:
                seen.add(raw["id"])
                made.append(Made(row.line, raw | {"id": str(raw["id"])}))
    return Rows(tuple(made), tuple(problems))


class _Ids:
    """Ids by content; rows that say the very same get the first, the second, ... of it."""

    def __init__(self, site: str) -> None:
        self.site, self.met = site, Counter[str]()

    def of(self, cells: Mapping[str, str]) -> UUID:
        content = _canonical(
            {key: part for key, part in cells.items() if key != "arrived" and part}
        )
        self.met[content] += 1
        return uuid5(OWN_SPACE, f"{self.site}\n{content}\n{self.met[content]}")


def _canonical(content: Mapping[str, Any]) -> str:
    return json.dumps(content, sort_keys=True, ensure_ascii=False, default=str)


def _sentences(fault: BadInput) -> list[str]:
    if isinstance(fault, BadFile):
        return [problem.sentence for problem in fault.problems]
    return str(fault).splitlines()


def _by_target(row: Row, meanings: Sequence[Meaning]) -> dict[str, str]:
    pairs = zip(row.cells, meanings, strict=False)
    return {one.target: unsafe(cell.strip()) for cell, one in pairs if one.target and cell.strip()}


def _moment(cells: Mapping[str, str], table: Table, zone: tzinfo) -> datetime:
    day, clock = cells.get(HAPPENED) or cells.get(DAY, ""), cells.get(CLOCK, "")
    if not day:
        raise BadInput(say("The time is missing; write it such as 2027-07-14 08:30."))
    return moment_of(day, clock, table.order, zone)


def _entry_cells(
    row: Row, table: Table, meanings: Sequence[Meaning], zone: tzinfo, kind: str
) -> tuple[dict[str, str], list[str]]:
    """The cells as `log.table` takes them, and what is wrong with them already.

    Times are ISO, numbers have decimal points and the units of their fields.
    """
    cells = _by_target(row, meanings)
    faults: list[str] = []
    if any(row.cells[len(table.headings) :]):
        faults.append(
            say(
                "This row has {cells} cells, but there are {headings} headings; put text that "
                "holds a comma between quotation marks.",
                cells=len(row.cells),
                headings=len(table.headings),
            )
        )
    cells["kind"] = cells.get("kind") or kind
    try:
        cells[HAPPENED] = _moment(cells, table, zone).isoformat()
    except BadInput as fault:
        faults += _sentences(fault)
        cells[HAPPENED] = SOME_TIME  # so that the rest of the row is read and judged as well
    cells = {name: cell for name, cell in cells.items() if name not in (DAY, CLOCK)}
    units = {one.target: one.unit for one in meanings}
    for target in [name for name in cells if name not in ENTRY_COLUMNS]:
        if target.rpartition(".")[2] in DATES:
            try:
                cells[target] = day_of(cells[target], table.order).isoformat()
            except BadInput as fault:
                faults += _sentences(fault)
                del cells[target]
        else:
            cells[target] = _numbers(cells, target, units.get(target, ""), table.decimal)
    return cells, faults


def _numbers(cells: Mapping[str, str], target: str, unit: str, decimal: str) -> str:
    """A cell with its numbers in the unit of the field; what is no number as it is."""
    kind, name = cells["kind"], target.rpartition(".")[2]
    field = field_of(kind, name)
    if not field.is_number:
        return cells[target]
    wanted = field.unit
    if (kind, name) == ("read", "value"):
        wanted = QUANTITIES.get(cells.get("quantity", ""), (field.unit,))[0]
    parts = [_pointed(part, decimal) for part in _parts(cells[target], target)]
    if unit and unit != wanted:
        parts = [_converted(part, unit, wanted, field.words) for part in parts]
    return " ".join(parts)


def _converted(typed: str, unit: str, wanted: str, words: str) -> str:
    if not NUMBER.match(typed):
        return typed
    try:
        return f"{quantity(f'{typed} {unit}', wanted, words):.12g}"
    except BadInput:
        return f"{typed} {unit}"  # the reading of the entry says what is wrong with it


def _parts(cell: str, target: str) -> list[str]:
    if target.rpartition(".")[2] not in ("aliquots", "dead", "lengths_mm", "loadings"):
        return [cell]
    return [part for part in re.split(r"\s*[;|\n]\s*|\s+", cell) if part]


def _pointed(cell: str, decimal: str) -> str:
    """A number with a decimal point and no sign between thousands, what is no number as it is."""
    if decimal == ",":
        return re.sub(r"(?<=\d),(?=\d)", ".", re.sub(r"(?<=\d)[.'](?=\d{3}\b)", "", cell))
    return re.sub(r"(?<=\d),(?=\d{3}\b)", "", cell)


def _value(cell: str, unit: str, name: str, decimal: str) -> float:
    own = QUANTITIES[name][0]
    typed = _pointed(cell, decimal)
    with_unit = f"{typed} {unit}" if unit and unit != own and NUMBER.match(cell) else typed
    return float(f"{quantity(with_unit, own, name):.9g}")


def _reading(
    moment: datetime, where: str, name: str, value: float, instrument: str
) -> dict[str, Any]:
    payload: dict[str, Any] = {"quantity": name, "value": value}
    if instrument:
        payload["instrument"] = instrument
    return {"kind": "read", "happened": moment.isoformat(), "where": where, "payload": payload}


def _read(
    cells: Mapping[str, str], hatchery: Hatchery, zone: tzinfo, arrived: datetime
) -> dict[str, Any]:
    (entry,) = entries_of(
        [{"who": "?", **cells}], hatchery, ids=_none(), arrived=arrived, zone=zone
    )  # fmt: skip
    raw = written(entry)
    raw.pop("arrived")
    raw["who"] = cells.get("who", "")
    return raw


def _none() -> Iterator[UUID]:
    yield from ()
