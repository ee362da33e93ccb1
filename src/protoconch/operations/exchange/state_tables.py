"""The state as tables: one for each sort of thing there is."""

from collections.abc import Iterable, Sequence
from dataclasses import fields
from datetime import date, datetime
from typing import Any

from protoconch.log.state import (
    BatchState,
    Culture,
    EggMass,
    Emptied,
    Holding,
    Jar,
    Level,
    Part,
    Reading,
    State,
)
from protoconch.sheets.workbook import Cell, Column, Sheet
from protoconch.words import say

UNITS = {
    "litres": "L", "length_mm": "mm", "harvested_l": "L", "in_l": "L", "out_l": "L",
    "rating_um": "um",
}  # fmt: skip
LEFT_OUT = ("sightings", "last_count", "counts", "lots", "account")
ACCOUNT = ("stocked", "lost", "removed", "released", "missing", "alive")


def state_sheets(state: State) -> tuple[Sheet, ...]:
    """The tables of a state, each with one row for each thing."""
    return (
        _sheet("animals now", say("What each vessel holds."), Holding, state.holdings.values()),
        _batches(state),
        _sheet("egg masses", say("Pieces of wild egg masses."), EggMass, state.masses.values()),
        _sheet("cultures now", say("The algae cultures."), Culture, state.cultures.values()),
        _sheet("last readings", say("The last value of each quantity at each place."), Reading,
               state.readings.values()),
        _sheet("reservoir", say("Water in the reservoirs."), Level, state.levels.values()),
        _sheet("cartridges", say("When cartridges went in."), Part, state.cartridges.values()),
        _sheet("lamps", say("When UV lamps went in."), Part, state.lamps.values()),
        _sheet("stores", say("What is left in the jars."), Jar, state.jars.values()),
        _sheet("emptied", say("The last batch of vessels that are empty now."), Emptied,
               state.emptied.values(), state.emptied),
    )  # fmt: skip


def _batches(state: State) -> Sheet:
    names = _names(BatchState)
    columns = (*(_column(name) for name in names), *(Column(name) for name in ACCOUNT))
    rows = [
        (*_cells(one, names), *(getattr(one.account, name) for name in ACCOUNT))
        for one in state.batches.values()
    ]
    return Sheet(
        "batches now", say("The batches, with the account of their animals."), columns, rows
    )


def _sheet(
    name: str, words: str, kind: type[Any], found: Iterable[Any], keys: Iterable[str] = ()
) -> Sheet:
    names, by = _names(kind), tuple(keys)
    rows: list[Sequence[Cell]] = [_cells(one, names) for one in found]
    columns = tuple(_column(column) for column in names)
    if by:
        rows = [(key, *row) for key, row in zip(by, rows, strict=True)]
    if kind is Emptied:
        columns = (Column("vessel"), *columns)
    return Sheet(name, words, columns, rows)


def _names(kind: type[Any]) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind) if field.name not in LEFT_OUT)


def _column(name: str) -> Column:
    return Column(name, UNITS.get(name, ""), name.replace("_", " "))


def _cells(one: Any, names: Sequence[str]) -> tuple[Cell, ...]:
    return tuple(_cell(getattr(one, name)) for name in names)


def _cell(value: Any) -> Cell:
    if isinstance(value, datetime):
        return value.isoformat(timespec="minutes")
    if isinstance(value, tuple):
        return "; ".join(str(part) for part in value)
    if value is None or isinstance(value, str | int | float | date):
        return value
    return str(value)
