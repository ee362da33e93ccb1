"""What changes when a valve shuts, a cartridge clogs, a pump stops."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from protoconch.errors import BadInput
from protoconch.waterworks.network.parts import Cartridge, Network, Part, Pump, Uv, Valve
from protoconch.waterworks.network.paths import tanks_without_light
from protoconch.waterworks.network.solving import Solution, settled
from protoconch.waterworks.parameters import number
from protoconch.waterworks.treatment.cartridges import (
    KPA_PER_PSI,
    loading_at_drop,
    with_loading,
)
from protoconch.waterworks.treatment.uv import uv_dose_mj_cm2
from protoconch.words import phrase, say

LEAST_FLOW_L_MIN = 1e-3
"""Below this a part counts as not flowing [L/min]."""


@dataclass(frozen=True, slots=True)
class Change:
    """A change and the network that it makes. what: in words, as "the pump stops"."""

    what: str
    network: Network


@dataclass(frozen=True, slots=True)
class Effect:
    """What a change does.

    to_tanks_l_min: flow to all tanks together, before and after [L/min].
    doses_mj_cm2: by UV unit, before and after; None where nothing flows or the lamp is out.
    losing: tanks that lose more than a fifth of their flow, with the share lost [-].
    without_light: tanks that water then also reaches past every lamp.
    """

    what: str
    to_tanks_l_min: tuple[float, float]
    doses_mj_cm2: Mapping[str, tuple[float | None, float | None]]
    losing: Mapping[str, float]
    without_light: tuple[str, ...]


def with_part(network: Network, changed: Part) -> Network:
    """The network with the part of that name put in place of the old one.

    Raises: BadInput, where there is no part of that name.
    """
    network.part(changed.name)
    parts = tuple(changed if part.name == changed.name else part for part in network.parts)
    return replace(network, parts=parts)


def shut(network: Network, name: str, *, closed: bool = True) -> Network:
    """The network with one part shut, or opened. Raises: BadInput, where there is none such."""
    return with_part(network, replace(network.part(name), shut=closed))


def loaded(network: Network, name: str, share: float) -> Network:
    """The network with one cartridge loaded to a share of its capacity [-], 0 to 0.999.

    Raises: BadInput, where the part is no cartridge; OutOfRange.
    """
    part = network.part(name)
    if not isinstance(part, Cartridge):
        raise BadInput(say("{name} is no cartridge, so it cannot clog.", name=name))
    return with_part(network, replace(part, stage=with_loading(part.stage, share)))


def doses_mj_cm2(network: Network, solution: Solution) -> dict[str, float | None]:
    """Dose of each UV unit at its flow [mJ/cm²]; None where nothing flows or the lamp is out."""
    found: dict[str, float | None] = {}
    for part in network.pressed:
        if isinstance(part, Uv):
            flow = abs(solution.flow_l_min[part.name])
            lit = part.burning and flow > LEAST_FLOW_L_MIN
            found[part.name] = uv_dose_mj_cm2(flow, part.lamp) if lit else None
    return found


def tank_flows_l_min(network: Network, solution: Solution) -> dict[str, float]:
    """Flow into each tank [L/min]."""
    return {tank.name: solution.inflow_l_min(network, tank.name) for tank in network.tanks}


def effect(before: Network, change: Change) -> Effect:
    """What a change does to the flows and doses of a network."""
    old, new = settled(before), settled(change.network)
    old_flows = tank_flows_l_min(before, old)
    new_flows = tank_flows_l_min(change.network, new)
    old_doses, new_doses = doses_mj_cm2(before, old), doses_mj_cm2(change.network, new)
    losing = {
        name: 1 - max(0.0, new_flows[name]) / flow
        for name, flow in old_flows.items()
        if flow > LEAST_FLOW_L_MIN and new_flows[name] < 0.8 * flow
    }
    return Effect(
        change.what,
        (sum(old_flows.values()), sum(new_flows.values())),
        {name: (dose, new_doses[name]) for name, dose in old_doses.items()},
        losing,
        tanks_without_light(change.network),
    )


def usual_changes(network: Network, solution: Solution) -> tuple[Change, ...]:
    """The changes that happen: each cartridge ready for changing, each pump off, each valve shut.

    solution: of the network as it stands.
    """
    full_kpa = number("cartridges", "change_drop") * KPA_PER_PSI
    found = []
    for part in network.pressed:
        flow = abs(solution.flow_l_min[part.name])
        if isinstance(part, Cartridge) and flow > LEAST_FLOW_L_MIN:
            share = loading_at_drop(part.stage, full_kpa, flow, network.water)
            if share > part.stage.loaded:
                found.append(
                    Change(
                        say("{name} is due for changing", name=part.name),
                        loaded(network, part.name, share),
                    )
                )
        elif isinstance(part, Pump) and not part.shut:
            found.append(Change(say("{name} stops", name=part.name), shut(network, part.name)))
        elif isinstance(part, Valve):
            says = phrase("{name} opens") if part.shut else phrase("{name} shuts")
            after = shut(network, part.name, closed=not part.shut)
            found.append(Change(say(says, name=part.name), after))
    return tuple(found)
