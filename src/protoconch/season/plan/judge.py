"""The odds of a choice from fresh futures, with every shared limit in force."""

from dataclasses import dataclass

import numpy as np
from scipy.special import betaincinv

from protoconch.season.answer import Odds, Spread
from protoconch.season.model.draws import Streams
from protoconch.season.model.layout import Layout, Lot, Numbers
from protoconch.season.model.simulate import SeasonDraws, simulate
from protoconch.season.plan.options import reserved
from protoconch.season.plan.room import Choice, Room


def clopper_pearson_low(successes: int, draws: int, confidence: float = 0.95) -> float:
    """One-sided lower bound of a probability (Clopper & Pearson 1934, Biometrika 26:404).

    successes of draws trials; returns 0 to 1.
    """
    if successes == 0:
        return 0.0
    return float(betaincinv(successes, draws - successes + 1, 1.0 - confidence))


def odds(total: Numbers, animals: float) -> Odds:
    """Odds that the target is met, from the totals of fresh futures, (n,)."""
    n = int(total.size)
    met = int(np.count_nonzero(total >= animals))
    share = met / n
    error = float(np.sqrt(max(share * (1 - share), 1.0 / n) / n))
    return Odds(share, error, clopper_pearson_low(met, n), n)


def spread(values: Numbers) -> Spread:
    """Median, mean and 10-90 % of draws, (n,)."""
    p10, p50, p90 = np.quantile(values, [0.1, 0.5, 0.9])
    return Spread(float(p10), float(p50), float(p90), float(values.mean()))


def layout_of(room: Room, choice: Choice) -> Layout:
    """The season of a choice, as the stage model takes it: one batch for each day of collecting."""
    hatchery, setting = room.setting.hatchery, room.setting
    starts = room.starts(choice)
    chosen = np.flatnonzero(choice)
    batches, lots = [], []
    for b, start in enumerate(starts):
        own = [room.options[i] for i in chosen if room.options[i].calendar.start == start]
        counts = [int(choice[o.index]) for o in own]
        batches.append(
            reserved(own[0].calendar, sum(c * o.eggs for c, o in zip(counts, own, strict=True)))
        )
        for count, option in zip(counts, own, strict=True):
            litres = hatchery.larval_tanks[option.tank_kind].litres
            lots += [Lot(b, *option.stream(number), litres, option.places)
                     for number in range(count)]  # fmt: skip
    return Layout(tuple(batches), tuple(lots), setting.days, hatchery.algae_dry_g_per_day,
                  hatchery.nursery_area_m2, setting.size_days)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Judged:
    """A choice seen in fresh futures."""

    layout: Layout
    draws: SeasonDraws
    odds: Odds


def judge(room: Room, choice: Choice, animals: float, fresh: Streams, draws: int) -> Judged:
    """Simulate a choice in fresh futures and count those that meet the target."""
    setting = room.setting
    layout = layout_of(room, choice)
    seen = simulate(layout, setting.beliefs, fresh, draws, setting.size_days,
                    setting.first_day_of_year)  # fmt: skip
    return Judged(layout, seen, odds(seen.total, animals))
