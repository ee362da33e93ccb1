"""The lots and vessels of a hatchery while its log is read."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from protoconch.animals.size import GrowthPath
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.season.outlook.seen import Course, Removal, Reset

SHARED = {"reservoir", "loop", ""}
"""Places whose water stands for that of the animals where theirs was not read."""


@dataclass(slots=True)
class LotRead:
    """A lot while the log is read. known: its number as last told; told: the day of that."""

    key: str
    batch: str
    tank: str
    litres: float
    resets: list[Reset]
    removals: list[Removal] = field(default_factory=list)
    induced: int | None = None
    nursery: int | None = None
    ended: int | None = None
    places: float = 0.0
    known: float = 0.0
    told: int = 0
    looked: int | None = None

    def course(self) -> Course:
        """What is kept of it."""
        return Course(self.key, self.batch, self.tank, self.litres, tuple(self.resets),
                      tuple(self.removals), self.induced, self.nursery, self.ended,
                      self.places or float("inf"))  # fmt: skip


@dataclass(slots=True)
class WaterRead:
    """Temperatures of the animals' water while the log is read.

    own: read where eggs or animals were, by day; shared: in what feeds them, a reservoir or a loop.
    """

    own: dict[int, list[float]] = field(default_factory=dict)
    shared: dict[int, list[float]] = field(default_factory=dict)

    def read(self, day: int, value_c: float, kind: str, *, held: bool) -> None:
        """Take up a reading. kind: of the vessel, empty where it is not known."""
        if held:
            self.own.setdefault(day, []).append(value_c)
        elif kind in SHARED:
            self.shared.setdefault(day, []).append(value_c)

    def readings(self) -> tuple[tuple[int, float], ...]:
        """(day, °C) of the animals' own water, and of the shared on days that have no other."""
        return tuple((day, value) for day in sorted(self.own.keys() | self.shared.keys())
                     for value in self.own.get(day) or self.shared[day])  # fmt: skip


@dataclass(frozen=True, slots=True)
class Vessels:
    """Vessels of a hatchery by name: (kind, litres or floor), and larvae to a cm² of tray."""

    sizes: Mapping[str, tuple[str, float]]
    larvae_per_cm2: float
    path: GrowthPath


def known_vessels(hatchery: Hatchery, larvae_per_cm2: float, path: GrowthPath) -> Vessels:
    """The vessels of a hatchery."""
    sizes = {vessel.name: (vessel.kind, vessel.size) for vessel in vessels(hatchery)}
    return Vessels(sizes, larvae_per_cm2, path)
