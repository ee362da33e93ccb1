"""Places and parts in the waterworks part of a hatchery file."""

from collections.abc import Callable

from protoconch.errors import BadInput
from protoconch.hatchery.waterworks_words import WaterSection
from protoconch.waterworks.hydraulics.fittings import fitting_k, fitting_kinds
from protoconch.waterworks.hydraulics.pipes import PipeSize, pipe_materials, pipe_size, pipe_sizes
from protoconch.waterworks.hydraulics.pumps import PumpCurve
from protoconch.waterworks.network.parts import (
    PLACE_KINDS,
    Cartridge,
    Drain,
    Fixture,
    Part,
    Pipe,
    Place,
    PlaceKind,
    Pump,
    Uv,
    Valve,
)
from protoconch.waterworks.parameters import number
from protoconch.waterworks.treatment.cartridges import Stage, loading_at_drop, stage, with_loading
from protoconch.waterworks.treatment.uv import Lamp
from protoconch.words import phrase, say

VALVES = ("ball_valve", "gate_valve", "globe_valve")
FLAT_CURVE = PumpCurve(((0.0, 1.0), (1.0, 0.0)))
"""Stands in for a curve that is wrong, until the whole file is refused."""
DEFAULT_PIPE = "pvc-sch40"
UV_K = 3.0
"""Loss of a UV unit in speed heads of its connections where the maker's is not given."""


def place(section: WaterSection) -> Place:
    """One place; faults are noted in the section."""
    name = section.words("name")
    said = section.one_of("kind", PLACE_KINDS)
    kind: PlaceKind = next(each for each in PLACE_KINDS if each == said)
    found = Place(name, kind, section.size("height"), section.size("wants", 0.0))
    section.close()
    return found


def part(section: WaterSection) -> Part:
    """One part; faults, and figures that had to be assumed, are noted in the section."""
    read = READERS[section.one_of("kind", READERS)]
    found = read(section)
    section.close(also=("name", "from", "to", "material", "shut"))
    return found


def fixture(section: WaterSection) -> Fixture:
    """Something else that the water touches."""
    found = Fixture(
        section.words("name"), section.words("at"), section.words("material").lower(),
        section.size("wetted"),
    )  # fmt: skip
    section.close()
    return found


def _ends(section: WaterSection) -> tuple[str, str, str]:
    return section.words("name"), section.words("from"), section.words("to")


def _material(section: WaterSection, default: str) -> str:
    return section.words("material").lower() if section.has("material") else default


def _size(section: WaterSection) -> PipeSize:
    kind = section.one_of("pipe", pipe_materials(), DEFAULT_PIPE)
    nominal = section.size("size")
    try:
        return pipe_size(kind, nominal)
    except BadInput as error:
        if nominal > 0:
            section.sound("size", error)
        return pipe_sizes(kind)[0]


def _pipe(section: WaterSection) -> Part:
    name, start, end = _ends(section)
    return Pipe(
        name=name, start=start, end=end, material=_material(section, "pvc"),
        shut=section.truth("shut"), size=_size(section), length_m=section.size("length"),
        fittings=section.counts("fittings", fitting_kinds()),
        check_valve=section.truth("check_valve"),
    )  # fmt: skip


def _valve(section: WaterSection) -> Part:
    name, start, end = _ends(section)
    size, given = _size(section), section.maybe("k")
    kind = section.one_of("type", VALVES, "ball_valve")
    return Valve(
        name=name, start=start, end=end, material=_material(section, "pvc"),
        shut=section.truth("shut"), size=size, quick=section.truth("quick"),
        k=fitting_k(kind, size.nominal_in) if given is None else given,
    )  # fmt: skip


def _pump(section: WaterSection) -> Part:
    name, start, end = _ends(section)
    points = section.pairs("curve", "flow", "head")
    curve = FLAT_CURVE
    try:
        curve = PumpCurve(points) if points else FLAT_CURVE
    except BadInput as error:
        section.sound("curve", error)
    return Pump(
        name=name, start=start, end=end, material=_material(section, "polypropylene"),
        shut=section.truth("shut"), curve=curve, inlet_height_m=section.size("height"),
        watts=section.size("watts", 0.0), motor_hp=section.size("motor", 0.0),
    )  # fmt: skip


