"""How long the stored seawater lasts, and by when to fill."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from protoconch.seawater.ranges import more_than_zero, within
from protoconch.words import phrase

TENTH = 1.2815515655446004
"""How many standard deviations a tenth of all outcomes lies beyond, one side (normal)."""
FAR = 400
"""Days after which the search for an empty reservoir ends."""


@dataclass(frozen=True, slots=True)
class UntilFill:
    """A reservoir drawn on until the next fill.

    days_left: until it is empty [d]. low_point_l: left just before the fill [L].
    shortfall_l: lacking by then [L].
    """

    days_left: float
    low_point_l: float
    shortfall_l: float


@dataclass(frozen=True, slots=True)
class LevelDay:
    """The level at the end of one day [L, usable]: middle, and the tenth below and above."""

    day: date
    middle_l: float
    low_l: float
    high_l: float


@dataclass(frozen=True, slots=True)
class NextFill:
    """When to fill at the latest, and what it takes.

    by: last day on which to try first, or None where nothing is drawn. overdue: that day is past.
    litres: from the middle level on that day to full [L].
    pump_hours: [h], None where the pump moves nothing.
    """

    by: date | None
    overdue: bool
    litres: float
    pump_hours: float | None


@dataclass(frozen=True, slots=True)
class Store:
    """A reservoir and how it is drawn on.

    full_l: usable when full [L]. level_l: usable now [L].
    loss_l_per_day: evaporation and leaks [L/d].
    spread, bias: standard deviations of use against the list, of single days and of all days
        alike, as shares [-].
    """

    full_l: float
    level_l: float
    loss_l_per_day: float
    spread: float
    bias: float

    def __post_init__(self) -> None:
        """Refuse a reservoir that cannot be."""
        more_than_zero(phrase("the full reservoir"), self.full_l, "L")
        within(
            phrase("the level"),
            self.level_l,
            0.0,
            self.full_l,
            "L",
            phrase("It cannot be above full; give the usable litres."),
        )
        within(phrase("the loss"), self.loss_l_per_day, 0.0, float("inf"), "L/d")
        within(phrase("the spread of use"), self.spread, 0.0, 2.0)
        within(phrase("the bias of use"), self.bias, 0.0, 2.0)


def usable_l(whole_l: float, dead_share: float) -> float:
    """Water that can be drawn from a reservoir [L].

    whole_l: all it holds [L]. dead_share: below the outlet or too near the mud [-], 0 to 0.9.
    Raises: BadInput or OutOfRange.
    """
    more_than_zero(phrase("the reservoir"), whole_l, "L")
    return whole_l * (1 - within(phrase("the dead share"), dead_share, 0.0, 0.9))


def until_fill(
    level_l: float, daily_use_l: float, interval_days: float, missed_fills: int = 0
) -> UntilFill:
    """A reservoir until the fill after next missed ones, at a steady use.

    level_l: usable now [L]. daily_use_l: use and losses [L/d]. interval_days: between chances to
    fill, the first one interval away [d]. missed_fills: chances that pass unused [-].
    Raises: BadInput or OutOfRange.
    Source: balance of water.
    """
    within(phrase("the level"), level_l, 0.0, float("inf"), "L")
    more_than_zero(phrase("the daily use"), daily_use_l, "L/d")
    more_than_zero(phrase("the interval between fills"), interval_days, "d")
    within(phrase("the missed fills"), missed_fills, 0, 1000)
    left = level_l - daily_use_l * interval_days * (1 + missed_fills)
    return UntilFill(level_l / daily_use_l, max(0.0, left), max(0.0, -left))


def level_forecast(
    store: Store,
    use_l_by_day: Mapping[date, float],
    fill_l_by_day: Mapping[date, float],
    first: date,
    days: int,
) -> tuple[LevelDay, ...]:
    """The level at the end of each day, with the tenth below and above.

    use_l_by_day: litres that the work list draws; a day that is not listed draws none [L].
    fill_l_by_day: litres pumped in, before the day's use; what is above full runs over [L].
    first: the first day. days: how many [d].
    Raises: BadInput or OutOfRange.
    Source: balance of water; a day's use differs from the list by chance (spread) and all days
    together by habit (bias), both normal; a fill that runs over wipes the doubt out.
    """
    middle, squares, total = store.level_l, 0.0, 0.0
    found = []
    for ahead in range(days):
        day = first + timedelta(days=ahead)
        doubt = _doubt(store, squares, total)
        filled = within(phrase("a fill"), fill_l_by_day.get(day, 0.0), 0.0, float("inf"), "L")
        if filled and middle - doubt + filled >= store.full_l:
            squares = total = 0.0
        middle = min(store.full_l, middle + filled)
        use = within(phrase("a day's use"), use_l_by_day.get(day, 0.0), 0.0, float("inf"), "L")
        middle -= use + store.loss_l_per_day
        squares, total = squares + use**2, total + use
        doubt = _doubt(store, squares, total)
        found.append(
            LevelDay(
                day,
                max(0.0, middle),
                max(0.0, middle - doubt),
                max(0.0, min(store.full_l, middle + doubt)),
            )
        )
        middle = max(0.0, middle)
    return tuple(found)


def _doubt(store: Store, squares: float, total: float) -> float:
    variance = store.spread**2 * squares + (store.bias * total) ** 2
    return float(TENTH * variance**0.5)


def next_fill(
    store: Store,
    use_l_by_day: Mapping[date, float],
    first: date,
    *,
    reserve_l: float,
    interval_days: int,
    missed_fills: int,
    pump_l_min: float,
) -> NextFill:
    """By when to fill so that missed chances do not eat the reserve.

    use_l_by_day, first: as in level_forecast; days after the list draw the list's mean.
    reserve_l: never to be touched in nine cases of ten [L]. interval_days: between chances to
    fill [d]. missed_fills: chances that may pass unused. pump_l_min: of the fill pump [L/min].
    Raises: BadInput or OutOfRange.
    """
    within(phrase("the flow of the fill pump"), pump_l_min, 0.0, 1e6, phrase("L/min"))
    within(phrase("the reserve"), reserve_l, 0.0, store.full_l, "L")
    within(phrase("the interval between fills"), interval_days, 1, 365, "d")
    within(phrase("the missed fills"), missed_fills, 0, 100)
    levels = level_forecast(store, _carried_on(use_l_by_day, first), {}, first, FAR)
    short = next((each.day for each in levels if each.low_l < reserve_l), None)
    if short is None:
        return NextFill(None, overdue=False, litres=0.0, pump_hours=0.0)
    by = short - timedelta(days=interval_days * missed_fills)
    day = max(by, first)
    ahead = (day - first).days
    before = levels[ahead - 1].middle_l if ahead else store.level_l
    litres = store.full_l - before
    hours = litres / pump_l_min / 60 if pump_l_min > 0 else None
    return NextFill(day, overdue=by < first, litres=litres, pump_hours=hours)


def _carried_on(use_l_by_day: Mapping[date, float], first: date) -> dict[date, float]:
    """The list, carried on at its mean after its last day."""
    listed = {day: use for day, use in use_l_by_day.items() if day >= first}
    if not listed:
        return {}
    last = max(listed)
    span = (last - first).days + 1
    mean = sum(listed.values()) / span
    after = ((last + timedelta(days=i), mean) for i in range(1, max(1, FAR - span + 1)))
    return {**listed, **dict(after)}
