"""Findings about cartridges and UV at the flows that settled."""

from collections.abc import Iterator

from protoconch.units import text
from protoconch.waterworks.findings.finding import Finding
from protoconch.waterworks.network.parts import Cartridge, Network, Uv
from protoconch.waterworks.network.solving import Solution
from protoconch.waterworks.network.what_if import LEAST_FLOW_L_MIN, doses_mj_cm2
from protoconch.waterworks.parameters import number
from protoconch.waterworks.treatment.cartridges import KPA_PER_PSI
from protoconch.waterworks.treatment.uv import flow_for_dose_l_min, power_for_dose_w
from protoconch.waterworks.treatment.uv_targets import NOT_KILLED
from protoconch.words import say

SUPPLIERS = say("suppliers' pages on cartridge filters")
COMMON = say("common practice, no source")


def treatment_findings(network: Network, solution: Solution) -> Iterator[Finding]:
    """Cartridges that are full, ill fed or too few; lamps that are dark, old or too weak."""
    for part in network.pressed:
        flow = abs(solution.flow_l_min[part.name])
        if isinstance(part, Cartridge) and flow > LEAST_FLOW_L_MIN:
            yield from _cartridge(network, part, flow)
    doses = doses_mj_cm2(network, solution)
    for part in network.pressed:
        if isinstance(part, Uv):
            flow = abs(solution.flow_l_min[part.name])
            yield from _lamp(part, flow, doses[part.name])


def _cartridge(network: Network, part: Cartridge, flow: float) -> Iterator[Finding]:
    drop = part.stage.drop_kpa(flow, network.water)
    change, most = (number("cartridges", key) * KPA_PER_PSI for key in ("change_drop", "most_drop"))
    if drop >= most:
        yield Finding(
            "danger",
            say("cartridge giving way"),
            part.name,
            say(
                "{name} takes {drop:.0f} kPa, above the {most:.0f} kPa that cartridges "
                "bear: it can collapse and let everything through.",
                name=part.name,
                drop=drop,
                most=most,
            ),
            say("Stop the pump, let the pressure out, change it now."),
            SUPPLIERS,
        )
    elif drop >= change:
        yield Finding(
            "fault",
            say("cartridge full"),
            part.name,
            say(
                "{name} takes {drop:.0f} kPa; it is changed at {change:.0f} kPa (15 psi).",
                name=part.name,
                drop=drop,
                change=change,
            ),
            say("Change it today; let the pressure out before opening."),
            SUPPLIERS,
        )
    each, fits = flow / part.stage.elements, number("cartridges", "most_flow_per_element")
    if each > fits:
        yield Finding(
            "weakness",
            say("too few cartridges"),
            part.name,
            say(
                "{name} passes {each} through each ten-inch length; {fits} is customary.",
                name=part.name,
                each=text(round(each), "L/min"),
                fits=text(round(fits), "L/min"),
            ),
            say(
                "Give it {lengths:.0f} ten-inch lengths or more side by side.", lengths=flow / fits
            ),
            COMMON,
        )


def _lamp(part: Uv, flow: float, dose: float | None) -> Iterator[Finding]:
    if not part.burning and flow > LEAST_FLOW_L_MIN:
        yield Finding(
            "danger",
            say("lamp out"),
            part.name,
            say("Water runs through {name} while its lamp is out.", name=part.name),
            say("Shut the valve to the larvae until it burns."),
            COMMON,
        )
    elif part.burning and flow <= LEAST_FLOW_L_MIN:
        yield Finding(
            "fault",
            say("lamp without flow"),
            part.name,
            say("{name} burns and no water runs through it: it overheats.", name=part.name),
            say("Switch it off when the pump stops; an interlock does that by itself."),
            COMMON,
        )
    hours = number("uv", "lamp_hours")
    if part.lamp_hours > hours:
        yield Finding(
            "fault",
            say("lamp old"),
            part.name,
            say(
                "The lamp of {name} has burnt {burnt:,.0f} h of its {hours:,.0f} h; "
                "it still looks bright and no longer does its work.",
                name=part.name,
                burnt=part.lamp_hours,
                hours=hours,
            ),
            say("Change it; switched off, locked and cool."),
            say("trade articles on low-pressure lamps"),
        )
    if dose is not None:
        yield from _dose(part, flow, dose)


def _dose(part: Uv, flow: float, dose: float) -> Iterator[Finding]:
    wanted = number("uv", "least_design_dose")
    if dose >= wanted:
        yield Finding(
            "note",
            say("what UV does not do"),
            part.name,
            NOT_KILLED,
            say("Keep the 5 µm stage and dry out between batches."),
            say("published doses, listed with the report"),
        )
        return
    slow = flow_for_dose_l_min(wanted, part.lamp)
    power = power_for_dose_w(wanted, flow, part.lamp)
    yield Finding(
        "fault",
        say("UV dose low"),
        part.name,
        say(
            "{name} gives {dose:.0f} mJ/cm² at {flow}; {wanted:g} mJ/cm² "
            "behind a fine cartridge kept oyster larvae free of parasites, and covers "
            "the bacteria listed.",
            name=part.name,
            dose=dose,
            flow=text(round(flow), "L/min"),
            wanted=wanted,
        ),
        say(
            "Slow the flow to {slow}, take lamps of {power:.0f} W UV-C in "
            "all, clean the sleeve, or clear the water.",
            slow=text(round(slow), "L/min"),
            power=power,
        ),
        "Ford, Xu & Debrosse 2001, Aquaculture 194:37",
    )
