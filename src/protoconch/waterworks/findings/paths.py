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
from protoconch.words import say

OWN = say("layout of this waterworks")
COMMON = say("common practice, no source")


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
                "fault",
                say("tank left out"),
                name,
                say(
                    "{name} stands in the hatchery but no part of the waterworks leads to it.",
                    name=name,
                ),
                say("Describe the branch that feeds it."),
                OWN,
            )


def _unreachable(network: Network) -> Iterator[Finding]:
    starts = giving_places(network)
    now, ever = reached(network, starts), reached(network, starts, opened=True)
    for tank in network.tanks:
        if tank.name not in ever:
            yield Finding(
                "danger",
                say("tank not reached"),
                tank.name,
                say(
                    "No way leads from the water to {name}, whatever is open or shut.",
                    name=tank.name,
                ),
                say(
                    "Join its branch to the ring main, and look for a pump or check valve that "
                    "points the wrong way."
                ),
                OWN,
            )
        elif tank.name not in now:
            yield Finding(
                "fault",
                say("tank shut off"),
                tank.name,
                say("{name} gets no water as the valves stand now.", name=tank.name),
                say("Open a valve on its way, or mark the tank as not in use."),
                OWN,
            )


def _dead_ends(network: Network) -> Iterator[Finding]:
    for place in network.places:
        joined = [p for p in network.pressed if place.name in (p.start, p.end)]
        if place.kind == "joint" and len(joined) == 1:
            yield Finding(
                "weakness",
                say("dead end"),
                place.name,
                say(
                    "{part} ends at {place}: the water there stands under pressure and goes foul.",
                    part=joined[0].name,
                    place=place.name,
                ),
                say("Cut it short, or end it in a flush valve and flush it before use."),
                COMMON,
            )
        elif place.kind == "joint" and not joined:
            yield Finding(
                "note",
                say("loose joint"),
                place.name,
                say("Nothing is joined to {name}.", name=place.name),
                say("Leave it out of the description."),
                OWN,
            )


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
            "danger",
            say("way around the UV"),
            culprits[0] if culprits else now[0],
            say("Water passes no lamp on an open way to {tanks}.", tanks=_listed(now)),
            say("Shut and lock the way around the lamp; put no larvae in until then."),
            COMMON,
        )
    for part in network.pressed:
        if not part.shut:
            continue
        opened = with_part(network, replace(part, shut=False))
        more = [tank for tank in tanks_without_light(opened) if tank not in now]
        if more:
            yield Finding(
                "weakness",
                say("way around the UV"),
                part.name,
                say(
                    "When {name} is opened, water passes no lamp on its way to {tanks}.",
                    name=part.name,
                    tanks=_listed(more),
                ),
                say("Take its handle off, or tag it: never open with larvae."),
                COMMON,
            )


def _listed(names: Sequence[str]) -> str:
    shown = ", ".join(names[:3])
    if len(names) <= 3:
        return shown
    return say("{shown} and {more} more", shown=shown, more=len(names) - 3)


def _order(network: Network) -> Iterator[Finding]:
    for part in network.pressed:
        if isinstance(part, Cartridge):
            for later in downstream_parts(network, part):
                if isinstance(later, Cartridge) and later.stage.rating_um > part.stage.rating_um:
                    yield Finding(
                        "fault",
                        say("cartridges out of order"),
                        later.name,
                        say(
                            "{later} ({coarse:g} µm) comes after {part} ({fine:g} µm) and has "
                            "nothing left to catch.",
                            later=later.name,
                            coarse=later.stage.rating_um,
                            part=part.name,
                            fine=part.stage.rating_um,
                        ),
                        say("Put the coarse stage first."),
                        COMMON,
                    )
        elif isinstance(part, Uv):
            for later in downstream_parts(network, part):
                if isinstance(later, Cartridge):
                    yield Finding(
                        "weakness",
                        say("UV before a cartridge"),
                        part.name,
                        say(
                            "{cartridge} stands behind {lamp}: the lamp shines on dirt, and the "
                            "cartridge sheds germs behind it.",
                            cartridge=later.name,
                            lamp=part.name,
                        ),
                        say("Put the lamp behind the finest cartridge."),
                        COMMON,
                    )
