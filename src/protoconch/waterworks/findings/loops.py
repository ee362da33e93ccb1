"""Findings about recirculating loops and the store."""

from collections.abc import Iterator

from protoconch.errors import BadInput
from protoconch.waterworks.description import LoopPlan, StoreKeeping
from protoconch.waterworks.findings.finding import Finding
from protoconch.waterworks.loop_outlook import loop_outlook
from protoconch.waterworks.loops.sizing import LoopSize, aerator_w, loop_size
from protoconch.waterworks.network.parts import Network
from protoconch.waterworks.network.solving import Solution
from protoconch.waterworks.parameters import number
from protoconch.waterworks.storage.reservoir import until_fill

BALANCE = "balances of nitrogen and oxygen, loops.toml"
COMMON = "common practice, no source"


def size_for(loop: LoopPlan) -> LoopSize:
    """What a planned loop needs at its full load.

    Raises: BadInput or OutOfRange.
    """
    return loop_size(
        loop.feed_g_day,
        loop.protein_share,
        loop.volume_l,
        ammonia_limit_mg_l=loop.ammonia_limit_mg_l,
        nitrate_limit_mg_l=loop.nitrate_limit_mg_l,
    )


def loop_findings(loop: LoopPlan) -> Iterator[Finding]:
    """What a planned loop lacks against its full load."""
    size = size_for(loop)
    if loop.medium_m2 < size.medium_m2:
        yield Finding(
            "fault", "biofilter too small", loop.name,
            f"{loop.name} has {loop.medium_m2:.0f} m² of filter surface and needs "
            f"{size.medium_m2:.0f} m² at full feed.",
            f"Add medium, or feed no more than {_feed_for(loop, size):.0f} g a day.", BALANCE,
        )  # fmt: skip
    if loop.flow_l_h < size.flow_l_h:
        yield Finding(
            "fault", "flow through the filter", loop.name,
            f"{loop.name} runs {loop.flow_l_h:,.0f} L/h and needs {size.flow_l_h:,.0f} L/h to hold "
            f"ammonia at {loop.ammonia_limit_mg_l:g} mg N/L.",
            "Take a larger pump, or feed less.", BALANCE,
        )  # fmt: skip
    if loop.exchange_l_day < size.new_water_l_day:
        yield Finding(
            "weakness", "new water", loop.name,
            f"{loop.name} gets {loop.exchange_l_day:,.0f} L of new water a day; nitrate stays "
            f"below {loop.nitrate_limit_mg_l:g} mg N/L with {size.new_water_l_day:,.0f} L.",
            "Exchange more, or feed less.", BALANCE,
        )  # fmt: skip
    yield from _air(loop, size)
    yield from _over_time(loop)
    yield Finding(
        "note", "ripeness", loop.name,
        f"{loop.name} is ripe when, 24 h after a dose of ammonia worth a day's feeding, ammonia "
        f"and nitrite both read below {number('loops', 'ripe.most_mg_n_l'):g} mg N/L; usually "
        "after 6 to 8 weeks at 26 to 28 °C.",
        "Test before stocking; wet medium from a working seawater filter is the best start.",
        COMMON,
    )  # fmt: skip


def _feed_for(loop: LoopPlan, size: LoopSize) -> float:
    return loop.feed_g_day * loop.medium_m2 / size.medium_m2


def _air(loop: LoopPlan, size: LoopSize) -> Iterator[Finding]:
    hold = number("water_limits", "oxygen.work")
    used = loop.oxygen_g_day + size.oxygen_g_day
    try:
        needed = aerator_w(used, hold, loop.temperature_c, loop.salinity)
    except BadInput as impossible:
        yield Finding("fault", "air", loop.name, str(impossible), "Cool the water, or add oxygen.",
                      BALANCE)  # fmt: skip
        return
    if loop.aeration_w < needed:
        yield Finding(
            "fault", "air", loop.name,
            f"{loop.name} has air pumps of {loop.aeration_w:.0f} W and needs about {needed:.0f} W "
            f"to hold {hold:g} mg/L of oxygen at full load.",
            "Add air stones and pumps, on a circuit of their own.", BALANCE,
        )  # fmt: skip


