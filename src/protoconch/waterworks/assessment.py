"""Is the design sound, and is the water safe and enough: all of it at one look."""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, timedelta

from protoconch.errors import BadInput
from protoconch.waterworks.cautions import Caution, cautions_for
from protoconch.waterworks.description import StoreKeeping, Waterworks
from protoconch.waterworks.findings.finding import Finding, ranked
from protoconch.waterworks.findings.flows import flow_findings
from protoconch.waterworks.findings.loops import (
    loop_findings,
    running_findings,
    size_for,
    store_findings,
)
from protoconch.waterworks.findings.paths import path_findings
from protoconch.waterworks.findings.treatment import treatment_findings
from protoconch.waterworks.findings.wetted import material_findings
from protoconch.waterworks.loop_outlook import LoopOutlook, loop_outlook
from protoconch.waterworks.loops.sizing import LoopSize
from protoconch.waterworks.network.parts import Cartridge, Network, Pipe
from protoconch.waterworks.network.paths import reached
from protoconch.waterworks.network.solving import Solution, settled
from protoconch.waterworks.network.what_if import (
    Effect,
    doses_mj_cm2,
    effect,
    shut,
    tank_flows_l_min,
    usual_changes,
)
from protoconch.waterworks.outage.order import TankHours, in_order_of_need
from protoconch.waterworks.outage.power import Generator, generator
from protoconch.waterworks.storage.filling import first_flush_l
from protoconch.waterworks.storage.reservoir import (
    LevelDay,
    NextFill,
    level_forecast,
    next_fill,
)

LOOK_AHEAD_DAYS = 28
SMALLEST_TANK_L = 500.0
"""Tank for the arithmetic of released metal where no tank with animals is described [L]."""
OUTAGE_HOURS = 48.0


@dataclass(frozen=True, slots=True)
class StoreOutlook:
    """The store in the days ahead. daily_use_l: mean use in them [L/d]."""

    daily_use_l: float
    levels: tuple[LevelDay, ...]
    fill: NextFill


@dataclass(frozen=True, slots=True)
class Assessment:
    """All that is known of a waterworks as it stands.

    tank_flows_l_min: into each tank [L/min]. doses_mj_cm2: of each lamp [mJ/cm²], None where dark
    or dry. drops_kpa: across each cartridge [kPa]. effects: of the usual changes.
    loop_sizes, loop_outlooks: what each loop needs and how it would go, by name; a loop whose
    water leaves what is understood has no outlook.
    first_flush_l: to run to waste before a fill [L]. tank_hours: without power, shortest first.
    generator: that carries the loads for two days, None where none are described.
    """

    waterworks: Waterworks
    solution: Solution
    tank_flows_l_min: Mapping[str, float]
    doses_mj_cm2: Mapping[str, float | None]
    drops_kpa: Mapping[str, float]
    findings: tuple[Finding, ...]
    effects: tuple[Effect, ...]
    store: StoreOutlook | None
    loop_sizes: Mapping[str, LoopSize]
    loop_outlooks: Mapping[str, LoopOutlook]
    first_flush_l: float
    tank_hours: tuple[TankHours, ...]
    generator: Generator | None
    cautions: tuple[Caution, ...]


def assessment(
    waterworks: Waterworks,
    *,
    expected_tanks: Iterable[str] = (),
    use_l_by_day: Mapping[date, float] | None = None,
    first: date,
) -> Assessment:
    """The waterworks solved, judged and looked at for the days ahead.

    expected_tanks: names of tanks of the hatchery that the waterworks should serve.
    use_l_by_day: litres that the work list draws by day [L]; None takes the usual daily use.
    first: the day from which the store is forecast.
    Raises: BadInput or OutOfRange, where the description cannot be.
    """
    network = waterworks.network
    solution = settled(network)
    store = store_outlook(waterworks, solution, use_l_by_day, first)
    loads = waterworks.loads
    return Assessment(
        waterworks=waterworks,
        solution=solution,
        tank_flows_l_min=tank_flows_l_min(network, solution),
        doses_mj_cm2=doses_mj_cm2(network, solution),
        drops_kpa={
            part.name: part.stage.drop_kpa(abs(solution.flow_l_min[part.name]), network.water)
            for part in network.pressed
            if isinstance(part, Cartridge)
        },
        findings=ranked(_findings(waterworks, solution, store, expected_tanks)),
        effects=tuple(effect(network, change) for change in usual_changes(network, solution)),
        store=store,
        loop_sizes={loop.name: size_for(loop) for loop in waterworks.loops},
        loop_outlooks=_outlooks(waterworks),
        first_flush_l=_first_flush_l(network),
        tank_hours=in_order_of_need(waterworks.stocked),
        generator=generator(loads, OUTAGE_HOURS, diesel=True) if loads else None,
        cautions=cautions_for(network),
    )


