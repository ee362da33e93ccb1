"""Where water can get to, and through what."""

from collections import deque
from collections.abc import Iterable, Iterator

from protoconch.waterworks.network.parts import GIVING, MOUTHS, Network, Part, Pipe, Pump, Uv


def _ways(part: Part, mouths: frozenset[str]) -> Iterator[tuple[str, str]]:
    """From where to where water can run in a part."""
    yield part.start, part.end
    one_way = isinstance(part, Pump) or (isinstance(part, Pipe) and part.check_valve)
    if not one_way and part.end not in mouths:
        yield part.end, part.start


def reached(
    network: Network,
    starts: Iterable[str],
    *,
    without: Iterable[str] = (),
    opened: bool = False,
) -> frozenset[str]:
    """Places that water can get to from some places through parts that run full.

    without: names of parts taken away. opened: count shut parts as open.
    Water does not run on from a tank or a drain, nor through the open water of another source.
    """
    mouths = frozenset(place.name for place in network.places if place.kind in MOUTHS)
    still = frozenset(place.name for place in network.places if place.kind != "joint")
    gone = frozenset(without)
    ways: dict[str, list[str]] = {}
    for part in network.pressed:
        if part.name in gone or (part.shut and not opened):
            continue
        for here, there in _ways(part, mouths):
            ways.setdefault(here, []).append(there)
    begun = list(starts)
    seen = set(begun)
    waiting = deque(begun)
    while waiting:
        here = waiting.popleft()
        if here in still and here not in begun:
            continue
        for there in ways.get(here, ()):
            if there not in seen:
                seen.add(there)
                waiting.append(there)
    return frozenset(seen)


def giving_places(network: Network) -> tuple[str, ...]:
    """Names of the places that give water."""
    return tuple(place.name for place in network.places if place.kind in GIVING)


def standing_alone(network: Network) -> frozenset[str]:
    """Joints that no open part joins to open water or a mouth: nothing can move there."""
    neighbours: dict[str, list[str]] = {place.name: [] for place in network.places}
    for part in network.pressed:
        if not part.shut:
            neighbours[part.start].append(part.end)
            neighbours[part.end].append(part.start)
    waiting = deque(place.name for place in network.places if place.kind != "joint")
    seen = set(waiting)
    while waiting:
        for there in neighbours[waiting.popleft()]:
            if there not in seen:
                seen.add(there)
                waiting.append(there)
    return frozenset(neighbours) - frozenset(seen)


def downstream_parts(network: Network, part: Part) -> tuple[Part, ...]:
    """Parts that water may run through after one part, as things stand open and shut."""
    places = reached(network, [part.end], without=[part.name])
    mouths = frozenset(place.name for place in network.places if place.kind in MOUTHS)
    still = frozenset(place.name for place in network.places if place.kind != "joint")
    return tuple(
        other
        for other in network.pressed
        if other.name != part.name
        and not other.shut
        and any(
            here in places and (here == part.end or here not in still)
            for here, _ in _ways(other, mouths)
        )
    )


def tanks_without_light(network: Network, without: Iterable[str] = ()) -> tuple[str, ...]:
    """Tanks behind a lamp that water also reaches past every lamp, as things stand open and shut.

    without: names of parts taken away. Only water that could pass a lamp counts: a loop that has
    none goes no way around one.
    """
    lamps = [part for part in network.pressed if isinstance(part, Uv)]
    behind = frozenset[str]().union(*(reached(network, [p.end], opened=True) for p in lamps))
    starts = [
        place
        for place in giving_places(network)
        if any(lamp.start in reached(network, [place], opened=True) for lamp in lamps)
    ]
    there = reached(network, starts, without=[*(lamp.name for lamp in lamps), *without])
    return tuple(tank.name for tank in network.tanks if tank.name in there & behind)
