"""How much seawater the work of each day draws from the store."""

from collections.abc import Iterable, Mapping
from datetime import date

from protoconch.season.answer import SeasonPlan
from protoconch.sources.values import SourcedValue
from protoconch.work.names import name_of
from protoconch.work.task import Task

FILLING = ("stock", "change water")


def litres_by_day(
    plan: SeasonPlan,
    tasks: Iterable[Task],
    assumed: Mapping[str, SourcedValue],
    every_day_l: float = 0.0,
) -> dict[date, float]:
    """Seawater that each day of the season draws [L].

    Every filling of a larval tank takes its water, and a share of it again for rinsing. The algae
    poured in count as seawater that was stored before.
    tasks: the work list. assumed: sources/tables/season.toml. every_day_l: what loops and other
    steady uses take on every day [L].
    """
    litres = {
        (batch.code, name_of(tank)): tank.litres for batch in plan.batches for tank in batch.tanks
    }
    rinsing = assumed["water.rinsing_share"].number
    drawn: dict[date, float] = {}
    for task in tasks:
        drawn.setdefault(task.day, every_day_l)
        if task.kind in FILLING:
            drawn[task.day] += litres[task.batch, task.where] * (1.0 + rinsing)
    return dict(sorted(drawn.items()))
