"""What is written beside each place and part in the drawing of the water path."""

import re

from protoconch.pictures.water_layout import Item
from protoconch.pictures.words import amount, counted
from protoconch.waterworks.assessment import Assessment
from protoconch.waterworks.network.drains import drain_flow_l_min
from protoconch.waterworks.network.parts import (
    Cartridge,
    Drain,
    Part,
    Pipe,
    Place,
    Pump,
    Uv,
)
from protoconch.waterworks.network.paths import reached
from protoconch.waterworks.water import L_MIN_PER_M3_S


def item_words(item: Item, seen: Assessment) -> tuple[str, tuple[str, ...]]:
    """The name to write beside an item, and its figures, line by line."""
    name, figures = _words(item, seen)
    return name, tuple(NUMBER_AND_UNIT.sub("\N{NO-BREAK SPACE}", figure) for figure in figures)


def _words(item: Item, seen: Assessment) -> tuple[str, tuple[str, ...]]:
    network = seen.waterworks.network
    if item.kind == "ring":
        return "ring main", _ring(item, seen)
    if item.kind == "place":
        place = network.place(item.names[0])
        return ("" if place.kind == "joint" else place.name), _place(place, seen)
    part = network.part(item.names[0])
    lines = _part(part, seen)
    if not item.feeds:
        lines = (*lines, f"back to {part.end}")
    return part.name, lines


NUMBER_AND_UNIT = re.compile(r"(?<=\d) (?=\D)")
"""The space between a number and its unit, at which no line may break."""


def _flow(part: Part, seen: Assessment) -> str:
    flow = seen.solution.flow_l_min[part.name]
    back = " backwards" if flow < -0.05 else ""
    return f"{amount(abs(flow) if abs(flow) >= 0.005 else 0.0)} L/min{back}"


def _part(part: Part, seen: Assessment) -> tuple[str, ...]:
    if isinstance(part, Drain):
        most = drain_flow_l_min(part, seen.waterworks.network.water)
        return f"{part.size.called}, {amount(part.length_m)} m", f"takes {counted(most)} L/min"
    if part.shut:
        return ("shut",)
    if isinstance(part, Pipe):
        return _pipe(part, seen)
    if isinstance(part, Pump):
        head = part.curve.head_m(seen.solution.flow_l_min[part.name])
        return (f"{_flow(part, seen)}, lifts {amount(head)} m",)
    return (*_cleaned(part, seen), _flow(part, seen))


def _pipe(part: Pipe, seen: Assessment) -> tuple[str, ...]:
    flow = abs(seen.solution.flow_l_min[part.name])
    speed = flow / L_MIN_PER_M3_S / part.size.area_m2
    way = ", check valve" if part.check_valve else ""
    return (
        f"{part.size.called}, {amount(part.length_m)} m{way}",
        f"{_flow(part, seen)}, {amount(speed)} m/s",
    )


def _cleaned(part: Part, seen: Assessment) -> tuple[str, ...]:
    if isinstance(part, Cartridge):
        drop = seen.drops_kpa[part.name]
        return (f"{amount(part.stage.rating_um)} µm, takes {amount(drop)} kPa",)
    if isinstance(part, Uv):
        dose = seen.doses_mj_cm2[part.name]
        return ("dark" if dose is None else f"{amount(dose)} mJ/cm²",)
    return ()


def _place(place: Place, seen: Assessment) -> tuple[str, ...]:
    if place.kind == "tank":
        flow = max(0.0, seen.tank_flows_l_min[place.name])
        wanted = f" of {amount(place.wanted_l_min)} wanted" if place.wanted_l_min else ""
        return (f"{amount(flow)} L/min{wanted}",)
    if place.kind == "joint":
        pressure = seen.solution.pressure_kpa(seen.waterworks.network, place.name)
        return ("cut off",) if pressure is None else (_kpa(pressure),)
    keeping = seen.waterworks.keeping
    if keeping is not None and keeping.place == place.name:
        store = keeping.store
        return (f"{counted(store.level_l)} of {counted(store.full_l)} L",)
    return (f"{amount(place.height_m)} m high",) if place.kind != "drain" else ()


def _kpa(pressure: float) -> str:
    return f"{pressure:,.0f} kPa".replace("-", "\N{MINUS SIGN}")


def _ring(item: Item, seen: Assessment) -> tuple[str, ...]:
    network = seen.waterworks.network
    inside = [
        part
        for part in network.pressed
        if isinstance(part, Pipe) and part.start in item.names and part.end in item.names
    ]
    speeds = [
        abs(seen.solution.flow_l_min[p.name]) / L_MIN_PER_M3_S / p.size.area_m2 for p in inside
    ]
    pressures = [seen.solution.pressure_kpa(network, name) for name in item.names]
    known = [pressure for pressure in pressures if pressure is not None]
    lines = [f"{amount(sum(p.length_m for p in inside))} m in all"]
    lines.append(f"at most {amount(max(speeds, default=0.0))} m/s")
    if known:
        lines.append(" to ".join(dict.fromkeys((_kpa(min(known)), _kpa(max(known))))))
    return tuple(lines)


def water_meaning(seen: Assessment) -> str:
    """What the drawing says this time, in one or two sentences worked out from its numbers."""
    network = seen.waterworks.network
    new = reached(
        network, [place.name for place in network.places if place.kind in ("sea", "reservoir")],
        opened=True,
    )  # fmt: skip
    flows = [max(0.0, flow) for name, flow in seen.tank_flows_l_min.items() if name in new]
    served = sum(flow > 0.005 for flow in flows)
    said = f"{counted(sum(flows))} L/min of new water reach {served} of {len(flows)} tanks"
    lit = [dose for dose in seen.doses_mj_cm2.values() if dose is not None]
    dark = len(seen.doses_mj_cm2) - len(lit)
    if lit:
        said += f"; the lamp gives {amount(min(lit))} mJ/cm²"
    if dark:
        said += f"; {dark} {'lamp is' if dark == 1 else 'lamps are'} dark or dry"
    heavy = [f for f in seen.findings if f.weight in ("danger", "fault")]
    if not heavy:
        return f"{said}. Nothing was found that keeps it from its job."
    more = " To put right: "
    if len(heavy) > 1:
        more = f" {len(heavy)} things want putting right, first: "
    return f"{said}.{more}{heavy[0].what}"