def _over_time(loop: LoopPlan) -> Iterator[Finding]:
    """What sixty days at full load show, with a ripe filter."""
    try:
        ripe = loop_outlook(loop).ripe
    except BadInput as trouble:
        yield Finding("fault", "the loop over time", loop.name, str(trouble),
                      "Change the loop's plan and look again.", BALANCE)  # fmt: skip
        return
    unionised = float(ripe.unionised_mg_l[-1])
    most = number("water_limits", "unionised_ammonia.act")
    if unionised > most:
        yield Finding(
            "fault", "ammonia", loop.name,
            f"Even with a ripe filter {loop.name} settles at {1000 * unionised:.0f} µg/L of "
            f"un-ionised ammonia nitrogen; {1000 * most:.0f} is the limit to act at, borrowed from "
            "abalone.",
            "More flow through more medium, or less feed.", BALANCE,
        )  # fmt: skip
    lowest = float(ripe.ph[-1])
    if lowest < number("water_limits", "ph.act_low"):
        yield Finding(
            "weakness", "acid water", loop.name,
            f"At full load {loop.name} settles at pH {lowest:.2f} (total scale) and an aragonite "
            f"saturation of {float(ripe.aragonite[-1]):.1f}: the animals' CO2 leaves too slowly.",
            "More air first, then alkalinity: air lifts the saturation more than soda does.",
            BALANCE,
        )  # fmt: skip


def store_findings(keeping: StoreKeeping, daily_use_l: float) -> Iterator[Finding]:
    """Whether the store lasts from fill to fill with missed chances."""
    store = keeping.store
    draw = daily_use_l + store.loss_l_per_day
    if draw <= 0:
        return
    from_full = until_fill(store.full_l, draw, keeping.interval_days, keeping.missed_fills)
    if from_full.low_point_l < keeping.reserve_l:
        lacks = keeping.reserve_l - from_full.low_point_l + from_full.shortfall_l
        yield Finding(
            "fault", "store too small", keeping.place,
            f"Full, {keeping.place} lasts {from_full.days_left:.0f} days; with "
            f"{keeping.missed_fills} missed chances to fill it falls {lacks:,.0f} L below the "
            f"reserve of {keeping.reserve_l:,.0f} L.",
            "Store more, use less, or make more chances to fill.", "balance of water",
        )  # fmt: skip
    now = until_fill(store.level_l, draw, keeping.interval_days, 0)
    if now.shortfall_l > 0:
        yield Finding(
            "danger", "store runs dry", keeping.place,
            f"At the present level {keeping.place} lasts {now.days_left:.1f} days and the next "
            f"chance to fill is {keeping.interval_days} days away.",
            "Fill now, or cut water changes to what keeps animals alive.", "balance of water",
        )  # fmt: skip


def running_findings(
    keeping: StoreKeeping, network: Network, solution: Solution
) -> Iterator[Finding]:
    """How fast the store empties at the flow that settled, against what a day may draw."""
    drawn = sum(
        max(0.0, solution.flow_l_min[part.name] * (1 if part.start == keeping.place else -1))
        for part in network.pressed
        if keeping.place in (part.start, part.end)
    )
    if drawn <= 0 or drawn * 1440 <= keeping.daily_use_l:
        return
    minutes, hours = keeping.daily_use_l / drawn, keeping.store.level_l / drawn / 60
    yield Finding(
        "note", "minutes a day", keeping.place,
        f"With every branch open as described {drawn:.0f} L/min leave {keeping.place}: the day's "
        f"{keeping.daily_use_l:,.0f} L are gone in {minutes:.0f} minutes, all of it in "
        f"{hours:.1f} hours.",
        "Run the service pump for water changes only, and never leave it running unwatched.",
        "balance of water",
    )  # fmt: skip
