"""The room in which cultures grow: kinds of vessels, and the line of each species through them."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from protoconch.errors import BadInput
from protoconch.words import say


@dataclass(frozen=True, slots=True)
class VesselKind:
    """Vessels of one kind: name, litres of each, how many, and days of cleaning after each use.

    A vessel that is emptied on a day can be started again `clean_days` + 1 days later.
    """

    name: str
    litres: float
    count: int
    clean_days: int = 1


@dataclass(frozen=True, slots=True)
class Step:
    """One kind of vessel in the line of a species.

    kind: name of the kind. grow_days: from inoculation until it can be used. use_days: on how many
    days it can be used from then on. cells: in a ready culture, or, where `drawn`, what can be
    taken from it on each day [cells]. drawn: a part is taken each day and filled up again; else
    the culture is used up.
    donors, starts: so many ready cultures of the step before, poured out whole on one day, start
    so many of this step: 1 and 1 where one starts one. Unused for the first step, which is
    started from the tubes on the shelf.
    start_min: work to start one and to clean it after [min]; care_min: work on each day [min].
    medium_l: medium for a start [L]; taken_l: medium to fill up after a whole day's taking [L].
    crash_per_d: chance that a culture is lost on a day.
    """

    kind: str
    grow_days: int
    use_days: int
    cells: float
    drawn: bool = False
    donors: int = 1
    starts: int = 1
    start_min: float = 0.0
    care_min: float = 0.0
    medium_l: float = 0.0
    taken_l: float = 0.0
    crash_per_d: float = 0.0

    def __post_init__(self) -> None:
        """Raises: BadInput, where several donors would start several."""
        if min(self.donors, self.starts) != 1:
            raise BadInput(
                say(
                    "For a {kind}, {donors} donors and {starts} starts are given; either one donor "
                    "starts several, or several donors start one.",
                    kind=self.kind,
                    donors=self.donors,
                    starts=self.starts,
                )
            )


@dataclass(frozen=True, slots=True)
class Line:
    """A species on its way from the starters to the vessels that feed: steps in order."""

    species: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Room:
    """The algae room.

    kinds: of vessels, shared by all lines. lines: one for each species.
    spare: ready cultures of a kind to keep above what is poured, for each species.
    minutes_per_l: what a litre of medium counts for in work [min/L].
    """

    kinds: tuple[VesselKind, ...]
    lines: tuple[Line, ...]
    spare: Mapping[str, int] = field(default_factory=dict)
    minutes_per_l: float = 0.0

    def kind(self, name: str) -> VesselKind:
        """The kind of that name.

        Raises: BadInput.
        """
        for kind in self.kinds:
            if kind.name == name:
                return kind
        raise BadInput(say("There is no vessel kind {name} in the algae room.", name=name))

    @property
    def vessels(self) -> int:
        """All vessels together."""
        return sum(kind.count for kind in self.kinds)


@dataclass(frozen=True, slots=True)
class Culture:
    """A culture that is there.

    step: place in the line of its species, from 0. vessel: number within its kind, from 1.
    started, ready, last: days of inoculation, of first use and of last use; day 0 is the plan's.
    left: share of its cells that is still there, for one that is being used up.
    """

    species: str
    step: int
    vessel: int
    started: int
    ready: int
    last: int
    left: float = 1.0


@dataclass(frozen=True, slots=True)
class Present:
    """The room as it is on the morning of day 0.

    cultures: those alive. cleaning: first day on which a vessel can be started again, by kind and
    number. missing: vessels out of use, by kind and number.
    """

    cultures: tuple[Culture, ...] = ()
    cleaning: Mapping[tuple[str, int], int] = field(default_factory=dict)
    missing: frozenset[tuple[str, int]] = frozenset()
