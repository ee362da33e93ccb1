"""The species that are grown as food, and how much of one stands in for another."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Literal, get_args

from protoconch.errors import MissingNumber, UnknownName
from protoconch.sources.reading import load_catalogue, load_table
from protoconch.sources.reading_toml import did_you_mean
from protoconch.sources.values import SourcedValue
from protoconch.words import say

Basis = Literal["dry", "organic", "volume"]
"""What cells are compared by: dry mass, organic mass, or volume; one diet keeps to one."""

DRY_SOURCE = "brown-1991"
"""Weighed dry, ash and all, where the other sources of the table of rations weighed organic."""


def ration_basis() -> tuple[Basis, str]:
    """The basis that diets are on where none is asked for, and why, in words."""
    table = load_catalogue("algae_growth")["ration"]
    return table["basis"], say(table["why"])


@dataclass(frozen=True, slots=True)
class AlgaSpecies:
    """One species of algae.

    key: as typed, "t-iso". kind: "flagellate", "diatom", "film diatom" or "other".
    medium: name of its medium in the table of media. silicate_doses: times the silicate of f/2.
    numbers: its sourced numbers by dotted name; "ration_pg" is the organic mass of one cell, by
        which the rations of the season are counted.
    """

    key: str
    name: str
    kind: str
    medium: str
    silicate_doses: float
    numbers: Mapping[str, SourcedValue]

    def number(self, name: str) -> float:
        """A number of the species, in the unit of the table.

        Raises: MissingNumber, where no source gives one.
        """
        found = self.numbers.get(name)
        if found is None:
            raise MissingNumber(
                say(
                    "{species} has no number called {name}; weigh or count it.",
                    species=self.name,
                    name=name,
                )
            )
        return found.number

    def cell_mass_pg(self, basis: Basis | None = None) -> float:
        """Mass of one cell [pg], or its volume [µm³], on one basis.

        basis: that of `ration_basis` where None.
        Raises: MissingNumber, where it is not known on that basis: another basis is never mixed in.
        """
        basis = ration_basis()[0] if basis is None else basis
        if basis not in get_args(Basis):
            raise UnknownName(
                say(
                    "{basis} is no basis; there are {known}.",
                    basis=basis,
                    known=", ".join(get_args(Basis)),
                )
            )
        name = {"dry": "dry_pg", "organic": "organic_pg", "volume": "volume_um3"}[basis]
        return self.number(name)

    @property
    def drawn(self) -> bool:
        """True where a part of a large culture is taken again and again, not all of it at once."""
        return "drawn_limit_d" in self.numbers


@cache
def known_algae() -> tuple[str, ...]:
    """Keys of the species in the table."""
    return tuple(load_catalogue("algae_species"))


@cache
def alga(key: str) -> AlgaSpecies:
    """The species of that key.

    Raises: UnknownName, with what is known.
    """
    table = load_catalogue("algae_species")
    if key not in table:
        raise UnknownName(
            say(
                "There is no alga {key}; there are {known}.{near}",
                key=key,
                known=", ".join(table),
                near=did_you_mean(key, table),
            )
        )
    entry: Mapping[str, Any] = table[key]
    numbers = dict(_flat(entry))
    numbers |= _weighed(entry["mass"])
    if "organic_pg" in numbers:
        numbers["ration_pg"] = numbers["organic_pg"]
    return AlgaSpecies(
        key, entry["name"], entry["kind"], entry["medium"], entry["silicate_doses"],
        MappingProxyType(numbers),
    )  # fmt: skip


def equivalent(species: str, of: str = "t-iso", basis: Basis | None = None) -> float:
    """Cells of the species `of` that one cell of `species` replaces, both on one basis.

    basis: that of `ration_basis` where None.
    Raises: MissingNumber, where either is not known on that basis; UnknownName.
    """
    return alga(species).cell_mass_pg(basis) / alga(of).cell_mass_pg(basis)


def _flat(entry: Mapping[str, Any], before: str = "") -> list[tuple[str, SourcedValue]]:
    found: list[tuple[str, SourcedValue]] = []
    for key, part in entry.items():
        if isinstance(part, SourcedValue):
            found.append((before + key, part))
        elif isinstance(part, Mapping):
            found += _flat(part, f"{before}{key}.")
    return found


def _weighed(mass: str) -> dict[str, SourcedValue]:
    """The numbers that the table of rations has for the species, under the names used here."""
    table = load_table("algae")
    names = {"ration_pg": f"{mass}.dry_mass_pg", "harvest_per_ml.carboy": f"{mass}.harvest_per_ml"}
    found = {name: table[key] for name, key in names.items() if key in table}
    if "ration_pg" in found and found["ration_pg"].source != DRY_SOURCE:
        found["organic_pg"] = found["ration_pg"]
    return found
