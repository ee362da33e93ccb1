"""Findings about cartridges and UV at the flows that settled."""

from collections.abc import Iterator

from protoconch.waterworks.findings.finding import Finding
from protoconch.waterworks.network.parts import Cartridge, Network, Uv
from protoconch.waterworks.network.solving import Solution
from protoconch.waterworks.network.what_if import LEAST_FLOW_L_MIN, doses_mj_cm2
from protoconch.waterworks.parameters import number
from protoconch.waterworks.treatment.cartridges import KPA_PER_PSI
from protoconch.waterworks.treatment.uv import flow_for_dose_l_min, power_for_dose_w
from protoconch.waterworks.treatment.uv_targets import NOT_KILLED

SUPPLIERS = "suppliers' pages on cartridge filters"
COMMON = "common practice, no source"


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
            "danger", "cartridge giving way", part.name,
            f"{part.name} takes {drop:.0f} kPa, above the {most:.0f} kPa that cartridges bear: it "
            "can collapse and let everything through.",
            "Stop the pump, let the pressure out, change it now.", SUPPLIERS,
        )  # fmt: skip
    elif drop >= change:
        yield Finding(
            "fault", "cartridge full", part.name,
            f"{part.name} takes {drop:.0f} kPa; it is changed at {change:.0f} kPa (15 psi).",
            "Change it today; let the pressure out before opening.", SUPPLIERS,
        )  # fmt: skip
    each, fits = flow / part.stage.elements, number("cartridges", "most_flow_per_element")
    if each > fits:
        yield Finding(
            "weakness", "too few cartridges", part.name,
            f"{part.name} passes {each:.0f} L/min through each ten-inch length; {fits:.0f} is "
            "customary.",
            f"Give it {flow / fits:.0f} ten-inch lengths or more side by side.", COMMON,
        )  # fmt: skip


def _lamp(part: Uv, flow: float, dose: float | None) -> Iterator[Finding]:
    if not part.burning and flow > LEAST_FLOW_L_MIN:
        yield Finding(
            "danger", "lamp out", part.name,
            f"Water runs through {part.name} while its lamp is out.",
            "Shut the valve to the larvae until it burns.", COMMON,
        )  # fmt: skip
    elif part.burning and flow <= LEAST_FLOW_L_MIN:
        yield Finding(
            "fault", "lamp without flow", part.name,
            f"{part.name} burns and no water runs through it: it overheats.",
            "Switch it off when the pump stops; an interlock does that by itself.", COMMON,
        )  # fmt: skip
    hours = number("uv", "lamp_hours")
    if part.lamp_hours > hours:
        yield Finding(
            "fault", "lamp old", part.name,
            f"The lamp of {part.name} has burnt {part.lamp_hours:,.0f} h of its {hours:,.0f} h; it "
            "still looks bright and no longer does its work.",
            "Change it; switched off, locked and cool.", "trade articles on low-pressure lamps",
        )  # fmt: skip
    if dose is not None:
        yield from _dose(part, flow, dose)


def _dose(part: Uv, flow: float, dose: float) -> Iterator[Finding]:
    wanted = number("uv", "least_design_dose")
    if dose >= wanted:
        yield Finding("note", "what UV does not do", part.name, NOT_KILLED,
                      "Keep the 5 µm stage and dry out between batches.",
                      "published doses, listed with the report")  # fmt: skip
        return
    slow = flow_for_dose_l_min(wanted, part.lamp)
    power = power_for_dose_w(wanted, flow, part.lamp)
    yield Finding(
        "fault", "UV dose low", part.name,
        f"{part.name} gives {dose:.0f} mJ/cm² at {flow:.0f} L/min; {wanted:g} mJ/cm² behind a fine "
        "cartridge kept oyster larvae free of parasites, and covers the bacteria listed.",
        f"Slow the flow to {slow:.0f} L/min, take lamps of {power:.0f} W UV-C in all, clean the "
        "sleeve, or clear the water.",
        "Ford, Xu & Debrosse 2001, Aquaculture 194:37",
    )  # fmt: skip
