"""What each column of a table is: a guess from its heading, which a person then puts right."""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from protoconch.log.fields import field_of
from protoconch.log.kinds import KINDS
from protoconch.log.payloads.water import QUANTITIES
from protoconch.log.table import ENTRY_COLUMNS, columns
from protoconch.operations.exchange.table_found import Table

ENTRIES, READINGS = "entries", "readings"
NOTHING, HAPPENED, DAY, CLOCK, WHERE = "", "happened", "day", "time of day", "where"
BRACKET = re.compile(r"^(.*?)\s*[\[(]([^\])]*)[\])]\s*$")
AFTER_COMMA = re.compile(r"^(.*?),\s*(\S{1,12})$")
UNITS = {
    "c": "°C", "degc": "°C", "deg c": "°C", "° c": "°C", "°c": "°C", "celsius": "°C",
    "f": "°F", "degf": "°F", "deg f": "°F", "° f": "°F", "°f": "°F", "fahrenheit": "°F",
    "ppt": "", "psu": "", "pss": "", "‰": "", "ph": "", "-": "", "mg/l": "mg/L", "us/cm": "uS/cm",
    "l": "L", "ml": "mL", "l/min": "L/min",
}  # fmt: skip
GUESSES: tuple[tuple[str, str], ...] = (
    (r"^(date ?time|timestamp|time ?stamp|when|happened|date.*time|fecha.*hora)", HAPPENED),
    (r"^(date|day|fecha|datum|d[ií]a)\b", DAY),
    (r"^(time|clock|hora|hour|zeit)\b", CLOCK),
    (r"^(where|place|vessel|tank|location|station|lugar|tanque)\b", WHERE),
)
QUANTITY_GUESSES: tuple[tuple[str, str], ...] = (
    (r"ammoni|\bnh[34]|\btan\b", "ammonia as nitrogen"),
    (r"nitrite|\bno2", "nitrite as nitrogen"),
    (r"nitrate|\bno3", "nitrate as nitrogen"),
    (r"temp|°|\bdeg ?[cf]\b", "temperature"),
    (r"salin|\bsal\b|\bpsu\b|\bppt\b", "salinity"),
    (r"oxygen|ox[ií]geno|\bo2\b|\bdo\b|\bodo\b", "oxygen"),
    (r"\bph\b", "pH"),
    (r"alkal|\bta\b", "alkalinity"),
    (r"\bco2\b|carbon dioxide", "carbon dioxide"),
    (r"chlor(?!oph)", "chlorine"),
    (r"turb|\bntu\b|\bfnu\b", "turbidity"),
    (r"pressure (before|in)", "pressure before"),
    (r"pressure (after|out)", "pressure after"),
    (r"\bflow\b|caudal", "flow"),
    (r"\blevel\b|nivel", "level"),
    (r"\buv\b", "UV intensity"),
    (r"light|\bpar\b|\bppfd\b", "light"),
)


class Meaning(NamedTuple):
    """What a column is taken for: a target, NOTHING where it is left out, and its unit."""

    target: str
    unit: str = ""


def targets(what: str) -> tuple[str, ...]:
    """All that a column can be, of a table of entries or of readings."""
    if what == READINGS:
        return (HAPPENED, DAY, CLOCK, WHERE, *QUANTITIES)
    listed = dict.fromkeys((*ENTRY_COLUMNS, DAY, CLOCK))
    listed |= dict.fromkeys(columns(kind for kind in KINDS if kind != "fed"))
    listed |= dict.fromkeys(f"foods.{n}.{part}" for n in (1, 2, 3) for part in FOOD_PARTS)
    listed |= dict.fromkeys(f"classes.{n}.{part}" for n in (1, 2, 3, 4) for part in CLASS_PARTS)
    for inner in ("foods", "classes"):
        listed.pop(inner, None)
    listed["left"] = None
    return tuple(listed)


FOOD_PARTS = ("food", "culture", "litres", "cells_per_ml", "grams")
CLASS_PARTS = ("from_mm", "to_mm", "animals", "to")


def own_unit(target: str, kind: str = "") -> str:
    """The unit that a target has of its own, "" for a plain number or none."""
    if target in QUANTITIES:
        unit = QUANTITIES[target][0]
        return "" if unit == "1" else unit
    return field_of(kind, target.rpartition(".")[2]).shown_unit


def guessed(table: Table, what: str) -> tuple[Meaning, ...]:
    """A meaning for each column; no target is given twice."""
    known = targets(what)
    found: list[Meaning] = []
    for heading in table.headings:
        name, unit = parted(heading)
        target = _target(name, heading, known, what)
        if target in {meaning.target for meaning in found}:
            target = NOTHING
        if target == "oxygen" and unit in ("%", "% sat", "percent"):
            target = NOTHING
        found.append(Meaning(target, _unit(unit, target) if target else ""))
    if DAY in _names(found) and CLOCK not in _names(found) and HAPPENED not in _names(found):
        found = [Meaning(HAPPENED) if one.target == DAY else one for one in found]
    if CLOCK in _names(found) and not {DAY, HAPPENED} & _names(found):
        found = [Meaning(HAPPENED) if one.target == CLOCK else one for one in found]
    return tuple(found)


def parted(heading: str) -> tuple[str, str]:
    """A heading and the unit in it: "Temp (°F)", "litres [L]", "Temp, °C"."""
    found = BRACKET.match(heading) or AFTER_COMMA.match(heading)
    return (found[1].strip(), found[2].strip()) if found else (heading.strip(), "")


def _names(found: Iterable[Meaning]) -> set[str]:
    return {meaning.target for meaning in found}


def _unit(unit: str, target: str) -> str:
    """The unit in a heading as we write it; the target's own where the heading has none."""
    if not own_unit(target) and target in (*QUANTITIES, *ENTRY_COLUMNS):
        return UNITS.get(unit.lower(), "") if unit else ""
    return UNITS.get(unit.lower(), unit) if unit else own_unit(target)


def _target(name: str, heading: str, known: Sequence[str], what: str) -> str:
    plain = name.lower().strip()
    exact = {target.lower(): target for target in known}
    if plain in exact:
        return exact[plain]
    for pattern, target in GUESSES:
        if re.search(pattern, plain) and target in known:
            return target
    if what == READINGS:
        whole = heading.lower()
        return next((t for pattern, t in QUANTITY_GUESSES if re.search(pattern, whole)), NOTHING)
    words = {field_of("", target).words.lower(): target for target in reversed(known)}
    return words.get(plain, exact.get(plain.replace(" ", "_"), NOTHING))
