"""Every kind of entry: its payload, where it may happen, and its words."""

from dataclasses import dataclass

from protoconch.errors import UnknownName
from protoconch.log.payloads import algae, animals, care, stores, water, words
from protoconch.log.payloads.payload import Payload


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of entry.

    name: as stored. payload: what it must tell. places: kinds of vessel in which it may happen
    (keys of `hatchery.vessels`), empty where it needs none.
    """

    name: str
    payload: type[Payload]
    places: tuple[str, ...] = ()


HOLDS = ("larval tank", "tray", "nursery tank")
EGGS = ("incubator",)
ALGAE = ("algae vessel",)
STORE = ("reservoir",)

_ALL = (
    Kind("egg mass collected", animals.EggMassCollected),
    Kind("incubator loaded", animals.IncubatorLoaded, EGGS),
    Kind("hatched", animals.Hatched, EGGS),
    Kind("stocked", animals.Stocked, HOLDS),
    Kind("counted", animals.Counted, (*HOLDS, *EGGS)),
    Kind("measured", animals.Measured, HOLDS),
    Kind("competence checked", animals.CompetenceChecked, HOLDS),
    Kind("thinned", animals.Thinned, HOLDS),
    Kind("moved", animals.Moved, HOLDS),
    Kind("settled", animals.Settled, HOLDS),
    Kind("graded", animals.Graded, HOLDS),
    Kind("weighed", animals.Weighed, HOLDS),
    Kind("lost", animals.Lost, (*HOLDS, *EGGS)),
    Kind("released", animals.Released, HOLDS),
    Kind("water changed", care.WaterChanged, HOLDS),
    Kind("fed", care.Fed, HOLDS),
    Kind("cleaned", care.Cleaned),
    Kind("done", care.Done),
    Kind("inoculated", algae.Inoculated, ALGAE),
    Kind("harvested", algae.Harvested, ALGAE),
    Kind("culture counted", algae.CultureCounted, ALGAE),
    Kind("culture ended", algae.CultureEnded, ALGAE),
    Kind("medium made", algae.MediumMade),
    Kind("pumped", water.Pumped, STORE),
    Kind("drawn", water.Drawn, STORE),
    Kind("read", water.Read),
    Kind("cartridge changed", water.CartridgeChanged, ("cartridge",)),
    Kind("lamp changed", water.LampChanged, ("UV lamp",)),
    Kind("received", stores.Received),
    Kind("used", stores.Used),
    Kind("note", words.Note),
    Kind("photo", words.Photo),
    Kind("correction", words.Correction),
    Kind("confirmed", words.Confirmed),
)
KINDS = {kind.name: kind for kind in _ALL}


def kind(name: str) -> Kind:
    """The kind of entry by its name. Raises: UnknownName."""
    if name not in KINDS:
        raise UnknownName(f"There is no kind of entry {name}; there are {', '.join(KINDS)}.")
    return KINDS[name]
