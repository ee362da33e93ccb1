"""Findings about flow and pressure: too fast, too little, off the curve, too much to bear."""

from collections.abc import Iterator

from protoconch.units import text
from protoconch.waterworks.findings.finding import Finding
from protoconch.waterworks.hydraulics.line import pipe_loss, surge_kpa
from protoconch.waterworks.hydraulics.pipes import PipeSize, heat_derated_kpa, next_larger
from protoconch.waterworks.hydraulics.pumps import suction_head_available_m
from protoconch.waterworks.network.drains import drain_flow_l_min
from protoconch.waterworks.network.parts import Cartridge, Drain, Network, Part, Pipe, Pump, Valve
from protoconch.waterworks.network.paths import downstream_parts
from protoconch.waterworks.network.solving import Solution
from protoconch.waterworks.network.what_if import LEAST_FLOW_L_MIN, tank_flows_l_min
from protoconch.waterworks.parameters import number
from protoconch.waterworks.water import L_MIN_PER_M3_S
from protoconch.words import say

MAKER = say("the maker's curve, as given")
COMMON = say("common practice, no source")
SHUT_OFF_MARGIN = 1.5


def flow_findings(network: Network, solution: Solution) -> Iterator[Finding]:
    """Everything that flows and pressures show in a network that was solved."""
    yield from _too_fast(network, solution)
    yield from _pumps(network, solution)
    yield from _bursting(network)
    yield from _too_little(network, solution)
    yield from _below_air_pressure(network, solution)
    yield from _drains(network, solution)


def size_of(part: Part) -> PipeSize | None:
    """The pipe size of a part that has one."""
    return getattr(part, "size", None)


def velocity_m_s(part: Part, solution: Solution) -> float | None:
    """Speed in a part [m/s], or None where it has no pipe size."""
    size = size_of(part)
    if size is None or isinstance(part, Drain):
        return None
    return abs(solution.flow_l_min[part.name]) / L_MIN_PER_M3_S / size.area_m2


def _too_fast(network: Network, solution: Solution) -> Iterator[Finding]:
    most = number("pipes", "most_velocity")
    for part in network.pressed:
        if not isinstance(part, Pipe):
            continue
        speed, flow = velocity_m_s(part, solution), abs(solution.flow_l_min[part.name])
        if speed is None or speed <= most:
            continue
        wider, remedy = next_larger(part.size), say("Split the flow over two lines.")
        while wider is not None and flow / L_MIN_PER_M3_S / wider.area_m2 > most:
            wider = next_larger(wider)
        if wider is not None:
            here = pipe_loss(flow, part.size, part.length_m, network.water).head_loss_m
            there = pipe_loss(flow, wider, part.length_m, network.water).head_loss_m
            speed_there = flow / L_MIN_PER_M3_S / wider.area_m2
            remedy = say(
                "Take {size} pipe: {speed_there:.1f} m/s at this flow, and {there:.2g} m "
                "of friction instead of {here:.2g} m.",
                size=wider.called,
                speed_there=speed_there,
                there=there,
                here=here,
            )
        yield Finding(
            "fault",
            say("water too fast"),
            part.name,
            say(
                "Water runs at {speed:.1f} m/s ({feet:.1f} ft/s) in the {size} pipe "
                "{name}, above the {most:.1f} m/s (5 ft/s) of closed systems.",
                speed=speed,
                feet=speed / 0.3048,
                size=part.size.called,
                name=part.name,
                most=most,
            ),
            remedy,
            say("PVC pipe makers' engineering data"),
        )


def _pumps(network: Network, solution: Solution) -> Iterator[Finding]:
    for pump in network.pressed:
        if not isinstance(pump, Pump) or pump.shut:
            continue
        flow = solution.flow_l_min[pump.name]
        if flow <= LEAST_FLOW_L_MIN:
            yield Finding(
                "danger",
                say("pump without flow"),
                pump.name,
                say(
                    "{name} runs and moves no water: it heats up, and nothing reaches the tanks.",
                    name=pump.name,
                ),
                say(
                    "Open a valve, lift less, or take a pump with more head than {head:.3g} m.",
                    head=pump.curve.shut_off_m,
                ),
                MAKER,
            )
            continue
        yield from _off_the_curve(pump, flow)
        yield from _suction(network, solution, pump)


def _off_the_curve(pump: Pump, flow: float) -> Iterator[Finding]:
    curve = pump.curve
    if flow < curve.least_flow_l_min:
        yield Finding(
            "fault",
            say("below the pump's curve"),
            pump.name,
            say(
                "{name} moves {flow}, less than the {least} "
                "where its curve begins: it runs hot and wears.",
                name=pump.name,
                flow=text(round(flow), "L/min"),
                least=text(round(curve.least_flow_l_min), "L/min"),
            ),
            say(
                "Open more branches, lead some water back to the reservoir, or take a smaller pump."
            ),
            MAKER,
        )
    elif flow > curve.most_flow_l_min:
        yield Finding(
            "fault",
            say("beyond the pump's curve"),
            pump.name,
            say(
                "{name} moves {flow}, more than the {most} "
                "where its curve ends: the motor is overloaded and the answer is a guess.",
                name=pump.name,
                flow=text(round(flow), "L/min"),
                most=text(round(curve.most_flow_l_min), "L/min"),
            ),
            say("Throttle behind the pump, or take a larger one."),
            MAKER,
        )


