"""Reads the algae room of a hatchery file; every fault is told at once, by line."""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from protoconch.algae.chain.description import Room, VesselKind
from protoconch.algae.chain.lines import line_of
from protoconch.algae.species import alga, known_algae
from protoconch.errors import BadFile, BadInput, MissingInput, Problem, ProtoconchError
from protoconch.hatchery.calendar_words import weekdays
from protoconch.sources.reading import load_catalogue
from protoconch.sources.reading_toml import Document, did_you_mean, parse
from protoconch.units import quantity
from protoconch.words import phrase, say

HEAD = "algae_room"
KEYS = ("temperature", "no_start", "days_fed", "vessels", "lines", "spare")
VESSEL_KEYS, LINE_KEYS = ("kind", "count", "volume"), ("species", "share", "through")
USUAL_FED = 0.9
"""Share of days fed that is aimed at where the file says nothing; assumption."""
MOST_VESSELS, MOST_L = 200, 20_000.0


@dataclass(frozen=True, slots=True)
class AlgaeRoom:
    """The algae room as described.

    room: vessels and lines. no_start: weekdays (0 is Monday) without inoculations.
    shares: of the mass of its sort that each species gives. days_fed: share aimed at.
    """

    room: Room
    temperature_c: float
    no_start: tuple[int, ...]
    shares: dict[str, float]
    days_fed: float


def algae_room_in(text: str, file: str) -> AlgaeRoom:
    """The algae room that a hatchery file describes.

    text: TOML. file: its name, for the sentences.
    Raises: MissingInput, where there is no such part; BadFile, with every fault and its line.
    """
    document = parse(text, file)
    if HEAD not in document.content:
        raise MissingInput(
            say(
                "{file} has no [{head}]; describe vessels and lines as the demo's file does.",
                file=file,
                head=HEAD,
            )
        )
    found = read_algae_room(document)
    document.finish()
    if found is None:
        raise BadFile(file, (Problem(1, say("The algae room cannot be read.")),))
    return found


def demo_algae_text() -> str:
    """The algae room's part of the invented hatchery's file."""
    return files("protoconch.hatchery").joinpath("demo_algae.toml").read_text(encoding="utf-8")


@cache
def demo_algae_room() -> AlgaeRoom:
    """The algae room of the invented hatchery."""
    return algae_room_in(demo_algae_text(), "demo_algae.toml")


def read_algae_room(document: Document) -> AlgaeRoom | None:
    """The algae room of a parsed file, or None with its faults noted in the document."""
    table = document.content.get(HEAD)
    before = len(document.problems)
    if not isinstance(table, dict):
        document.fault((HEAD,), say("{head} must be a section headed [{head}].", head=HEAD))
        return None
    _known(document, (HEAD,), table, KEYS)
    temperature = _number(document, (HEAD, "temperature"), table, "°C", (5.0, 40.0), 26.5)
    fed = _number(document, (HEAD, "days_fed"), table, "1", (0.0, 1.0), USUAL_FED)
    closed = _closed(document, table)
    kinds = _kinds(document, table)
    chosen = _lines(document, table, kinds)
    spare = _spare(document, table, kinds)
    if len(document.problems) > before:
        return None
    lines = []
    for place, (species, _, through) in enumerate(chosen):
        try:
            lines.append(line_of(species, [kinds[name] for name in through], temperature))
        except ProtoconchError as fault:
            document.fault((HEAD, "lines", place, "species"), fault.sentence)
    minutes = load_catalogue("media")["minutes_per_l"].number
    room = Room(tuple(kinds.values()), tuple(lines), spare, minutes)
    shares = {species: share for species, share, _ in chosen}
    return AlgaeRoom(room, temperature, closed, shares, fed)


def _known(
    document: Document, path: tuple[Any, ...], table: dict[str, Any], keys: tuple[str, ...]
) -> None:
    for key in table:
        if key not in keys:
            hint = did_you_mean(key, keys)
            document.fault(
                (*path, key), say("{key} is no part of the algae room.{hint}", key=key, hint=hint)
            )


def _number(
    document: Document, path: tuple[Any, ...], table: dict[str, Any], unit: str,
    limits: tuple[float, float], usual: float | None = None,
) -> float:  # fmt: skip
    name = str(path[-1])
    if name not in table:
        if usual is None:
            document.fault(path[:-1], say("{name} is missing here.", name=name))
        return usual or 0.0
    try:
        value = quantity(table[name], unit, name)
    except BadInput as fault:
        document.fault(path, fault.sentence)
        return limits[0]
    low, high = limits
    if not low <= value <= high:
        document.fault(
            path,
            say(
                "{name} is {value:g}, outside {low:g} to {high:g} {unit}.",
                name=name,
                value=value,
                low=low,
                high=high,
                unit=unit,
            ),
        )
    return value