def _cartridge(section: WaterSection) -> Part:
    name, start, end = _ends(section)
    rating, lengths = section.size("rating"), section.size("lengths")
    drop, flow = section.maybe("clean_drop"), section.maybe("clean_drop_flow")
    if (drop is None) != (flow is None):
        section.fault(
            "clean_drop", say("{name}: give clean_drop and clean_drop_flow together.", name=name)
        )
    clean = drop / flow if drop and flow else None
    if clean is None:
        section.assumed.append(
            say(
                "{name}: the clean pressure drop of a {rating:g} µm cartridge is assumed.",
                name=name,
                rating=rating,
            )
        )
    made = Stage(5.0, 1.0, 1.0, 0.0)
    try:
        made = stage(rating, lengths, clean)
        made = _loaded(section, made)
    except BadInput as error:
        if rating > 0 and lengths > 0:
            section.sound("rating", error)
    bears = section.size("bears", number("cartridges", "housing_rating"))
    return Cartridge(
        name=name, start=start, end=end, material=_material(section, "polypropylene"),
        shut=section.truth("shut"), stage=made, rating_kpa=bears,
    )  # fmt: skip


def _loaded(section: WaterSection, made: Stage) -> Stage:
    """The stage as loaded as the file says, by share or by a reading."""
    drop, flow = section.maybe("drop"), section.maybe("drop_flow")
    if drop is not None and flow:
        return with_loading(made, loading_at_drop(made, drop, flow, section.water))
    if (drop is None) != (flow is None):
        section.fault(
            "drop", say("{called}: give drop and drop_flow together.", called=section.called)
        )
    return with_loading(made, section.size("loaded", 0.0) / 100)


SHARES = {
    "age_factor": phrase("age factor"), "fouling_factor": phrase("fouling factor"),
    "flow_factor": phrase("flow factor"), "transmittance": phrase("transmittance"),
}  # fmt: skip
"""Shares of a lamp's dose, as they are called."""


def _uv(section: WaterSection) -> Part:
    name, start, end = _ends(section)
    shares = {}
    for key, usual in (
        ("age_factor", number("uv", "age_factor")),
        ("fouling_factor", number("uv", "fouling_factor")),
        ("flow_factor", number("uv", "flow_factor")),
        ("transmittance", number("uv", "transmittance.intake")),
    ):
        given = section.maybe(key)
        if given is None:
            section.assumed.append(
                say(
                    "{name}: {key} is assumed to be {usual:g}.",
                    name=name,
                    key=say(SHARES[key]),
                    usual=usual,
                )
            )
        shares[key] = usual if given is None else given
    lamp = Lamp(
        section.size("uvc_power"), section.size("gap"), shares["transmittance"],
        shares["age_factor"], shares["fouling_factor"], shares["flow_factor"],
    )  # fmt: skip
    return Uv(
        name=name, start=start, end=end, material=_material(section, "quartz"),
        shut=section.truth("shut"), lamp=lamp, size=_size(section), k=section.size("k", UV_K),
        lamp_hours=section.size("lamp_hours", 0.0), burning=not section.truth("lamp_out"),
    )  # fmt: skip


def _drain(section: WaterSection) -> Part:
    name, start, end = _ends(section)
    return Drain(
        name=name, start=start, end=end, material=_material(section, "pvc"),
        size=_size(section), length_m=section.size("length"), fall_m=section.size("fall"),
        fittings=section.counts("fittings", fitting_kinds()),
    )  # fmt: skip


READERS: dict[str, Callable[[WaterSection], Part]] = {
    "pipe": _pipe,
    "valve": _valve,
    "pump": _pump,
    "cartridge": _cartridge,
    "uv": _uv,
    "drain": _drain,
}
