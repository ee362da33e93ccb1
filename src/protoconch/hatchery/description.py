"""What a hatchery is made of: the room, the water, the people, the permit."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from protoconch.hatchery.algae_vessels import AlgaeRoom
from protoconch.sources.values import SourcedValue
from protoconch.waterworks.description import Waterworks


@dataclass(frozen=True, slots=True)
class LarvalTank:
    """Larval tanks of one size: how many, and the water each holds [L]."""

    name: str
    count: int
    litres: float


@dataclass(frozen=True, slots=True)
class Tray:
    """Settlement trays of one size: how many, and the floor of each [cm²]."""

    name: str
    count: int
    area_cm2: float


@dataclass(frozen=True, slots=True)
class NurseryTank:
    """Nursery tanks of one size: how many, and the floor of each [m²]."""

    name: str
    count: int
    area_m2: float


@dataclass(frozen=True, slots=True)
class Permit:
    """What the permit allows: egg masses in a season, calendar months (1-12), where, its number."""

    egg_masses: int
    months: tuple[int, ...]
    area: str
    number: str


@dataclass(frozen=True, slots=True)
class Genetics:
    """Least number of egg masses in a season, and the largest share of one mass in the release."""

    min_masses: int
    max_share: float


@dataclass(frozen=True, slots=True)
class Prices:
    """What an hour of work, a gram of dry algae and the fetching of an egg mass cost here.

    currency: as people write it there. All but the hour may be unknown.
    """

    currency: str
    crew_hour: float
    algae_dry_g: float | None = None
    egg_mass: float | None = None


@dataclass(frozen=True, slots=True)
class Target:
    """So many juveniles of a shell length [mm] by a date, with this confidence (0 to 1)."""

    animals: int
    size_mm: float
    by: date
    confidence: float


@dataclass(frozen=True, slots=True)
class Hatchery:
    """A hatchery, as read from its file and found sound.

    temperature_c: mean water temperature of each calendar month, January first [°C, 12 values].
    algae_dry_g_per_day: what the algae room can give to larvae on one day [g dry mass].
    crew_hours: hours of work by weekday, Monday first [h, 7 values].
    first_day, last_day: days between which egg masses may be collected this season.
    regime: name of the larval feeding regime of the species profile.
    own_values: the hatchery's own numbers, which stand in for the profile's, by name.
    prices: what things cost here, None where the file does not say.
    invented: True for a demonstration that describes no real place.
    notes: what its manager should know, though nothing is wrong, each a sentence.
    waterworks, algae_room: where the file describes them; kept_lines: those lines of the file, as
    its manager wrote them.
    """

    name: str
    species: str
    regime: str
    place: str
    invented: bool
    temperature_c: tuple[float, ...]
    larval_tanks: tuple[LarvalTank, ...]
    incubator_places: int
    trays: tuple[Tray, ...]
    nursery: tuple[NurseryTank, ...]
    algae_dry_g_per_day: float
    crew_hours: tuple[float, ...]
    permit: Permit
    genetics: Genetics
    first_day: date
    last_day: date
    target: Target | None = None
    own_values: Mapping[str, SourcedValue] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    waterworks: Waterworks | None = None
    algae_room: AlgaeRoom | None = None
    kept_lines: str = ""
    prices: Prices | None = None

    @property
    def tray_area_cm2(self) -> float:
        """All tray floor together [cm²]."""
        return sum(tray.count * tray.area_cm2 for tray in self.trays)

    @property
    def nursery_area_m2(self) -> float:
        """All nursery floor together [m²]."""
        return sum(tank.count * tank.area_m2 for tank in self.nursery)
