"""What there is at a moment, as folded from the log."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from uuid import UUID

from protoconch.words import phrase


@dataclass(frozen=True, slots=True)
class Sighting:
    """One number that was seen of a vessel's animals.

    kind: of the entry. value: animals for a count or a settling, mean length [mm], share ready for
    a check of competence, grams of one animal for a weighing.
    low, high: 95 % limits, equal to the value where all were counted.
    """

    entry: UUID
    kind: str
    when: datetime
    where: str
    who: str
    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Holding:
    """Animals of one batch in one vessel.

    alive: the last count, less what was taken out or seen lost since. alive_seen: when counted or
    put in. length_mm: last mean length, None before one was measured. litres: water in it.
    stage: "egg", "veliger", "post-larva" or "juvenile". since: first animals in. In an incubator
    alive is the eggs or larvae there, 0 where nobody counted them; they are in no account yet.
    """

    vessel: str
    batch: str
    stage: str
    since: datetime
    alive: int
    alive_seen: datetime
    length_mm: float | None = None
    length_seen: datetime | None = None
    litres: float | None = None
    last_change: datetime | None = None
    last_fed: datetime | None = None
    last_count: Sighting | None = None


@dataclass(frozen=True, slots=True)
class Account:
    """Where a batch's animals went: stocked = alive + lost + removed + released + missing.

    It begins when larvae go into a tank: eggs and larvae in an incubator are not in it.
    missing: what counts found less (or, below zero, more) than the ledger had.
    """

    stocked: int = 0
    lost: int = 0
    removed: int = 0
    released: int = 0
    missing: int = 0
    alive: int = 0


@dataclass(frozen=True, slots=True)
class BatchState:
    """One batch: its masses, its dates so far, its account, and what was seen of it in order.

    vessels: those that hold it now. sightings: of the last 800 days.
    """

    code: str
    masses: tuple[str, ...]
    eggs: int | None
    loaded: datetime | None
    hatched: datetime | None
    settled: datetime | None
    account: Account
    vessels: tuple[str, ...]
    sightings: tuple[Sighting, ...] = ()


@dataclass(frozen=True, slots=True)
class EggMass:
    """A piece of a wild egg mass, by its label; batch: empty until it is in an incubator."""

    mass: str
    collected: datetime
    site: str
    share_taken: float | None
    eggs: int | None
    permit: str
    batch: str = ""


@dataclass(frozen=True, slots=True)
class CultureCount:
    """One count of a culture [cells/mL] with its 95 % limits."""

    entry: UUID
    when: datetime
    cells_per_ml: float
    low: float
    high: float
    found: str = ""


@dataclass(frozen=True, slots=True)
class Culture:
    """A culture in an algae vessel. litres: what is left in it."""

    vessel: str
    species: str
    started: datetime
    litres: float
    medium: str
    source: str
    counts: tuple[CultureCount, ...] = ()
    harvested_l: float = 0.0
    last_harvest: datetime | None = None
    found: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """The last value read of a quantity at a place, in the unit of its quantity."""

    entry: UUID
    where: str
    quantity: str
    value: float
    when: datetime
    who: str


@dataclass(frozen=True, slots=True)
class Level:
    """Water in a reservoir [L]: read, or the last reading with what went in and out since."""

    vessel: str
    litres: float
    when: datetime
    read: datetime | None
    in_l: float
    out_l: float


@dataclass(frozen=True, slots=True)
class Part:
    """A cartridge or a lamp: when it went in, and its kind."""

    where: str
    changed: datetime
    rating_um: float | None = None


@dataclass(frozen=True, slots=True)
class Lot:
    """What is left of one thing received."""

    amount: float
    expires: date | None = None
    lot: str = ""


@dataclass(frozen=True, slots=True)
class Jar:
    """What is kept of an item, in its unit; expires: the earliest of what is left.

    lots: what is left of each, the first to be used first.
    """

    item: str
    unit: str
    amount: float
    expires: date | None
    seen: datetime
    lots: tuple[Lot, ...] = ()


@dataclass(frozen=True, slots=True)
class Settled:
    """A line of the work list that is done or was skipped: by whom, when, by which entry.

    unasked: the entry came from a phone that could not know who else had done it.
    """

    task: str
    entry: UUID
    who: str
    when: datetime
    skipped: bool
    unasked: bool = False


@dataclass(frozen=True, slots=True)
class Doubt:
    """Entries that cannot all be true, or one that is unlikely, in a sentence a person settles.

    entries: those concerned, the later one first. The state counts only the earlier ones until a
    person confirms or corrects, except where `counted` says that it counts the later one as well.
    """

    entries: tuple[UUID, ...]
    where: str
    when: datetime
    sentence: str
    counted: bool = False


@dataclass(frozen=True, slots=True)
class Emptied:
    """The last batch that a vessel held, and the entry by which it left.

    into: the vessels that it was moved into, none where it died, was released or taken out.
    """

    batch: str
    entry: UUID
    when: datetime
    into: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Clumping:
    """What all counts by aliquots so far say of how animals clump, as sums for one pooled k."""

    counts: int = 0
    squared_means: float = 0.0
    excess: float = 0.0


@dataclass(frozen=True, slots=True)
class State:
    """Everything there is at a moment; every part by its name.

    upto: when the last folded entry happened. entries: how many were folded, corrections included.
    readings: by place and quantity. dirty: algae vessels and tanks not cleaned since emptied.
    settled: of the last 400 days. last: the last folded entry. awaited: entries that a correction
    points at and that the log does not have. emptied: by vessel, of those that are empty now.
    """

    upto: datetime | None = None
    entries: int = 0
    holdings: Mapping[str, Holding] = field(default_factory=dict)
    batches: Mapping[str, BatchState] = field(default_factory=dict)
    masses: Mapping[str, EggMass] = field(default_factory=dict)
    cultures: Mapping[str, Culture] = field(default_factory=dict)
    readings: Mapping[tuple[str, str], Reading] = field(default_factory=dict)
    levels: Mapping[str, Level] = field(default_factory=dict)
    cartridges: Mapping[str, Part] = field(default_factory=dict)
    lamps: Mapping[str, Part] = field(default_factory=dict)
    jars: Mapping[str, Jar] = field(default_factory=dict)
    settled: Mapping[str, Settled] = field(default_factory=dict)
    dirty: frozenset[str] = frozenset()
    doubts: tuple[Doubt, ...] = ()
    last: UUID | None = None
    awaited: frozenset[UUID] = frozenset()
    emptied: Mapping[str, Emptied] = field(default_factory=dict)
    clumping: Clumping = Clumping()


EMPTY = State()

STAGES = {
    phrase("incubator"): phrase("egg"), phrase("larval tank"): phrase("veliger"),
    phrase("tray"): phrase("post-larva"), phrase("nursery tank"): phrase("juvenile"),
}  # fmt: skip
"""Stage of the animals that a kind of vessel is for."""
