"""Where people can be hurt; local code and licensed people decide."""

from dataclasses import dataclass

from protoconch.waterworks.network.parts import Cartridge, Network, Pump, Uv
from protoconch.waterworks.parameters import table
from protoconch.words import say

KINDS = {"pump": Pump, "uv": Uv, "cartridge": Cartridge}


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: what it is about, the sentences, and the id of their source."""

    about: str
    say: str
    source: str


def cautions_for(network: Network) -> tuple[Caution, ...]:
    """The cautions that belong to what a network has, in the order in which they can kill."""
    there = {kind for kind, cls in KINDS.items() if any(isinstance(p, cls) for p in network.parts)}
    there |= {place.kind for place in network.places}
    return tuple(
        Caution(say(row["about"]), say(row["say"]), row["source"])
        for row in table("water_cautions")["cautions"]
        if there & set(row["parts"])
    )
