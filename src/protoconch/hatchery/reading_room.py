"""The room in a hatchery file: water temperatures, larval tanks, trays, nursery tanks."""

import re
from dataclasses import replace

from protoconch.hatchery.calendar_words import month_text
from protoconch.hatchery.description import LarvalTank, NurseryTank, Tray
from protoconch.hatchery.section import Section, sensible
from protoconch.sources.reading_toml import shown
from protoconch.words import say

NO_MONTHS = (0.0,) * 12
SHARED_UNIT = re.compile(r"\s*([°º]?\s*[A-Za-z]*)\s*$")
M2_PER_CM2 = 1e-4


def temperatures(water: Section) -> tuple[float, ...]:
    """Mean water temperature of each month [°C, 12 values], from a list or from one text."""
    wanted = say("temperature must be 12 values, January to December")
    if not water.has("temperature"):
        water.fault("temperature", say("{wanted}, in one list.", wanted=wanted))
        return NO_MONTHS
    typed = water.table["temperature"]
    entries = _split(typed) if isinstance(typed, str) else typed
    if not isinstance(entries, list):
        water.fault("temperature", say("{wanted}, not {typed}.", wanted=wanted, typed=shown(typed)))
        return NO_MONTHS
    if len(entries) != len(NO_MONTHS):
        water.fault(
            "temperature",
            say("{wanted}; there are {entries}.", wanted=wanted, entries=len(entries)),
        )
        return NO_MONTHS
    limit = sensible()["water.temperature"]
    path = (*water.path, "temperature")
    found: list[float] = []
    for month, entry in enumerate(entries):
        named = replace(
            limit,
            conditions=say("mean water temperature of {month}", month=month_text(month + 1)),
        )
        found.append(water.amount((*path, month), entry, named) or 0.0)
    return tuple(found)


def _split(typed: str) -> list[str]:
    """The values of one text; a unit at its end holds for all of them."""
    unit = SHARED_UNIT.search(typed)
    numbers = typed[: unit.start()] if unit else typed
    return [f"{part} {unit[1] if unit else ''}".strip()
            for part in re.split(r"[;,\s]+", numbers) if part]  # fmt: skip


def larval_tanks(sections: list[Section]) -> tuple[LarvalTank, ...]:
    """Larval tanks of each size."""
    found = [LarvalTank(part.words("name"), part.whole("count"), part.measure("volume"))
             for part in sections]  # fmt: skip
    _close(sections)
    return tuple(found)


def trays(sections: list[Section]) -> tuple[Tray, ...]:
    """Trays of each size."""
    found = [Tray(part.words("name"), part.whole("count"), part.floor(1.0)) for part in sections]
    _close(sections)
    return tuple(found)


def nursery(sections: list[Section]) -> tuple[NurseryTank, ...]:
    """Nursery tanks of each size."""
    found = [NurseryTank(part.words("name"), part.whole("count"), part.floor(M2_PER_CM2))
             for part in sections]  # fmt: skip
    _close(sections)
    return tuple(found)


def _close(sections: list[Section]) -> None:
    """Refuse keys that are not known, and names that are given twice."""
    seen: set[str] = set()
    for part in sections:
        part.close()
        name = part.table.get("name")
        if isinstance(name, str) and name.strip():
            if name.strip() in seen:
                part.fault(
                    "name",
                    say(
                        "The name {name} is given twice in [[{part_name}]].",
                        name=shown(name),
                        part_name=part.name,
                    ),
                )
            seen.add(name.strip())
