"""Settling algae out of their water, and how long they keep in the cold."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from protoconch.algae.species import alga
from protoconch.errors import UnknownName
from protoconch.sources.reading import load_catalogue
from protoconch.sources.reading_toml import did_you_mean
from protoconch.units import positive
from protoconch.words import say

SODA_G_MOL = 39.997
"""Molar mass of NaOH [g/mol]; IUPAC atomic masses."""


@dataclass(frozen=True, slots=True)
class Concentrate:
    """What settling a batch of culture takes and gives.

    dose_g: flocculant [g], nan where the method has none. soda_g: NaOH [g], nan where the table
    has no dose. ph: to bring it to, nan where none. dry_g: algae won [g]. keeps_d: days in the
    cold. larvae: may be fed to larvae. steps, cautions: in words.
    """

    method: str
    dose_g: float
    soda_g: float
    ph: float
    dry_g: float
    keeps_d: float
    larvae: bool
    steps: tuple[str, ...]
    cautions: tuple[str, ...]


def known_methods() -> tuple[str, ...]:
    """Names of the methods in the table."""
    return tuple(load_catalogue("flocculation")["methods"])


def concentrate(method: str, species: str, volume_l: float, dry_g_l: float) -> Concentrate:
    """Settling of a batch of culture.

    method: "ph-polymer", "ph", "chitosan", "alum" or "settling". species: its shelf life is the
        shorter of the method's and its own. volume_l: culture [L]. dry_g_l: dry mass in it [g/L].
    Raises: UnknownName, for a method or a species; BadInput.
    Source: rows of tables/flocculation.toml, each with its own.
    """
    table = load_catalogue("flocculation")
    if method not in table["methods"]:
        known = known_methods()
        raise UnknownName(
            say(
                "There is no method {method}; there are {known}.{near}",
                method=method,
                known=", ".join(known),
                near=did_you_mean(method, known),
            )
        )
    alga(species)
    positive(volume_l, "L", "volume")
    positive(dry_g_l, "g/L", say("dry mass"))
    row = table["methods"][method]
    number = {key: row[key].number for key in ("dose_mg_l", "dose_mmol_l", "ph") if key in row}
    keeps = row["keeps_d"].number
    if species in table["species"]:
        keeps = min(keeps, table["species"][species]["keeps_d"].number)
    nothing = float("nan")
    return Concentrate(
        say(row["name"]),
        number.get("dose_mg_l", nothing) * volume_l / 1000,
        number.get("dose_mmol_l", nothing) * volume_l * SODA_G_MOL / 1000,
        number.get("ph", nothing),
        volume_l * dry_g_l * row["recovery"].number,
        keeps,
        row["larvae"],
        _steps(row, table["wash"]["ph"].number),
        _cautions(say(row["note"]), base=method in {"ph", "ph-polymer"}),
    )


def _steps(row: Mapping[str, Any], wash_ph: float) -> tuple[str, ...]:
    return (
        say(row["first"]),
        say(row["then"]),
        say(
            "Bring it to pH {wash_ph:g}, stir into ten times filtered seawater, settle; once more.",
            wash_ph=wash_ph,
        ),
        say("Write species, date and method on the jar; 4 °C, dark, stirred daily."),
    )


def _cautions(note: str, *, base: bool) -> tuple[str, ...]:
    burns = say(
        "Caustic soda and acid burn: goggles and gloves, soda into water, never water on soda."
    )
    return (note, burns) if base else (note,)
