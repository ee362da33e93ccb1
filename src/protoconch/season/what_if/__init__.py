"""A planned season looked at with something changed: the same model, the same futures."""

from dataclasses import dataclass

import numpy as np

from protoconch.season.answer import Odds
from protoconch.season.plan.judge import clopper_pearson_low, spread
from protoconch.season.what_if.change import DYING, Change, bare, change_of, checked
from protoconch.season.what_if.prepared import CLOSE, LATER_DAYS, QUICK, Prepared, prepared
from protoconch.season.what_if.ribbons import ChangedBatch, ribbons
from protoconch.season.what_if.room import refitted
from protoconch.season.what_if.running import ran
from protoconch.season.what_if.telling import outcome_told, told

__all__ = [
    "CLOSE", "DYING", "LATER_DAYS", "QUICK", "Change", "Changed", "ChangedBatch", "Prepared",
    "change_of", "prepared", "told", "what_if",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Changed:
    """A season with something changed.

    change: without what is as planned. odds: of the changed target; by: odds gained over the plan,
    error: standard error of that difference, from the same futures with and without the change.
    expected, p10, p90: animals of the size asked. batches: ribbons. released: middle number of
    each batch. gave: what had to give way, told: what is changed, both in words. draws: futures
    that were run again.
    """

    change: Change
    odds: Odds
    by: float
    error: float
    expected: float
    p10: float
    p90: float
    batches: tuple[ChangedBatch, ...]
    released: tuple[float, ...]
    told: tuple[str, ...]
    gave: tuple[str, ...]
    sentence: str
    draws: int


def what_if(ready: Prepared, change: Change) -> Changed:
    """What becomes of a plan when something is changed and its batches are kept.

    The plan's own odds are moved by the paired difference between the same futures with and
    without the change, so that no change gives the plan's odds exactly. Where only the number
    asked changes, all futures of the plan are counted again and none is run.
    Raises: OutOfRange, BadInput for a change that makes no sense.
    """
    plan = ready.plan
    checked(change, plan, float(ready.beliefs.path.lengths_mm[1]), LATER_DAYS)
    change = bare(change, plan)
    fit = refitted(ready, change)
    moved = change.moves_animals
    run = ran(fit.layout, ready.beliefs, ready.blocks, change) if moved else ready.base
    asked = change.animals or plan.target.animals
    all_met = plan.forecast.ready >= asked
    was_met = plan.forecast.ready >= plan.target.animals
    before, after = ready.base.total, run.total
    paired = (after >= asked).astype(np.float64) - (before >= asked)
    by = float(all_met.mean() - was_met.mean() + paired.mean())
    value = float(np.clip(plan.odds.value + by, 0.0, 1.0)) if after.any() else 0.0
    by = value - plan.odds.value
    error = _error(paired) if moved else 0.0
    asked_error = float(np.sqrt((all_met != was_met).mean() / max(1, all_met.size)))
    total_error = float(np.hypot(error, asked_error))
    now, then = spread(after), spread(before)

    def shifted(planned: float, was: float, becomes: float) -> float:
        return max(0.0, planned + (becomes - was)) if becomes > 0.0 else 0.0

    return Changed(
        change=change, odds=_odds(plan.odds, value, error), by=by, error=total_error,
        expected=shifted(plan.expected, then.mean, now.mean),
        p10=shifted(plan.p10, then.p10, now.p10), p90=shifted(plan.p90, then.p90, now.p90),
        batches=ribbons(plan, ready.read_to(run.layout.days), run),
        released=tuple(float(np.median(row)) for row in run.ready),
        told=told(change, plan), gave=fit.gave,
        sentence=outcome_told(change, plan.odds.value, value, by, total_error),
        draws=ready.draws if moved else plan.odds.draws,
    )  # fmt: skip


def _error(paired: np.ndarray) -> float:
    """Standard error of a paired difference; where no future differs, as if one did."""
    n = paired.size
    return float(np.sqrt(max(float(paired.var(ddof=1)), 1.0 / n) / n))


def _odds(planned: Odds, value: float, error: float) -> Odds:
    """Odds moved by a difference with that error."""
    whole = float(np.hypot(np.sqrt(max(value * (1 - value), 1 / planned.draws) / planned.draws),
                           error))  # fmt: skip
    if not error:
        met = round(value * planned.draws)
        return Odds(value, whole, clopper_pearson_low(met, planned.draws), planned.draws)
    return Odds(value, whole, max(0.0, value - 1.645 * whole), planned.draws)
