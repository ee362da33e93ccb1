"""States on the way through the log, to carry on from: in memory, and as snapshots in the table."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib.resources import files
from importlib.resources.abc import Traversable

from protoconch.errors import BadInput
from protoconch.log.fold.order import place
from protoconch.log.state import EMPTY, State
from protoconch.records.models import Description, Site, Snapshot
from protoconch.records.packing import packed, unpacked
from protoconch.records.queries.reading import NONE_YET, Arrival

CLOSEST = 64
"""Entries between the nearest points; each further one lies about twice as far back."""
WRITTEN_FROM = ("log", "hatchery/vessels.py", "hatchery/reading.py")
"""What a state follows from besides the log: when it changes, snapshots are made anew."""


@dataclass(frozen=True, slots=True)
class Resting:
    """The state after all entries up to its place in the log.

    last: the entry that had arrived last when it was folded.
    """

    state: State
    last: Arrival

    @property
    def place(self) -> int:
        """Place in the log of the last entry folded; 0 before the first."""
        if self.state.upto is None or self.state.last is None:
            return 0
        return place(self.state.upto, self.state.last)


NOTHING = Resting(EMPTY, NONE_YET)


def stops(entries: int) -> list[int]:
    """Where to make points on the way: at distances from the end that double, and at the end."""
    found, back = [entries], CLOSEST
    while back < entries:
        found.append(entries - back)
        back *= 2
    return found[::-1]


def thinned(distances: Iterable[int]) -> Iterator[bool]:
    """Of points by their distance from the end, nearest first: whether to keep each.

    At most two stay for each doubling of the distance.
    """
    groups: dict[int, int] = {}
    for distance in distances:
        group = (distance // CLOSEST).bit_length()
        groups[group] = groups.get(group, 0) + 1
        yield groups[group] <= 2


@cache
def version() -> str:
    """Changes with the code that folds the log, so that no snapshot outlives it."""
    seen = sha256()
    for name in WRITTEN_FROM:
        for file in _modules(files("protoconch").joinpath(name)):
            seen.update(file.read_bytes())
    return seen.hexdigest()[:40]


def _modules(part: Traversable) -> Iterator[Traversable]:
    if part.is_file():
        yield part
        return
    for inner in sorted(part.iterdir(), key=lambda file: file.name):
        if inner.is_dir() or inner.name.endswith(".py"):
            yield from _modules(inner)


def snapshots(site: Site, described: Description) -> list[Snapshot]:
    """The snapshots that this version of the program can use, the last moment first, unread."""
    mine = Snapshot.objects.filter(site=site, description=described.pk, version=version())
    return list(mine.defer("content").order_by("-upto", "-number"))


def opened(snapshot: Snapshot) -> Resting | None:
    """A snapshot as a point; None where it cannot be read, as nothing hangs on it."""
    try:
        state = unpacked(snapshot.content, State)
    except BadInput:
        return None
    rows = snapshot.site.entries.filter(number=snapshot.number)
    last = rows.values_list("number", "uuid", "arrived").first()
    return Resting(state, Arrival(*last)) if last else None


def keep(site: Site, described: Description, points: Iterable[Resting]) -> None:
    """Write points into the table, each once, and delete those that are too many or out of date."""
    written = {(kept.number, kept.upto) for kept in snapshots(site, described)}
    for point in points:
        upto = point.state.upto
        if upto is not None and (point.last.number, upto) not in written:
            Snapshot.objects.create(
                site=site, number=point.last.number, upto=upto, entries=point.state.entries,
                description=described.pk, version=version(), content=packed(point.state),
            )  # fmt: skip
    kept = sorted(snapshots(site, described), key=lambda one: (-one.entries, -one.number))
    keeps = thinned(kept[0].entries - one.entries for one in kept)
    useful = [one.pk for one, wanted in zip(kept, keeps, strict=True) if wanted]
    Snapshot.objects.filter(site=site).exclude(pk__in=useful).delete()