def _closed(document: Document, table: dict[str, Any]) -> tuple[int, ...]:
    words = table.get("no_start", [])
    found: set[int] = set()
    if not isinstance(words, list):
        document.fault((HEAD, "no_start"), say('no_start is a list of weekdays, as in ["Sunday"].'))
        return ()
    for word in words:
        try:
            found.update(weekdays(str(word)))
        except BadInput as fault:
            document.fault((HEAD, "no_start"), fault.sentence)
    if len(found) == 7:
        document.fault((HEAD, "no_start"), say("On some weekday something must be started."))
    return tuple(sorted(found))


def _tables(document: Document, table: dict[str, Any], name: str) -> list[dict[str, Any]]:
    rows = table.get(name)
    if not isinstance(rows, list) or not rows or not all(isinstance(r, dict) for r in rows):
        document.fault((HEAD, name) if name in table else (HEAD,),
                       say("{name} must be headed [[{head}.{name}]], once for each.", name=name,
                           head=HEAD))  # fmt: skip
        return []
    return rows


def _kinds(document: Document, table: dict[str, Any]) -> dict[str, VesselKind]:
    found: dict[str, VesselKind] = {}
    rows = load_catalogue("algae_vessels")["kinds"]
    for place, row in enumerate(_tables(document, table, "vessels")):
        path = (HEAD, "vessels", place)
        _known(document, path, row, VESSEL_KEYS)
        name = row.get("kind")
        if not isinstance(name, str) or not name.strip():
            document.fault(path, say('kind is missing here; give it as kind = "flask".'))
            continue
        if name in found:
            document.fault(
                (*path, "kind"), say("The vessels {name} are described twice.", name=name)
            )
        count = _number(document, (*path, "count"), row, "1", (1, MOST_VESSELS))
        if count != int(count):
            document.fault(
                (*path, "count"), say("count must be a whole number, not {count:g}.", count=count)
            )
        litres = _number(document, (*path, "volume"), row, "L", (0.001, MOST_L))
        near = rows.get(name) or rows["column" if litres > 50 else "carboy"]
        found[name] = VesselKind(name, litres, int(count), round(near["clean_d"].number))
    return found


def _lines(
    document: Document, table: dict[str, Any], kinds: dict[str, VesselKind]
) -> list[tuple[str, float, list[str]]]:
    found: list[tuple[str, float, list[str]]] = []
    for place, row in enumerate(_tables(document, table, "lines")):
        path = (HEAD, "lines", place)
        _known(document, path, row, LINE_KEYS)
        species, through = row.get("species"), row.get("through")
        if species not in known_algae():
            hint = did_you_mean(str(species), known_algae())
            document.fault((*path, "species") if "species" in row else path,
                           say("species must be one of {known}.{hint}",
                               known=', '.join(known_algae()), hint=hint))  # fmt: skip
            continue
        if any(species == other for other, _, _ in found):
            document.fault(
                (*path, "species"),
                say("The line of {species} is described twice.", species=species),
            )
        if not isinstance(through, list) or not through:
            document.fault(
                path,
                say("Say through which vessels {species} goes, small to large.", species=species),
            )
            continue
        for name in through:
            if name not in kinds:
                hint = did_you_mean(str(name), kinds)
                document.fault(
                    (*path, "through"),
                    say("There are no vessels {name}.{hint}", name=name, hint=hint),
                )
        if len(set(map(str, through))) < len(through):
            document.fault(
                (*path, "through"), say("{species} goes through a kind twice.", species=species)
            )
        share = _number(document, (*path, "share"), row, "1", (0.0, 1.0), 1.0)
        found.append((str(species), share, [str(name) for name in through]))
    _whole_shares(document, found)
    return found


def _whole_shares(document: Document, lines: list[tuple[str, float, list[str]]]) -> None:
    names = {"diatom": phrase("diatoms"), "film diatom": phrase("film diatoms")}
    for sort in (*names.values(), phrase("other algae")):
        shares = [share for species, share, _ in lines
                  if names.get(alga(species).kind, "other algae") == sort]  # fmt: skip
        if shares and abs(sum(shares) - 1) > 1e-6:
            document.fault((HEAD, "lines"),
            say("The shares of the {sort} add up to {shares:g}, not to 1.", sort=say(sort),
                shares=sum(shares)))  # fmt: skip


def _spare(
    document: Document, table: dict[str, Any], kinds: dict[str, VesselKind]
) -> dict[str, int]:
    rows = table.get("spare", {})
    if not isinstance(rows, dict):
        document.fault(
            (HEAD, "spare"), say("spare must be a section headed [{head}.spare].", head=HEAD)
        )
        return {}
    found = {}
    for name in rows:
        if name not in kinds:
            hint = did_you_mean(name, kinds)
            document.fault(
                (HEAD, "spare", name),
                say("There are no vessels {name}.{hint}", name=name, hint=hint),
            )
        value = _number(document, (HEAD, "spare", name), rows, "1", (0, 20))
        if value != int(value):
            document.fault(
                (HEAD, "spare", name),
                say("spare must be a whole number, not {value:g}.", value=value),
            )
        found[name] = int(value)
    return found
