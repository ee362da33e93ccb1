"""What is written beside each place and part in the drawing of the water path."""

import re

from protoconch.pictures.water_layout import Item
from protoconch.pictures.words import amount, measured, rounded
from protoconch.units import ends
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
from protoconch.waterworks.storage.reservoir import Store
from protoconch.waterworks.water import L_MIN_PER_M3_S
from protoconch.words import counted, say


def item_words(item: Item, seen: Assessment) -> tuple[str, tuple[str, ...]]:
    """The name to write beside an item, and its figures, line by line."""
    name, figures = _words(item, seen)
    return name, tuple(NUMBER_AND_UNIT.sub("\N{NO-BREAK SPACE}", str(line)) for line in figures)


def _words(item: Item, seen: Assessment) -> tuple[str, tuple[str, ...]]:
    network = seen.waterworks.network
    if item.kind == "ring":
        return say("ring main"), _ring(item, seen)
    if item.kind == "place":
        place = network.place(item.names[0])
        return ("" if place.kind == "joint" else place.name), _place(place, seen)
    part = network.part(item.names[0])
    lines = _part(part, seen)
    if not item.feeds:
        lines = (*lines, say("back to {end}", end=part.end))
    return part.name, lines


NUMBER_AND_UNIT = re.compile(r"(?<=\d) (?=\D)")
"""The space between a number and its unit, at which no line may break."""


def _flow(part: Part, seen: Assessment) -> str:
    flow = seen.solution.flow_l_min[part.name]
    shown = measured(abs(flow) if abs(flow) >= 0.005 else 0.0, "L/min")
    return say("{flow} backwards", flow=shown) if flow < -0.05 else shown


def _part(part: Part, seen: Assessment) -> tuple[str, ...]:
    if isinstance(part, Drain):
        most = drain_flow_l_min(part, seen.waterworks.network.water)
        return _size(part), say("takes {flow}", flow=measured(round(most), "L/min"))
    if part.shut:
        return (say("shut"),)
    if isinstance(part, Pipe):
        return _pipe(part, seen)
    if isinstance(part, Pump):
        head = part.curve.head_m(seen.solution.flow_l_min[part.name])
        return (say("{flow}, lifts {head} m", flow=_flow(part, seen), head=amount(head)),)
    return (*_cleaned(part, seen), _flow(part, seen))


def _size(part: Pipe | Drain) -> str:
    return say("{size}, {length} m", size=part.size.called, length=amount(part.length_m))


def _pipe(part: Pipe, seen: Assessment) -> tuple[str, ...]:
    flow = abs(seen.solution.flow_l_min[part.name])
    speed = flow / L_MIN_PER_M3_S / part.size.area_m2
    return (
        say("{pipe}, check valve", pipe=_size(part)) if part.check_valve else _size(part),
        say("{flow}, {speed} m/s", flow=_flow(part, seen), speed=amount(speed)),
    )


def _cleaned(part: Part, seen: Assessment) -> tuple[str, ...]:
    if isinstance(part, Cartridge):
        drop = seen.drops_kpa[part.name]
        return (
            say(
                "{rating} µm, takes {drop} kPa",
                rating=amount(part.stage.rating_um),
                drop=amount(drop),
            ),
        )
    if isinstance(part, Uv):
        dose = seen.doses_mj_cm2[part.name]
        return (say("dark") if dose is None else say("{dose} mJ/cm²", dose=amount(dose)),)
    return ()


def _place(place: Place, seen: Assessment) -> tuple[str, ...]:
    if place.kind == "tank":
        flow = max(0.0, seen.tank_flows_l_min[place.name])
        wanted, shown = ends(rounded(place.wanted_l_min or 0.0), rounded(flow), "L/min")
        if not place.wanted_l_min:
            return (shown,)
        return (say("{flow} of {wanted} wanted", flow=shown, wanted=wanted),)
    if place.kind == "joint":
        pressure = seen.solution.pressure_kpa(seen.waterworks.network, place.name)
        return (say("cut off"),) if pressure is None else (_kpa(pressure),)
    keeping = seen.waterworks.keeping
    if keeping is not None and keeping.place == place.name:
        store = keeping.store
        return (_of_full(store),)
    return (say("{height} m high", height=amount(place.height_m)),) if place.kind != "drain" else ()


def _of_full(store: Store) -> str:
    level, full = ends(round(store.level_l), round(store.full_l), "L")
    return say("{level} of {full}", level=level, full=full)


def _kpa(pressure: float) -> str:
    return say("{pressure:,.0f} kPa", pressure=pressure).replace("-", "\N{MINUS SIGN}")


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
    lines: list[str] = [say("{length} m in all", length=amount(sum(p.length_m for p in inside)))]
    lines.append(say("at most {speed} m/s", speed=amount(max(speeds, default=0.0))))
    if known:
        low, high = _kpa(min(known)), _kpa(max(known))
        lines.append(low if low == high else say("{low} to {high}", low=low, high=high))
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
    told = say(
        "{flow} of new water reach {served} of {all} tanks",
        flow=measured(round(sum(flows)), "L/min"),
        served=served,
        all=len(flows),
    )
    lit = [dose for dose in seen.doses_mj_cm2.values() if dose is not None]
    dark = len(seen.doses_mj_cm2) - len(lit)
    if lit:
        told = say("{told}; the lamp gives {dose} mJ/cm²", told=told, dose=amount(min(lit)))
    if dark:
        told = counted(
            dark,
            "{told}; {number} lamp is dark or dry",
            "{told}; {number} lamps are dark or dry",
            told=told,
        )
    heavy = [f for f in seen.findings if f.weight in ("danger", "fault")]
    if not heavy:
        return say("{told}. Nothing was found that keeps it from its job.", told=told)
    return counted(
        len(heavy),
        "{told}. To put right: {first}",
        "{told}. {number} things want putting right, first: {first}",
        told=told,
        first=heavy[0].what,
    )
