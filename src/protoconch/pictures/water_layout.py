"""Where each place and part of a waterworks stands in its drawing: water runs down the page.

The ring main, whose joints form a circle of pipes, is drawn as one bar. Every other place and part
is an item; an item stands below the items that feed it, beside its brothers, and the first feeder
met is its parent. What closes a circle, as a return to a sump, is told in words instead.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from protoconch.waterworks.network.parts import Network, Part, Pipe

ROOM_BELOW = 4
"""Rows kept free below a group that stands beside another."""
TWIG = 3
"""Branches of fewer items stand to the right, so that the main way stays straight."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to draw.

    kind: "place", "part" or "ring". names: of the place, the part, or all joints of the ring.
    group: key of the first item above it; groups have rows of their own.
    column: may lie between whole ones. row: from 0 at the top. feeds: keys of items below that
    a line leads to. parent: key of the first item that feeds it, or empty.
    """

    key: str
    kind: str
    names: tuple[str, ...]
    group: str
    column: float
    row: int
    feeds: tuple[str, ...]
    parent: str


def ring_joints(network: Network) -> tuple[frozenset[str], ...]:
    """Joints that lie on a circle of pipes, circle by circle."""
    joints = {place.name for place in network.places if place.kind == "joint"}
    pipes = [
        part
        for part in network.pressed
        if isinstance(part, Pipe) and part.start in joints and part.end in joints
    ]
    lead = {name: name for name in joints}

    def leader(name: str) -> str:
        while lead[name] != name:
            name = lead[name]
        return name

    for pipe in pipes:
        others = [other for other in pipes if other is not pipe]
        if _joined(pipe.start, pipe.end, others):
            lead[leader(pipe.start)] = leader(pipe.end)
    groups: dict[str, set[str]] = {}
    for name in sorted(joints):
        groups.setdefault(leader(name), set()).add(name)
    return tuple(frozenset(group) for group in groups.values() if len(group) > 1)


def _joined(start: str, end: str, pipes: Sequence[Part]) -> bool:
    seen, waiting = {start}, [start]
    while waiting:
        here = waiting.pop()
        for pipe in pipes:
            if here in (pipe.start, pipe.end):
                there = pipe.end if pipe.start == here else pipe.start
                if there not in seen:
                    seen.add(there)
                    waiting.append(there)
    return end in seen


def water_layout(network: Network) -> tuple[Item, ...]:
    """All items of the drawing with their places, parents before children."""
    feeds, kinds = _graph(network)
    order, tree, back = _walk(feeds)
    forward = {key: [to for to in feeds[key] if (key, to) not in back] for key in order}
    rows = _rows(order, forward)
    columns = _columns(order, tree, rows)
    groups: dict[str, str] = {}
    for key in order:
        groups[key] = groups.get(tree.get(key, ""), key)
    return tuple(
        Item(
            key,
            kinds[key][0],
            kinds[key][1],
            groups[key],
            columns[key],
            rows[key],
            tuple(forward[key]),
            tree.get(key, ""),
        )
        for key in order
    )


Graph = dict[str, list[str]]


def _graph(network: Network) -> tuple[Graph, dict[str, tuple[str, tuple[str, ...]]]]:
    """What each item feeds, and what each item is."""
    rings = ring_joints(network)
    key_of = {place.name: f"place {place.name}" for place in network.places}
    kinds: dict[str, tuple[str, tuple[str, ...]]] = {}
    for ring in rings:
        key = f"ring {min(ring)}"
        kinds[key] = ("ring", tuple(p.name for p in network.places if p.name in ring))
        key_of.update(dict.fromkeys(ring, key))
    for place in network.places:
        kinds.setdefault(key_of[place.name], ("place", (place.name,)))
    feeds: Graph = {key: [] for key in kinds}
    for part in network.parts:
        start, end = key_of[part.start], key_of[part.end]
        if start == end:
            continue  # a pipe of the ring itself
        key = f"part {part.name}"
        kinds[key] = ("part", (part.name,))
        feeds[start].append(key)
        feeds[key] = [end]
    return feeds, kinds


def _walk(feeds: Graph) -> tuple[list[str], dict[str, str], set[tuple[str, str]]]:
    """Items from the springs on, parent of each, and the lines that would close a circle."""
    fed = {to for ends in feeds.values() for to in ends}
    order: list[str] = []
    tree: dict[str, str] = {}
    back: set[tuple[str, str]] = set()
    state: dict[str, int] = {}

    def visit(key: str) -> None:
        state[key] = 1
        order.append(key)
        for to in feeds[key]:
            if state.get(to) == 1:
                back.add((key, to))
            elif to not in state:
                tree[to] = key
                visit(to)
        state[key] = 2

    for key in [*(k for k in feeds if k not in fed), *feeds]:
        if key not in state:
            visit(key)
    return order, tree, back


def _rows(order: Sequence[str], forward: Graph) -> dict[str, int]:
    """Row of each item: one below the lowest that feeds it."""
    rows = dict.fromkeys(order, 0)
    for _ in order:
        moved = False
        for key in order:
            for to in forward[key]:
                if rows[to] < rows[key] + 1:
                    rows[to] = rows[key] + 1
                    moved = True
        if not moved:
            break
    return rows


def _columns(order: Sequence[str], tree: dict[str, str], rows: dict[str, int]) -> dict[str, float]:
    """Column of each item: brothers side by side, nothing on top of another in a row."""
    children: Graph = {key: [] for key in order}
    for key in order:
        if key in tree:
            children[tree[key]].append(key)
    columns: dict[str, float] = {}
    taken: dict[int, float] = {}
    for root in (key for key in order if key not in tree):
        place, reach = _packed(root, children, rows)
        shift = _shift(taken, _longer(reach))
        for key, column in place.items():
            columns[key] = column + shift
        for row, (_, right) in _longer(reach).items():
            taken[row] = max(taken.get(row, -1.0), right + shift)
    return columns


Reach = dict[int, tuple[float, float]]


def _packed(key: str, children: Graph, rows: dict[str, int]) -> tuple[dict[str, float], Reach]:
    """Columns of an item and all below it, and how far they reach to both sides, row by row."""
    place: dict[str, float] = {}
    reach: Reach = {}
    heads: list[tuple[float, int]] = []
    for child in sorted(children[key], key=lambda c: _size(c, children) < TWIG):
        below, its_reach = _packed(child, children, rows)
        shift = _shift({row: right for row, (_, right) in reach.items()}, its_reach)
        place.update({name: column + shift for name, column in below.items()})
        for row, (left, right) in its_reach.items():
            old = reach.get(row, (left + shift, right + shift))
            reach[row] = (min(old[0], left + shift), max(old[1], right + shift))
        heads.append((place[child], len(below)))
    most = max((count for _, count in heads), default=0)
    weighty = [column for column, count in heads if 2 * count >= most]
    own = sum(weighty) / len(weighty) if weighty else 0.0
    place[key] = own
    reach[rows[key]] = (own, own)
    return place, reach


def _size(key: str, children: Graph) -> int:
    return 1 + sum(_size(child, children) for child in children[key])


def _shift(taken: dict[int, float], reach: Reach) -> float:
    """How far to the right a group must go to clear what is there."""
    needs = [taken[row] + 1 - left for row, (left, _) in reach.items() if row in taken]
    return max(needs, default=0.0)


def _longer(reach: Reach) -> Reach:
    """The same group with room below it: the rows of two groups need not be of one height."""
    last = max(reach)
    widest = (min(left for left, _ in reach.values()), max(right for _, right in reach.values()))
    return {**reach, **dict.fromkeys(range(last + 1, last + 1 + ROOM_BELOW), widest)}


def rows_as_list(items: Iterable[Item]) -> tuple[Item, ...]:
    """The same items one below the other, as a phone shows them; column is how deep they branch."""
    listed = list(items)
    depth: dict[str, int] = {}
    brothers: dict[str, int] = {}
    for item in listed:
        brothers[item.parent] = brothers.get(item.parent, 0) + 1
    found = []
    for row, item in enumerate(listed):
        own = depth.get(item.parent, 0) + (1 if item.parent and brothers[item.parent] > 1 else 0)
        depth[item.key] = own
        found.append(Item(item.key, item.kind, item.names, "", own, row, item.feeds, item.parent))
    return tuple(found)
