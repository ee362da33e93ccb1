"""The vessels and places of a hatchery by the names that its crew uses."""

from collections.abc import Iterator
from dataclasses import dataclass

from protoconch.errors import UnknownName
from protoconch.hatchery.description import Hatchery
from protoconch.sources.reading_toml import did_you_mean
from protoconch.waterworks.network.parts import Cartridge, Uv
from protoconch.words import phrase, say

KINDS = (
    phrase("larval tank"), phrase("tray"), phrase("nursery tank"), phrase("incubator"),
    phrase("algae vessel"), phrase("reservoir"), phrase("cartridge"), phrase("UV lamp"),
    phrase("loop"),
)  # fmt: skip
"""What a vessel or place can be."""


@dataclass(frozen=True, slots=True)
class Vessel:
    """One vessel or place.

    kind: "larval tank", "tray", "nursery tank", "incubator", "algae vessel", "reservoir",
    "cartridge", "UV lamp" or "loop". size in unit: its water [L], or its floor [cm2, m2]; 0 where
    neither is told. group: its name in the description.
    """

    name: str
    kind: str
    size: float = 0.0
    unit: str = ""
    group: str = ""


def numbered(group: str, number: int, noun: str = "") -> str:
    """A vessel as the crew calls it: "large tank 2"; noun is added where the group lacks it."""
    kind = group if noun in group.lower() else f"{group} {noun}"
    return f"{kind} {number}"


def vessels(hatchery: Hatchery) -> tuple[Vessel, ...]:
    """All vessels and places that an entry can name, in the order of a batch's way."""
    return tuple(_all(hatchery))


def vessel(hatchery: Hatchery, name: str) -> Vessel:
    """The vessel of that name. Raises: UnknownName, with the nearest name."""
    known = {found.name: found for found in _all(hatchery)}
    if name not in known:
        raise UnknownName(
            say("This hatchery has no {name}.{near}", name=name, near=did_you_mean(name, known))
        )
    return known[name]


def _all(hatchery: Hatchery) -> Iterator[Vessel]:
    yield from _row(hatchery.incubator_places, "incubator", "incubator")
    for tank in hatchery.larval_tanks:
        yield from _row(tank.count, tank.name, "larval tank", tank.litres, "L", "tank")
    for tray in hatchery.trays:
        yield from _row(tray.count, tray.name, "tray", tray.area_cm2, "cm2")
    for raceway in hatchery.nursery:
        yield from _row(raceway.count, raceway.name, "nursery tank", raceway.area_m2, "m2")
    if hatchery.algae_room is not None:
        for kind in hatchery.algae_room.room.kinds:
            yield from _row(kind.count, kind.name, "algae vessel", kind.litres, "L")
    yield from _waterworks(hatchery)


def _row(
    count: int, group: str, kind: str, size: float = 0.0, unit: str = "", noun: str = ""
) -> Iterator[Vessel]:
    for number in range(1, count + 1):
        yield Vessel(numbered(group, number, noun), kind, size, unit, group)


def _waterworks(hatchery: Hatchery) -> Iterator[Vessel]:
    works = hatchery.waterworks
    if works is None or works.keeping is None:
        yield Vessel("reservoir", "reservoir", group="reservoir")
    else:
        capacity = works.keeping.store.full_l
        yield Vessel(works.keeping.place, "reservoir", capacity, "L", "reservoir")
    if works is not None:
        for part in works.network.parts:
            if isinstance(part, Cartridge):
                yield Vessel(part.name, "cartridge", group="cartridge")
            elif isinstance(part, Uv):
                yield Vessel(part.name, "UV lamp", group="UV lamp")
        for loop in works.loops:
            yield Vessel(loop.name, "loop", loop.volume_l, "L", "loop")
