"""Pipes by their nominal size."""

from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from protoconch.errors import UnknownName
from protoconch.waterworks.parameters import number, table
from protoconch.waterworks.water import PA_PER_PSI
from protoconch.words import say

M_PER_IN = 0.0254
FRACTIONS = {0.25: "¼", 0.5: "½", 0.75: "¾"}


@dataclass(frozen=True, slots=True)
class PipeSize:
    """One size of pipe.

    material: key, as "pvc-sch40". nominal_in: the name of the size [in], not a measure.
    bore_m: inside diameter [m]. wall_m: wall [m]. rating_kpa: pressure it bears at 73 °F [kPa].
    """

    material: str
    nominal_in: float
    bore_m: float
    wall_m: float
    rating_kpa: float

    @property
    def area_m2(self) -> float:
        """Open cross-section [m²]."""
        return 3.141592653589793 * self.bore_m**2 / 4

    @property
    def called(self) -> str:
        """The size as people say it: "1¼-inch"."""
        whole, rest = divmod(self.nominal_in, 1)
        part = FRACTIONS.get(rest, "" if rest == 0 else f"{rest:g}"[1:])
        return say("{inches}-inch", inches=f"{int(whole) if whole or not part else ''}{part}")


def pipe_materials() -> tuple[str, ...]:
    """Keys of the kinds of pipe that the data file has."""
    return tuple(table("pipes")["materials"])


@cache
def pipe_sizes(material: str) -> tuple[PipeSize, ...]:
    """All sizes of one kind of pipe, small to large.

    Raises: UnknownName, where there is no such pipe.
    Source: ASTM D1785; the bore is the outside less two least walls, so real pipe is 1 to 2 %
    narrower.
    """
    kinds = table("pipes")["materials"]
    if material not in kinds:
        raise UnknownName(
            say(
                "There is no pipe {material!r}; there are {names}.",
                material=material,
                names=", ".join(kinds),
            )
        )
    return tuple(
        PipeSize(
            material,
            float(nominal),
            (outside - 2 * wall) * M_PER_IN,
            wall * M_PER_IN,
            rating * PA_PER_PSI / 1000,
        )
        for nominal, outside, wall, rating in kinds[material]["sizes"]
    )


def pipe_size(material: str, nominal_in: float) -> PipeSize:
    """The pipe of that kind and nominal size [in].

    Raises: UnknownName, with the sizes that there are.
    """
    sizes = pipe_sizes(material)
    for size in sizes:
        if abs(size.nominal_in - nominal_in) < 0.01:
            return size
    listed = ", ".join(f"{size.nominal_in:g}" for size in sizes)
    raise UnknownName(
        say(
            "There is no {material} pipe of nominal size {nominal_in:g} in; sizes are {sizes} in.",
            material=material,
            nominal_in=nominal_in,
            sizes=listed,
        )
    )


def next_larger(size: PipeSize) -> PipeSize | None:
    """The next wider pipe of the same kind, or None."""
    wider = [each for each in pipe_sizes(size.material) if each.nominal_in > size.nominal_in]
    return wider[0] if wider else None


def heat_derated_kpa(rating_kpa: float, temperature_c: float) -> float:
    """Pressure that PVC bears when warm [kPa].

    rating_kpa: at 73 °F [kPa]. temperature_c: of the water [°C].
    Source: derating shares of PVC pipe makers, from memory; straight lines between.
    """
    steps = (
        (22.8, number("pipes", "heat_derating.at_23_c")),
        (26.7, number("pipes", "heat_derating.at_27_c")),
        (32.2, number("pipes", "heat_derating.at_32_c")),
        (37.8, number("pipes", "heat_derating.at_38_c")),
    )
    if temperature_c <= steps[0][0]:
        return rating_kpa
    for (cool, more), (warm, less) in pairwise(steps):
        if temperature_c <= warm:
            share = (temperature_c - cool) / (warm - cool)
            return rating_kpa * (more + share * (less - more))
    return rating_kpa * steps[-1][1]