def _findings(
    waterworks: Waterworks,
    solution: Solution,
    store: StoreOutlook | None,
    expected_tanks: Iterable[str],
) -> Iterator[Finding]:
    network = waterworks.network
    smallest = min((tank.volume_l for tank in waterworks.stocked), default=SMALLEST_TANK_L)
    yield from path_findings(network, expected_tanks)
    yield from flow_findings(network, solution)
    yield from treatment_findings(network, solution)
    yield from material_findings(network, smallest)
    if waterworks.keeping and store:
        yield from store_findings(waterworks.keeping, store.daily_use_l)
        yield from running_findings(waterworks.keeping, network, solution)
    for loop in waterworks.loops:
        yield from loop_findings(loop)


def store_outlook(
    waterworks: Waterworks,
    solution: Solution,
    use_l_by_day: Mapping[date, float] | None,
    first: date,
) -> StoreOutlook | None:
    """The store in the days ahead, None where none is described.

    solution: of the network. use_l_by_day, first: as in `assessment`.
    """
    keeping = waterworks.keeping
    if keeping is None:
        return None
    days = [first + timedelta(days=ahead) for ahead in range(LOOK_AHEAD_DAYS)]
    use = use_l_by_day
    if use is None:
        use = dict.fromkeys(days, keeping.daily_use_l)
    fill = next_fill(
        keeping.store,
        use,
        first,
        reserve_l=keeping.reserve_l,
        interval_days=keeping.interval_days,
        missed_fills=keeping.missed_fills,
        pump_l_min=_fill_l_min(waterworks.network, solution, keeping),
    )
    planned = {}
    if fill.by and fill.pump_hours is not None:
        later = range((first + timedelta(days=LOOK_AHEAD_DAYS) - fill.by).days)
        planned = {
            fill.by + timedelta(days=ahead): keeping.store.full_l
            for ahead in later
            if ahead % keeping.interval_days == 0
        }
    return StoreOutlook(
        sum(use.get(day, 0.0) for day in days) / len(days),
        level_forecast(keeping.store, use, planned, first, LOOK_AHEAD_DAYS),
        fill,
    )


def _fill_l_min(network: Network, solution: Solution, keeping: StoreKeeping) -> float:
    """Flow of the fill pump when it runs [L/min]."""
    if network.part(keeping.fill_pump).shut:
        solution = settled(shut(network, keeping.fill_pump, closed=False))
    return max(0.0, solution.flow_l_min[keeping.fill_pump])


def _outlooks(waterworks: Waterworks) -> dict[str, LoopOutlook]:
    found = {}
    for loop in waterworks.loops:
        with suppress(BadInput):  # its findings say what is wrong with it
            found[loop.name] = loop_outlook(loop)
    return found


def _first_flush_l(network: Network) -> float:
    """Water to run to waste: the pipes from the sea to the store, some times over [L]."""
    seas = [place.name for place in network.places if place.kind == "sea"]
    there = reached(network, seas)
    return sum(
        first_flush_l(part.size, part.length_m)
        for part in network.pressed
        if isinstance(part, Pipe) and part.start in there and _not_beyond(network, part, seas)
    )


def _not_beyond(network: Network, part: Pipe, seas: list[str]) -> bool:
    """Whether a pipe lies between the sea and the first open water after it."""
    return network.place(part.start).kind == "joint" or part.start in seas
