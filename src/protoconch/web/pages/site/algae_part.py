"""The algae room as forms show it, and as its lines of the hatchery's file are written."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from django.utils.translation import gettext_lazy as _

from protoconch.hatchery.calendar_words import weekday_name
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.file_text import lines_of
from protoconch.units import text

HEAD = "algae_room"


def algae_begin(hatchery: Hatchery) -> dict[str, Any]:
    """What the form of the whole room shows at first."""
    room = hatchery.algae_room
    if room is None:
        return {"dry": hatchery.algae_dry_g_per_day, "temperature": 26.5, "days_fed": 90.0}
    return {
        "dry": hatchery.algae_dry_g_per_day,
        "temperature": room.temperature_c,
        "days_fed": 100 * room.days_fed,
        "no_start": [str(day) for day in room.no_start],
    }


def kind_rows(hatchery: Hatchery) -> list[dict[str, Any]]:
    """The kinds of vessels that are described."""
    if hatchery.algae_room is None:
        return []
    room = hatchery.algae_room.room
    return [{"kind": kind.name, "count": kind.count, "litres": kind.litres,
             "spare": room.spare.get(kind.name, 0)} for kind in room.kinds]  # fmt: skip


def line_rows(hatchery: Hatchery) -> list[dict[str, Any]]:
    """The lines that are described."""
    if hatchery.algae_room is None:
        return []
    shares = hatchery.algae_room.shares
    return [{"species": line.species, "share": 100 * shares[line.species],
             "through": ", ".join(step.kind for step in line.steps)}
            for line in hatchery.algae_room.room.lines]  # fmt: skip


def algae_changed(
    hatchery: Hatchery, typed: Mapping[str, Any], rows: Mapping[str, Sequence[Mapping[str, Any]]]
) -> Hatchery:
    """The hatchery with its algae room as typed; the waterworks stay as they were written."""
    waterworks = lines_of(hatchery.kept_lines, ("waterworks",))
    room = _room_text(typed, rows["vessels"], rows["lines"]) if rows["vessels"] else ""
    kept = "\n\n".join(part for part in (room, waterworks) if part)
    return replace(hatchery, algae_dry_g_per_day=typed["dry"], kept_lines=kept)


def algae_lines(hatchery: Hatchery) -> list[tuple[Any, str]]:
    """What the page says of the algae room."""
    dry = (_("For larvae"), f"{text(hatchery.algae_dry_g_per_day, 'g')} / d")
    room = hatchery.algae_room
    if room is None:
        return [dry]
    vessels = ", ".join(f"{k.count} × {text(k.litres, 'L')}" for k in room.room.kinds)
    species = ", ".join(line.species for line in room.room.lines)
    return [dry, (_("Vessels"), vessels), (_("Lines"), species)]


def _room_text(
    typed: Mapping[str, Any], vessels: Sequence[Mapping[str, Any]],
    lines: Sequence[Mapping[str, Any]],
) -> str:  # fmt: skip
    closed = [weekday_name(day) for day in typed["no_start"]]
    said = [f"[{HEAD}]", f'temperature = "{typed["temperature"]:g} °C"',
            f"no_start = {_toml(closed)}", f'days_fed = "{typed["days_fed"]:g} %"']  # fmt: skip
    for row in vessels:
        said += ["", f"[[{HEAD}.vessels]]", f"kind = {_toml(row['kind'])}",
                 f"count = {row['count']}", f'volume = "{row["litres"]:g} L"']  # fmt: skip
    for row in lines:
        through = [word.strip() for word in row["through"].split(",") if word.strip()]
        said += ["", f"[[{HEAD}.lines]]", f"species = {_toml(row['species'])}",
                 f'share = "{row["share"]:g} %"', f"through = {_toml(through)}"]  # fmt: skip
    spare = [f"{_toml(row['kind'])} = {row['spare']}" for row in vessels if row["spare"]]
    return "\n".join([*said, "", f"[{HEAD}.spare]", *spare]) if spare else "\n".join(said)


def _toml(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)
