"""The water of a site as the log has it, worked out once for a state and a stretch of time."""

from collections import OrderedDict
from collections.abc import Hashable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from threading import Lock

from django.db.models import Q
from django.utils.translation import get_language

from protoconch.animals.profiles import species
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.fold.corrections import POINTING
from protoconch.log.fold.replay import by_name, items_of
from protoconch.log.state import Reading, State
from protoconch.operations.what_if import ByPlan
from protoconch.records.models import Site
from protoconch.records.queries.answers import planned
from protoconch.records.queries.log import entries, rows
from protoconch.records.queries.log import state as state_of
from protoconch.records.queries.site import description, hatchery
from protoconch.season.answer import SeasonPlan
from protoconch.sources.reading import load_table
from protoconch.waterworks.cautions import Caution, cautions_for
from protoconch.waterworks.network.parts import Cartridge, Network, Uv
from protoconch.waterworks.network.solving import Solution, settled
from protoconch.words import reader_now
from protoconch.work.parameters import table_values
from protoconch.work.waterside.cartridges import CartridgeNow, cartridge_now
from protoconch.work.waterside.lamps import LampNow, lamp_now
from protoconch.work.waterside.loops import Judged, LoopNow, judged_reading, loop_now
from protoconch.work.waterside.readings import Readings, readings_of
from protoconch.work.waterside.store import StoreNow, store_now, use_ahead

DAYS_BACK = 30
"""Days of readings that are drawn."""
CARTRIDGE_DAYS_BACK = 60
"""Days of pressures that are looked at; a cartridge rots long before."""
MOST_HELD = 50
_uses = ByPlan(6)


@dataclass(frozen=True, slots=True)
class PlaceNow:
    """Any other place that was read, with its last readings."""

    name: str
    judged: tuple[Judged, ...]


@dataclass(frozen=True, slots=True)
class WaterNow:
    """All that is known of the water; parts that are not described are empty or None."""

    hatchery: Hatchery
    described: bool
    cautions: tuple[Caution, ...]
    store: StoreNow | None
    level_l: float | None
    reservoir: str
    cartridges: tuple[CartridgeNow, ...]
    lamps: tuple[LampNow, ...]
    loops: tuple[LoopNow, ...]
    places: tuple[PlaceNow, ...]
    readings: Readings
    now: datetime


class Kept:
    """A few things in memory, the ones not asked for the longest going first."""

    def __init__(self, most: int) -> None:
        """So many at most."""
        self._most, self._lock = most, Lock()
        self._kept: OrderedDict[Hashable, object] = OrderedDict()

    def get(self, key: Hashable) -> object | None:
        """What is kept under the key."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def put(self, key: Hashable, made: object) -> None:
        """Keep it."""
        with self._lock:
            self._kept[key] = made
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)


_solved = Kept(MOST_HELD)


def key_of(site: Site, state: State, now: datetime) -> tuple[Hashable, ...]:
    """Changes whenever the page may: with the log, the description, the plan, every ten minutes."""
    plan = planned(site).plan
    ten_minutes = now.replace(minute=now.minute // 10 * 10, second=0, microsecond=0)
    owner = id(plan.forecast) if plan else 0
    return (site.pk, site.made, description(site).pk, state.last, state.entries, ten_minutes,
            owner, get_language(), reader_now())  # fmt: skip


def water_now(site: Site, state: State, now: datetime) -> WaterNow:
    """The water at a moment; now: with the site's zone."""
    here, today = hatchery(site), now.date()
    kinds = {vessel.name: vessel.kind for vessel in vessels(here)}
    reservoir = next(name for name, kind in kinds.items() if kind == "reservoir")
    parts = tuple(name for name, kind in kinds.items() if kind in ("cartridge", "UV lamp"))
    loops = tuple(name for name, kind in kinds.items() if kind == "loop")
    found = _readings(site, here, now, (reservoir, *parts, *loops))
    works = here.waterworks
    level = state.levels.get(reservoir)
    if works is None:
        litres = level.litres if level else None
        return WaterNow(here, False, (), None, litres, reservoir, (), (), (),
                        _places(state, now, (reservoir,)), found, now)  # fmt: skip
    network, solution = works.network, _settled(works.network)
    flows = solution.flow_l_min
    store = store_now(works, solution, level, _use(site, here, today), today)
    share = table_values("warnings")["lamp_share"].number
    return WaterNow(
        here, True, cautions_for(network), store,
        store.keeping.store.level_l if store else None, reservoir,
        tuple(cartridge_now(part, abs(flows[part.name]), network.water, found,
                            state.cartridges.get(part.name), now)
              for part in network.pressed if isinstance(part, Cartridge)),
        tuple(lamp_now(part, abs(flows[part.name]), found, state.lamps.get(part.name), now, share)
              for part in network.pressed if isinstance(part, Uv)),
        tuple(loop_now(loop, _of(state, loop.name), now) for loop in works.loops),
        _places(state, now, (reservoir, *parts, *loops)), found, now,
    )  # fmt: skip


def _settled(network: Network) -> Solution:
    """The flows of a network, solved once."""
    found = _solved.get(id(network))
    if not isinstance(found, tuple) or found[0] is not network:
        found = network, settled(network)
        _solved.put(id(network), found)
    solution: Solution = found[1]
    return solution


def _use(site: Site, here: Hatchery, today: date) -> dict[date, float]:
    """Litres by day of the season's work, none without a plan."""
    plan: SeasonPlan | None = planned(site).plan
    if plan is None or not plan.batches or here.waterworks is None:
        return {}
    works, animal = here.waterworks, species(plan.hatchery.species)
    table = load_table("season")
    key = description(site).pk, today
    return _uses.of(plan, key, lambda: use_ahead(plan, animal, works, table, today))


def _readings(site: Site, here: Hatchery, now: datetime, places: tuple[str, ...]) -> Readings:
    """What was read of these places of late, as it reads after corrections."""
    asked = Q(kind="read", where__in=places) | Q(kind__in=POINTING)
    found = rows(site, since=now - timedelta(days=CARTRIDGE_DAYS_BACK)).filter(asked)
    kept = entries(found.select_related("site"))
    return readings_of(item.entry for item in items_of(kept, by_name(here)) if item.counted)


def _of(state: State, place: str) -> dict[str, Reading]:
    return {what: one for (where, what), one in state.readings.items() if where == place}


def _places(state: State, now: datetime, others: tuple[str, ...]) -> tuple[PlaceNow, ...]:
    """Places read within the days that are drawn, the latest reading first."""
    begin = now - timedelta(days=DAYS_BACK)
    found: dict[str, list[Judged]] = {}
    for (where, what), one in sorted(state.readings.items(), key=lambda each: each[1].when,
                                     reverse=True):  # fmt: skip
        if where not in others and one.when >= begin:
            found.setdefault(where or "", []).append(judged_reading(what, one, now))
    return tuple(PlaceNow(name, tuple(each)) for name, each in found.items())


def current(site: Site, now: datetime) -> tuple[State, tuple[Hashable, ...]]:
    """The state, and what the page follows from."""
    state = state_of(site)
    return state, key_of(site, state, now)
