"""What a waterworks is made of: places, and parts that join them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

from protoconch.errors import BadInput
from protoconch.waterworks.hydraulics.pipes import PipeSize
from protoconch.waterworks.hydraulics.pumps import PumpCurve
from protoconch.waterworks.treatment.cartridges import Stage
from protoconch.waterworks.treatment.uv import Lamp
from protoconch.waterworks.water import Water
from protoconch.words import say

PlaceKind = Literal["sea", "reservoir", "sump", "tank", "drain", "joint"]
"""sea, reservoir, sump: open water that gives; tank, drain: a mouth that water falls from;
joint: where parts meet."""
PLACE_KINDS: tuple[PlaceKind, ...] = get_args(PlaceKind)
GIVING: tuple[PlaceKind, ...] = ("sea", "reservoir", "sump")
MOUTHS: tuple[PlaceKind, ...] = ("tank", "drain")


@dataclass(frozen=True, slots=True)
class Place:
    """Where parts meet, or water stands or leaves.

    height_m: of the water's surface, the mouth or the joint, over any one level [m].
    wanted_l_min: flow that a tank is to get, 0 where it does not matter [L/min].
    """

    name: str
    kind: PlaceKind
    height_m: float
    wanted_l_min: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Something between two places through which water runs.

    start, end: names of places, in the direction in which water should run.
    material: what water touches, as the data file of materials calls it.
    shut: it is closed, or switched off so that nothing passes.
    """

    name: str
    start: str
    end: str
    material: str = "pvc"
    shut: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Pipe(Part):
    """A run of pipe with its fittings.

    fittings: how many of each kind. check_valve: water cannot run back.
    """

    size: PipeSize
    length_m: float
    fittings: Mapping[str, int] = field(default_factory=dict)
    check_valve: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Valve(Part):
    """A valve, open unless shut.

    k: loss when open, in speed heads [-]; a throttled valve has a large one.
    quick: it shuts in less than a second, as a solenoid valve does.
    """

    size: PipeSize
    k: float
    quick: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Pump(Part):
    """A pump; shut means switched off, with nothing running through.

    inlet_height_m: of its inlet [m]. watts: drawn from the plug, 0 where not known [W].
    motor_hp: [hp], 0 where not known.
    """

    curve: PumpCurve
    inlet_height_m: float
    watts: float = 0.0
    motor_hp: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cartridge(Part):
    """A housing with one stage of cartridges. rating_kpa: pressure it bears [kPa]."""

    stage: Stage
    rating_kpa: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Uv(Part):
    """A UV unit. size, k: its connections and loss in speed heads. lamp_hours: burnt [h].

    burning: the lamp is on.
    """

    lamp: Lamp
    size: PipeSize
    k: float
    lamp_hours: float = 0.0
    burning: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Drain(Part):
    """A line that runs away by its own fall, not full. fall_m: from mouth to end [m]."""

    size: PipeSize
    length_m: float
    fall_m: float
    fittings: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Fixture:
    """Something else that the water touches: a gauge, a float, a thermometer, a clamp.

    at: name of a place or a part. material: as the data file calls it. wetted_cm2: [cm²].
    """

    name: str
    at: str
    material: str
    wetted_cm2: float


@dataclass(frozen=True, slots=True)
class Network:
    """Places and the parts between them, with the water in them.

    Raises: BadInput, naming every name that is used twice or that nothing carries.
    """

    places: tuple[Place, ...]
    parts: tuple[Part, ...]
    water: Water
    fixtures: tuple[Fixture, ...] = ()

    def __post_init__(self) -> None:
        """Refuse names that cannot be told apart or that lead nowhere."""
        problems = naming_problems(self.places, self.parts)
        if problems:
            raise BadInput(" ".join(problems))

    def place(self, name: str) -> Place:
        """The place of that name."""
        return next(place for place in self.places if place.name == name)

    def part(self, name: str) -> Part:
        """The part of that name.

        Raises: BadInput, where there is none.
        """
        for part in self.parts:
            if part.name == name:
                return part
        names = ", ".join(part.name for part in self.parts)
        raise BadInput(say("There is no part {name!r}; there are {names}.", name=name, names=names))

    @property
    def pressed(self) -> tuple[Part, ...]:
        """Parts that run full, so all but drains."""
        return tuple(part for part in self.parts if not isinstance(part, Drain))

    @property
    def tanks(self) -> tuple[Place, ...]:
        """Places that are tanks."""
        return tuple(place for place in self.places if place.kind == "tank")


def naming_problems(places: tuple[Place, ...], parts: tuple[Part, ...]) -> tuple[str, ...]:
    """What is wrong with the names, one sentence each; empty where all is well."""
    names = [place.name for place in places]
    found = [say("Two places are called {name}.", name=name) for name in _twice(names)]
    found += [
        say("Two parts are called {name}.", name=name) for name in _twice([p.name for p in parts])
    ]
    for part in parts:
        found += [
            say("{name} leads to {end}, but there is no such place.", name=part.name, end=end)
            for end in (part.start, part.end)
            if end not in names
        ]
        if part.start == part.end:
            found.append(
                say("{name} starts and ends at {start}.", name=part.name, start=part.start)
            )
    return tuple(found)


def _twice(names: list[str]) -> list[str]:
    return sorted({name for name in names if names.count(name) > 1})
