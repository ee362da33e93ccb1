"""A waterworks as a person describes it: network, store, loops, and what stands in tanks."""

from dataclasses import dataclass

from protoconch.waterworks.network.parts import Network
from protoconch.waterworks.outage.order import StockedTank
from protoconch.waterworks.outage.power import Load
from protoconch.waterworks.storage.reservoir import Store


@dataclass(frozen=True, slots=True)
class StoreKeeping:
    """The reservoir and how it is filled.

    place: name of its place in the network. store: what it holds and loses.
    daily_use_l: usual use where no work list is at hand [L/d].
    interval_days: between chances to fill [d]. missed_fills: chances that may pass unused.
    reserve_l: never to be touched [L]. fill_pump: name of the pump that fills it.
    """

    place: str
    store: Store
    daily_use_l: float
    interval_days: int
    missed_fills: int
    reserve_l: float
    fill_pump: str


@dataclass(frozen=True, slots=True)
class LoopPlan:
    """A recirculating loop as planned.

    volume_l: [L]. feed_g_day: at full load [g/d]. protein_share: of the feed [-].
    temperature_c, salinity: [°C], [-]. ammonia_limit_mg_l, nitrate_limit_mg_l: as nitrogen [mg/L].
    medium_m2: of the biofilter there is [m²]. flow_l_h: through it [L/h].
    exchange_l_day: new water [L/d]. aeration_w: of its air pumps [W].
    oxygen_g_day: used by its animals [g/d].
    """

    name: str
    volume_l: float
    feed_g_day: float
    protein_share: float
    temperature_c: float
    salinity: float
    ammonia_limit_mg_l: float
    nitrate_limit_mg_l: float
    medium_m2: float
    flow_l_h: float
    exchange_l_day: float
    aeration_w: float
    oxygen_g_day: float


@dataclass(frozen=True, slots=True)
class Waterworks:
    """All of it. keeping is None where there is no reservoir; loads are what an outage stops.

    assumed: sentences on figures that were not given and had to be assumed.
    """

    network: Network
    keeping: StoreKeeping | None = None
    loops: tuple[LoopPlan, ...] = ()
    stocked: tuple[StockedTank, ...] = ()
    loads: tuple[Load, ...] = ()
    assumed: tuple[str, ...] = ()
