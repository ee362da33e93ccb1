"""Findings about recirculating loops and the store."""

from collections.abc import Iterator

from protoconch.errors import BadInput
from protoconch.units import ends, text
from protoconch.waterworks.description import LoopPlan, StoreKeeping
from protoconch.waterworks.findings.finding import Finding
from protoconch.waterworks.loop_outlook import loop_outlook
from protoconch.waterworks.loops.sizing import LoopSize, aerator_w, loop_size
from protoconch.waterworks.network.parts import Network
from protoconch.waterworks.network.solving import Solution
from protoconch.waterworks.parameters import number
from protoconch.waterworks.storage.reservoir import until_fill
from protoconch.words import say

BALANCE = say("balances of nitrogen and oxygen, loops.toml")
COMMON = say("common practice, no source")


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
            "fault",
            say("biofilter too small"),
            loop.name,
            say(
                "{name} has {medium_m2:.0f} m² of filter surface and needs "
                "{needed_m2:.0f} m² at full feed.",
                name=loop.name,
                medium_m2=loop.medium_m2,
                needed_m2=size.medium_m2,
            ),
            say(
                "Add medium, or feed no more than {feed} a day.",
                feed=text(round(_feed_for(loop, size)), "g"),
            ),
            BALANCE,
        )
    if loop.flow_l_h < size.flow_l_h:
        yield Finding(
            "fault",
            say("flow through the filter"),
            loop.name,
            say(
                "{name} runs {flow} and needs {needed} to hold ammonia at {limit:g} mg N/L.",
                name=loop.name,
                flow=text(round(loop.flow_l_h), "L/h"),
                needed=text(round(size.flow_l_h), "L/h"),
                limit=loop.ammonia_limit_mg_l,
            ),
            say("Take a larger pump, or feed less."),
            BALANCE,
        )
    if loop.exchange_l_day < size.new_water_l_day:
        yield Finding(
            "weakness",
            say("new water"),
            loop.name,
            say(
                "{name} gets {gets} of new water a day; nitrate stays below {limit:g} mg N/L "
                "with {needed}.",
                name=loop.name,
                gets=text(round(loop.exchange_l_day), "L"),
                limit=loop.nitrate_limit_mg_l,
                needed=text(round(size.new_water_l_day), "L"),
            ),
            say("Exchange more, or feed less."),
            BALANCE,
        )
    yield from _air(loop, size)
    yield from _over_time(loop)
    low, high = ends(26.0, 28.0, "°C")
    yield Finding(
        "note",
        say("ripeness"),
        loop.name,
        say(
            "{name} is ripe when, 24 h after a dose of ammonia worth a day's feeding, "
            "ammonia and nitrite both read below {most:g} mg N/L; usually after 6 to "
            "8 weeks at {low} to {high}.",
            name=loop.name,
            most=number("loops", "ripe.most_mg_n_l"),
            low=low,
            high=high,
        ),
        say("Test before stocking; wet medium from a working seawater filter is the best start."),
        COMMON,
    )


def _feed_for(loop: LoopPlan, size: LoopSize) -> float:
    return loop.feed_g_day * loop.medium_m2 / size.medium_m2


def _air(loop: LoopPlan, size: LoopSize) -> Iterator[Finding]:
    hold = number("water_limits", "oxygen.work")
    used = loop.oxygen_g_day + size.oxygen_g_day
    try:
        needed = aerator_w(used, hold, loop.temperature_c, loop.salinity)
    except BadInput as impossible:
        yield Finding(
            "fault",
            say("air"),
            loop.name,
            impossible.sentence,
            say("Cool the water, or add oxygen."),
            BALANCE,
        )
        return
    if loop.aeration_w < needed:
        yield Finding(
            "fault",
            say("air"),
            loop.name,
            say(
                "{name} has air pumps of {aeration_w:.0f} W and needs about {needed:.0f} W "
                "to hold {hold:g} mg/L of oxygen at full load.",
                name=loop.name,
                aeration_w=loop.aeration_w,
                needed=needed,
                hold=hold,
            ),
            say("Add air stones and pumps, on a circuit of their own."),
            BALANCE,
        )


def _over_time(loop: LoopPlan) -> Iterator[Finding]:
    """What sixty days at full load show, with a ripe filter."""
    try:
        ripe = loop_outlook(loop).ripe
    except BadInput as trouble:
        yield Finding(
            "fault",
            say("the loop over time"),
            loop.name,
            trouble.sentence,
            say("Change the loop's plan and look again."),
            BALANCE,
        )
        return
    unionised = float(ripe.unionised_mg_l[-1])
    most = number("water_limits", "unionised_ammonia.act")
    if unionised > most:
        yield Finding(
            "fault",
            say("ammonia"),
            loop.name,
            say(
                "Even with a ripe filter {name} settles at {settles:.0f} µg/L of un-ionised "
                "ammonia nitrogen; {limit:.0f} is the limit to act at, borrowed from "
                "abalone.",
                name=loop.name,
                settles=1000 * unionised,
                limit=1000 * most,
            ),
            say("More flow through more medium, or less feed."),
            BALANCE,
        )
    lowest = float(ripe.ph[-1])
    if lowest < number("water_limits", "ph.act_low"):
        yield Finding(
            "weakness",
            say("acid water"),
            loop.name,
            say(
                "At full load {name} settles at pH {lowest:.2f} (total scale) and an "
                "aragonite saturation of {aragonite:.1f}: the animals' CO2 leaves too "
                "slowly.",
                name=loop.name,
                lowest=lowest,
                aragonite=float(ripe.aragonite[-1]),
            ),
            say("More air first, then alkalinity: air lifts the saturation more than soda does."),
            BALANCE,
        )


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
            "fault",
            say("store too small"),
            keeping.place,
            say(
                "Full, {place} lasts {days_left:.0f} days; with {missed_fills} missed "
                "chances to fill it falls {lacks} below the reserve of {reserve}.",
                place=keeping.place,
                days_left=from_full.days_left,
                missed_fills=keeping.missed_fills,
                lacks=text(round(lacks), "L"),
                reserve=text(round(keeping.reserve_l), "L"),
            ),
            say("Store more, use less, or make more chances to fill."),
            say("balance of water"),
        )
    now = until_fill(store.level_l, draw, keeping.interval_days, 0)
    if now.shortfall_l > 0:
        yield Finding(
            "danger",
            say("store runs dry"),
            keeping.place,
            say(
                "At the present level {place} lasts {days_left:.1f} days and the next "
                "chance to fill is {interval_days} days away.",
                place=keeping.place,
                days_left=now.days_left,
                interval_days=keeping.interval_days,
            ),
            say("Fill now, or cut water changes to what keeps animals alive."),
            say("balance of water"),
        )


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
        "note",
        say("minutes a day"),
        keeping.place,
        say(
            "With every branch open as described {drawn} leave {place}: the "
            "day's {daily_use} are gone in {minutes:.0f} minutes, all of it "
            "in {hours:.1f} hours.",
            drawn=text(round(drawn), "L/min"),
            place=keeping.place,
            daily_use=text(round(keeping.daily_use_l), "L"),
            minutes=minutes,
            hours=hours,
        ),
        say("Run the service pump for water changes only, and never leave it running unwatched."),
        say("balance of water"),
    )
