"""Every kind of entry: its payload, where it may happen, and its words."""

from dataclasses import dataclass

from protoconch.errors import UnknownName
from protoconch.log.payloads import algae, animals, care, stores, water, words
from protoconch.log.payloads.payload import Payload
from protoconch.words import joined, phrase, say


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
    Kind(phrase("egg mass collected"), animals.EggMassCollected),
    Kind(phrase("incubator loaded"), animals.IncubatorLoaded, EGGS),
    Kind(phrase("hatched"), animals.Hatched, EGGS),
    Kind(phrase("stocked"), animals.Stocked, HOLDS),
    Kind(phrase("counted"), animals.Counted, (*HOLDS, *EGGS)),
    Kind(phrase("measured"), animals.Measured, HOLDS),
    Kind(phrase("competence checked"), animals.CompetenceChecked, HOLDS),
    Kind(phrase("thinned"), animals.Thinned, HOLDS),
    Kind(phrase("moved"), animals.Moved, HOLDS),
    Kind(phrase("settled"), animals.Settled, HOLDS),
    Kind(phrase("graded"), animals.Graded, HOLDS),
    Kind(phrase("weighed"), animals.Weighed, HOLDS),
    Kind(phrase("lost"), animals.Lost, (*HOLDS, *EGGS)),
    Kind(phrase("released"), animals.Released, HOLDS),
    Kind(phrase("water changed"), care.WaterChanged, HOLDS),
    Kind(phrase("fed"), care.Fed, HOLDS),
    Kind(phrase("cleaned"), care.Cleaned),
    Kind(phrase("done"), care.Done),
    Kind(phrase("inoculated"), algae.Inoculated, ALGAE),
    Kind(phrase("harvested"), algae.Harvested, ALGAE),
    Kind(phrase("culture counted"), algae.CultureCounted, ALGAE),
    Kind(phrase("culture ended"), algae.CultureEnded, ALGAE),
    Kind(phrase("medium made"), algae.MediumMade),
    Kind(phrase("pumped"), water.Pumped, STORE),
    Kind(phrase("drawn"), water.Drawn, STORE),
    Kind(phrase("read"), water.Read),
    Kind(phrase("cartridge changed"), water.CartridgeChanged, ("cartridge",)),
    Kind(phrase("lamp changed"), water.LampChanged, ("UV lamp",)),
    Kind(phrase("received"), stores.Received),
    Kind(phrase("used"), stores.Used),
    Kind(phrase("note"), words.Note),
    Kind(phrase("photo"), words.Photo),
    Kind(phrase("correction"), words.Correction),
    Kind(phrase("confirmed"), words.Confirmed),
)
KINDS = {kind.name: kind for kind in _ALL}


def kind(name: str) -> Kind:
    """The kind of entry by its name. Raises: UnknownName."""
    if name not in KINDS:
        kinds = joined((say(known) for known in KINDS), ", ")
        raise UnknownName(
            say("There is no kind of entry {name}; there are {kinds}.", name=name, kinds=kinds)
        )
    return KINDS[name]
