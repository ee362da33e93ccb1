"""Findings about the way the water takes: reached or not, past the cartridges, past the UV."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from protoconch.waterworks.findings.finding import Finding
from protoconch.waterworks.network.parts import Cartridge, Network, Uv
from protoconch.waterworks.network.paths import (
    downstream_parts,
    giving_places,
    reached,
    tanks_without_light,
)
from protoconch.waterworks.network.what_if import with_part

OWN = "layout of this waterworks"
COMMON = "common practice, no source"


def path_findings(network: Network, expected_tanks: Iterable[str] = ()) -> Iterator[Finding]:
    """Tanks not reached, dead ends, ways around the UV, cartridges out of order.

    expected_tanks: names of tanks that the hatchery has and the network should serve.
    """
    yield from _forgotten(network, expected_tanks)
    yield from _unreachable(network)
    yield from _dead_ends(network)
    yield from _past_the_uv(network)
    yield from _order(network)


def _forgotten(network: Network, expected: Iterable[str]) -> Iterator[Finding]:
    there = {tank.name for tank in network.tanks}
    for name in expected:
        if name not in there:
            yield Finding(
                "fault", "tank left out", name,
                f"{name} stands in the hatchery but no part of the waterworks leads to it.",
                "Describe the branch that feeds it.", OWN,
            )  # fmt: skip


def _unreachable(network: Network) -> Iterator[Finding]:
    starts = giving_places(network)
    now, ever = reached(network, starts), reached(network, starts, opened=True)
    for tank in network.tanks:
        if tank.name not in ever:
            yield Finding(
                "danger", "tank not reached", tank.name,
                f"No way leads from the water to {tank.name}, whatever is open or shut.",
                "Join its branch to the ring main, and look for a pump or check valve that points "
                "the wrong way.", OWN,
            )  # fmt: skip
        elif tank.name not in now:
            yield Finding(
                "fault", "tank shut off", tank.name,
                f"{tank.name} gets no water as the valves stand now.",
                "Open a valve on its way, or mark the tank as not in use.", OWN,
            )  # fmt: skip


def _dead_ends(network: Network) -> Iterator[Finding]:
    for place in network.places:
        joined = [p for p in network.pressed if place.name in (p.start, p.end)]
        if place.kind == "joint" and len(joined) == 1:
            yield Finding(
                "weakness", "dead end", place.name,
                f"{joined[0].name} ends at {place.name}: the water there stands under pressure and "
                "goes foul.",
                "Cut it short, or end it in a flush valve and flush it before use.", COMMON,
            )  # fmt: skip
        elif place.kind == "joint" and not joined:
            yield Finding(
                "note", "loose joint", place.name, f"Nothing is joined to {place.name}.",
                "Leave it out of the description.", OWN,
            )  # fmt: skip


def _past_the_uv(network: Network) -> Iterator[Finding]:
    lamps = {part.name for part in network.pressed if isinstance(part, Uv)}
    now = tanks_without_light(network)
    if now:
        culprits = [
            part.name
            for part in network.pressed
            if not part.shut and part.name not in lamps
            and not tanks_without_light(network, without=[part.name])
            and set(now) <= reached(network, giving_places(network), without=[part.name])
        ]  # fmt: skip
        yield Finding(
            "danger", "way around the UV", culprits[0] if culprits else now[0],
            f"Water passes no lamp on an open way to {_listed(now)}.",
            "Shut and lock the way around the lamp; put no larvae in until then.", COMMON,
        )  # fmt: skip
    for part in network.pressed:
        if not part.shut:
            continue
        opened = with_part(network, replace(part, shut=False))
        more = [tank for tank in tanks_without_light(opened) if tank not in now]
        if more:
            yield Finding(
                "weakness", "way around the UV", part.name,
                f"When {part.name} is opened, water passes no lamp on its way to {_listed(more)}.",
                "Take its handle off, or tag it: never open with larvae.", COMMON,
            )  # fmt: skip


def _listed(names: Sequence[str]) -> str:
    shown = ", ".join(names[:3])
    return shown if len(names) <= 3 else f"{shown} and {len(names) - 3} more"


def _order(network: Network) -> Iterator[Finding]:
    for part in network.pressed:
        if isinstance(part, Cartridge):
            for later in downstream_parts(network, part):
                if isinstance(later, Cartridge) and later.stage.rating_um > part.stage.rating_um:
                    yield Finding(
                        "fault", "cartridges out of order", later.name,
                        f"{later.name} ({later.stage.rating_um:g} µm) comes after {part.name} "
                        f"({part.stage.rating_um:g} µm) and has nothing left to catch.",
                        "Put the coarse stage first.", COMMON,
                    )  # fmt: skip
        elif isinstance(part, Uv):
            for later in downstream_parts(network, part):
                if isinstance(later, Cartridge):
                    yield Finding(
                        "weakness", "UV before a cartridge", part.name,
                        f"{later.name} stands behind {part.name}: the lamp shines on dirt, and the "
                        "cartridge sheds germs behind it.",
                        "Put the lamp behind the finest cartridge.", COMMON,
                    )  # fmt: skip
