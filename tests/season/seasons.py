"""Small invented seasons for the tests of the stage model and of the plans made with it."""

from dataclasses import replace
from datetime import date
from functools import cache

import numpy as np

from protoconch.animals.profiles import species
from protoconch.hatchery.description import Hatchery, LarvalTank, NurseryTank, Target, Tray
from protoconch.hatchery.reading import demo_hatchery
from protoconch.season.model.beliefs import Beliefs, beliefs
from protoconch.season.model.draws import Dice, streams
from protoconch.season.model.layout import Futures, Layout, Lot, ReservedBatch, futures
from protoconch.season.plan.study import Effort, Study, inputs, study
from protoconch.sources.reading import load_table
from protoconch.work import hours

LITTLE = Effort(common=1000, fresh=2000, look=500)
TARGET = Target(300, 60.0, date(2028, 8, 31), 0.8)


@cache
def believed(regime: str = "well_fed", temperature_c: float | None = None) -> Beliefs:
    """Beliefs of the demo hatchery, or of one with the same water all year and no weather."""
    hatchery = replace(demo_hatchery(), regime=regime)
    if temperature_c is None:
        return beliefs(species("queen-conch"), hatchery, load_table("season"))
    steady = replace(hatchery, temperature_c=(temperature_c,) * 12)
    return replace(beliefs(species("queen-conch"), steady, load_table("season")), anomaly_sd_c=0.0)


def layout(
    starts: tuple[int, ...] = (0, 14, 28),
    tanks: int = 2,
    days: int = 200,
    **limits: float,
) -> Layout:
    """A season of such batches, each with as many 400-litre tanks."""
    batches = tuple(ReservedBatch(s, 2e5, s + 2, s + 40, s + 15, s + 90) for s in starts)
    lots = tuple(
        Lot(b, 0, number, 400.0, 6000.0) for b in range(len(starts)) for number in range(tanks)
    )
    return Layout(batches, lots, days, **limits)


def drawn(season: Layout, n: int = 200, seed: int = 1, known: Beliefs | None = None) -> Futures:
    """So many futures of a season."""
    source = streams(np.random.default_rng(seed))
    return futures(season, Dice(known or believed(), source, 0, n, season.days, 100))


def small_hatchery(**changes: object) -> Hatchery:
    """A room small enough to try every plan: two tanks, a few trays, three collecting days."""
    small = replace(
        demo_hatchery(),
        larval_tanks=(LarvalTank("tank", 2, 300.0),),
        trays=(Tray("tray", 8, 3600.0),),
        nursery=(NurseryTank("raceway", 4, 8.0),),
        first_day=date(2027, 5, 3),
        last_day=date(2027, 5, 18),
    )
    small = replace(small, genetics=replace(small.genetics, min_masses=3, max_share=0.5))
    return replace(small, **changes)  # type: ignore[arg-type]


def small_study(target: Target = TARGET, **changes: object) -> Study:
    """The options of the small hatchery for a target."""
    hatchery = small_hatchery(**changes)
    rng = np.random.Generator(np.random.SFC64(7))
    given = inputs(hatchery, species("queen-conch"), hours, load_table("season"), rng, LITTLE, None)
    return study(given, target)
