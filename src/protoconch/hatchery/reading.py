"""Reads the file in which a person describes a hatchery; every fault is told at once, by line."""

from functools import cache
from importlib.resources import files
from pathlib import Path as FilePath
from typing import cast

from protoconch.animals.species import Species
from protoconch.errors import BadFile, Problem
from protoconch.hatchery.algae_vessels import demo_algae_text, read_algae_room
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.file_text import file_text, lines_of
from protoconch.hatchery.reading_people import crew_hours, permit, season, target
from protoconch.hatchery.reading_prices import prices
from protoconch.hatchery.reading_room import larval_tanks, nursery, temperatures, trays
from protoconch.hatchery.reading_species import (
    genetics,
    notes_on,
    own_values,
    profile_of,
    regime_of,
)
from protoconch.hatchery.section import Section
from protoconch.hatchery.waterworks_reading import (
    demo_waterworks_text,
    read_waterworks,
)
from protoconch.sources.reading_toml import Document, did_you_mean, parse
from protoconch.words import say

NEEDED = ("hatchery", "water", "larval_tanks", "incubator", "trays", "nursery", "algae", "crew",
          "permit", "season")  # fmt: skip
WRITTEN_OUT = ("waterworks", "algae_room")
"""Sections with readers of their own, kept in the words of the file when it is written back."""

OPTIONAL = ("genetics", "target", "prices", "own", *WRITTEN_OUT)
LISTS = ("larval_tanks", "trays", "nursery")


def load_hatchery(path: FilePath | str) -> Hatchery:
    """The hatchery described in a file.

    Raises: BadInput, where the file cannot be read; BadFile, with every fault and its line.
    """
    return read_hatchery(file_text(path), str(path))


def demo_text() -> str:
    """The file of the invented hatchery, as a person would write it."""
    return files("protoconch.hatchery").joinpath("demo.toml").read_text(encoding="utf-8")


def whole_demo_text() -> str:
    """The same with its waterworks and its algae room, in one file."""
    return f"{demo_text()}\n{demo_algae_text()}\n{demo_waterworks_text()}"


@cache
def demo_hatchery() -> Hatchery:
    """The invented hatchery that comes with the program."""
    return read_hatchery(whole_demo_text(), "demo.toml")


def read_hatchery(text: str, file: str) -> Hatchery:
    """The hatchery that a text describes.

    text: TOML. file: its name, for the sentences.
    Raises: BadFile, with every fault and its line.
    """
    if not text.strip():
        raise BadFile(file, (Problem(1, say("The file is empty; it begins with [hatchery].")),))
    document = parse(text, file)
    _check_sections(document)
    return _described(document, text)


def _check_sections(document: Document) -> None:
    known = (*NEEDED, *OPTIONAL)
    for key, entry in document.content.items():
        if key not in known:
            hint = did_you_mean(key, known)
            document.fault(
                (key,), say("[{key}] is no part of a hatchery file.{hint}", key=key, hint=hint)
            )
        elif key in LISTS:
            if not isinstance(entry, list) or not all(isinstance(part, dict) for part in entry):
                document.fault(
                    (key,), say("{key} must be headed [[{key}]], once for each kind.", key=key)
                )
        elif not isinstance(entry, dict):
            document.fault((key,), say("{key} must be a section headed [{key}].", key=key))
    for key in NEEDED:
        if not document.content.get(key):
            head = f"[[{key}]]" if key in LISTS else f"[{key}]"
            document.fault((), say("The section {head} is missing.", head=head))


def _section(document: Document, name: str) -> Section:
    table = document.content.get(name)
    sound = table if isinstance(table, dict) else {}
    return Section(document, (name,), sound, absent=not sound)


def _sections(document: Document, name: str) -> list[Section]:
    tables = document.content.get(name)
    listed = tables if isinstance(tables, list) else []
    return [Section(document, (name, place), table)
            for place, table in enumerate(listed) if isinstance(table, dict)]  # fmt: skip


def _described(document: Document, text: str) -> Hatchery:
    """The hatchery; what is faulty stands as empty until all faults are told together."""
    head = _section(document, "hatchery")
    name, place, invented = head.words("name"), head.words("place"), head.truth("invented")
    profile = profile_of(head)
    regime = regime_of(head, profile)
    water, incubator, algae = (_section(document, n) for n in ("water", "incubator", "algae"))
    monthly, places = temperatures(water), incubator.whole("places")
    dry_g = algae.measure("dry_per_day")
    for part in (head, water, incubator, algae):
        part.close()
    larval = larval_tanks(_sections(document, "larval_tanks"))
    tray_kinds, rooms = trays(_sections(document, "trays")), nursery(_sections(document, "nursery"))
    hours, permitted = crew_hours(_section(document, "crew")), permit(_section(document, "permit"))
    first, last = season(_section(document, "season"), permitted.months)
    given = document.content
    asked = target(_section(document, "target"), first) if "target" in given else None
    breeding = genetics(_section(document, "genetics") if "genetics" in given else None, profile)
    costs = prices(_section(document, "prices")) if "prices" in given else None
    own = own_values(document, profile)
    waterworks = read_waterworks(document)
    algae_room = read_algae_room(document) if "algae_room" in given else None
    document.finish()
    known = cast(Species, profile)  # without a species, finish has refused the file
    return Hatchery(
        name=name, species=known.key, regime=regime, place=place, invented=invented,
        temperature_c=monthly, larval_tanks=larval, incubator_places=places, trays=tray_kinds,
        nursery=rooms, algae_dry_g_per_day=dry_g, crew_hours=hours, permit=permitted,
        genetics=breeding, first_day=first, last_day=last, target=asked, own_values=own,
        notes=notes_on(known, permitted, breeding), waterworks=waterworks,
        algae_room=algae_room, kept_lines=lines_of(text, WRITTEN_OUT),
        prices=costs,
    )  # fmt: skip
