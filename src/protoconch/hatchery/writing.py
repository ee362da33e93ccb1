"""Writes a hatchery as the file from which it can be read again."""

import json
import math
from collections.abc import Iterator
from dataclasses import fields

from protoconch.hatchery.calendar_words import month_name, weekday_name
from protoconch.hatchery.description import Hatchery
from protoconch.sources.values import SourcedValue

HOURS_OF_A_DAY = 24


def hatchery_text(hatchery: Hatchery) -> str:
    """The hatchery as TOML; reading it gives an equal hatchery, notes included."""
    return "\n".join(_lines(hatchery)) + "\n"


def _lines(h: Hatchery) -> Iterator[str]:
    if h.invented:
        yield "# This hatchery is invented; it describes no real place."
    yield "[hatchery]"
    for key in ("name", "place", "invented", "species", "regime"):
        yield f"{key} = {_toml(getattr(h, key))}"
    yield from ("", "[water]", "# °C, January to December")
    yield f"temperature = {_toml(list(h.temperature_c))}"
    for larval in h.larval_tanks:
        yield from ("", "[[larval_tanks]]", *_kind(larval.name, larval.count))
        yield f"volume = {_toml(larval.litres)}  # L"
    yield from ("", "[incubator]", f"places = {h.incubator_places}")
    for tray in h.trays:
        yield from ("", "[[trays]]", *_kind(tray.name, tray.count))
        yield f"area = {_toml(tray.area_cm2)}  # cm2"
    for tank in h.nursery:
        yield from ("", "[[nursery]]", *_kind(tank.name, tank.count))
        yield f"area = {_toml(tank.area_m2)}  # m2"
    yield from ("", "[algae]", f"dry_per_day = {_toml(h.algae_dry_g_per_day)}  # g")
    yield from _people(h)
    for name in sorted(h.own_values):
        yield from _own(h.own_values[name])
    if h.kept_lines:
        yield from ("", h.kept_lines)


def _people(h: Hatchery) -> Iterator[str]:
    yield from ("", "[crew]")
    yield f"people = {max(1, math.ceil(max(h.crew_hours) / HOURS_OF_A_DAY))}"
    for day, hours in enumerate(h.crew_hours):
        yield f"{weekday_name(day).lower()} = {_toml(hours)}  # h"
    yield from ("", "[permit]", f"egg_masses = {h.permit.egg_masses}")
    yield f"months = {_toml([month_name(month) for month in h.permit.months])}"
    yield f"area = {_toml(h.permit.area)}"
    yield f"number = {_toml(h.permit.number)}"
    yield from ("", "[genetics]", f"min_masses = {h.genetics.min_masses}")
    yield f"max_share = {_toml(h.genetics.max_share)}"
    yield from ("", "[season]", f"first_day = {h.first_day}", f"last_day = {h.last_day}")
    if h.target:
        yield from ("", "[target]", f"animals = {h.target.animals}")
        yield f"size = {_toml(h.target.size_mm)}  # mm"
        yield f"by = {h.target.by}"
        yield f"confidence = {_toml(h.target.confidence)}"
    if h.prices:
        yield from ("", "[prices]")
        for part in fields(h.prices):
            if (entry := getattr(h.prices, part.name)) is not None:
                yield f"{part.name} = {_toml(entry)}"


def _kind(name: str, count: int) -> tuple[str, str]:
    return f"name = {_toml(name)}", f"count = {count}"


def _own(value: SourcedValue) -> Iterator[str]:
    yield from ("", f"[own.{_toml(value.name)}]")
    for part in fields(value):
        entry = getattr(value, part.name)
        if part.name not in ("name", "borrowed_from") and entry not in (None, ""):
            yield f"{part.name} = {_toml(list(entry) if isinstance(entry, tuple) else entry)}"


def _toml(value: object) -> str:
    """A text, number, truth value or list as TOML writes it."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
