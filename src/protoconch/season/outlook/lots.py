"""The lots and vessels of a hatchery while its log is read."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from protoconch.animals.size import GrowthPath
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.season.outlook.seen import Course, Removal, Reset


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