def _suction(network: Network, solution: Solution, pump: Pump) -> Iterator[Finding]:
    head = solution.head_m[pump.start]
    if head is None:
        return
    suction = head - pump.inlet_height_m
    most = number("storage", "suction_lift")
    if suction < -most:
        left = suction_head_available_m(suction, network.water)
        yield Finding(
            "fault",
            say("suction too high"),
            pump.name,
            say(
                "{name} lifts {suction:.1f} m on its suction side, losses counted, more "
                "than {most:g} m; {left:.1f} m of suction head are left.",
                name=pump.name,
                suction=-suction,
                most=most,
                left=left,
            ),
            say("Set the pump lower or nearer, widen the suction line, clean the strainer."),
            COMMON,
        )


def _bursting(network: Network) -> Iterator[Finding]:
    """Parts that a pump running against a shut valve could burst."""
    for pump in network.pressed:
        if not isinstance(pump, Pump):
            continue
        shut_off = pump.curve.shut_off_m * network.water.kpa_per_m
        for part in downstream_parts(network, pump):
            bears = part.rating_kpa if isinstance(part, Cartridge) else _pipe_bears(network, part)
            if bears is not None and shut_off * SHUT_OFF_MARGIN > bears:
                yield Finding(
                    "danger",
                    say("pressure"),
                    part.name,
                    say(
                        "Against a shut valve {pump} makes {shut_off:.0f} kPa; {part} bears "
                        "{bears:.0f} kPa in this warm water, less than half as much again.",
                        pump=pump.name,
                        shut_off=shut_off,
                        part=part.name,
                        bears=bears,
                    ),
                    say("Fit a relief valve, or stronger parts."),
                    COMMON,
                )
            if isinstance(part, Valve) and part.quick:
                yield from _blow(network, part)


def _pipe_bears(network: Network, part: Part) -> float | None:
    size = size_of(part)
    if size is None:
        return None
    return heat_derated_kpa(size.rating_kpa, network.water.temperature_c)


def _blow(network: Network, valve: Valve) -> Iterator[Finding]:
    most = number("pipes", "most_velocity")
    blow = surge_kpa(most, valve.size, network.water)
    yield Finding(
        "weakness",
        say("pressure blow"),
        valve.name,
        say(
            "{name} shuts at once: stopping {most:.1f} m/s makes a blow of {blow:.0f} kPa.",
            name=valve.name,
            most=most,
            blow=blow,
        ),
        say("Take a valve that shuts slowly."),
        "Joukowsky 1898",
    )


def _too_little(network: Network, solution: Solution) -> Iterator[Finding]:
    for name, flow in tank_flows_l_min(network, solution).items():
        wanted = network.place(name).wanted_l_min
        if wanted and flow < 0.95 * wanted:
            subject = say("no flow") if flow <= LEAST_FLOW_L_MIN else say("too little flow")
            yield Finding(
                "fault",
                subject,
                name,
                say(
                    "{name} gets {flow} of the {wanted} it is to have.",
                    name=name,
                    flow=text(round(max(0.0, flow), 1), "L/min"),
                    wanted=text(wanted, "L/min"),
                ),
                say("Open its valve, throttle others, change cartridges, or widen the line."),
                say("the hatchery's own wish"),
            )


def _below_air_pressure(network: Network, solution: Solution) -> Iterator[Finding]:
    before_pumps = {part.start for part in network.pressed if isinstance(part, Pump)}
    for place in network.places:
        pressure = solution.pressure_kpa(network, place.name)
        if place.kind != "joint" or place.name in before_pumps or pressure is None:
            continue
        if pressure < -5.0:
            yield Finding(
                "weakness",
                say("below air pressure"),
                place.name,
                say(
                    "The water at {name} is {pressure:.0f} kPa below the air's pressure: a "
                    "leak there draws air, and a siphon can empty what lies above.",
                    name=place.name,
                    pressure=-pressure,
                ),
                say("Lower the line, or throttle behind it."),
                COMMON,
            )


def _drains(network: Network, solution: Solution) -> Iterator[Finding]:
    into = tank_flows_l_min(network, solution)
    for part in network.parts:
        if not isinstance(part, Drain) or part.start not in into:
            continue
        carries = drain_flow_l_min(part, network.water)
        if into[part.start] > carries:
            yield Finding(
                "danger",
                say("drain too small"),
                part.name,
                say(
                    "{start} gets {into} and {name} carries away {carries}: "
                    "it runs over, and animals go with it.",
                    start=part.start,
                    into=text(round(into[part.start]), "L/min"),
                    name=part.name,
                    carries=text(round(carries), "L/min"),
                ),
                say("Widen the drain, give it more fall, or throttle the inflow."),
                say("Darcy-Weisbach, pipe running full"),
            )
