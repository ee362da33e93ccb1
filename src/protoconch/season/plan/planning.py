"""From a target and a hatchery to a season: its odds, what limits it, what else to ask."""

from collections.abc import Mapping
from datetime import date

import numpy as np

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery, Target
from protoconch.season.answer import SeasonPlan
from protoconch.season.plan.notes import notes
from protoconch.season.plan.offers import no_offer, offers
from protoconch.season.plan.options import Labour
from protoconch.season.plan.study import Effort, checked_target, inputs, study
from protoconch.season.plan.telling import batches, days_ahead
from protoconch.season.plan.worth import binding, limits
from protoconch.sources.values import SourcedValue

AS_USUAL = Effort()


def plan_season(
    hatchery: Hatchery, species: Species, target: Target, labour: Labour,
    assumed: Mapping[str, SourcedValue], seed: int, *, today: date | None = None,
    effort: Effort = AS_USUAL, compare: bool = True,
) -> SeasonPlan:  # fmt: skip
    """The smallest season that meets the target as surely as asked, or the best there is.

    labour: hours of work that a lot needs. assumed: sources/tables/season.toml. seed: the same
    seed, the same answer. today: nothing is planned before it; None plans the season as written.
    compare: also work out the worth of each limit and, where they are needed, the offers.
    Raises: BadInput and OutOfRange for a target or a hatchery that no season fits; MissingNumber
    where the species profile lacks a number that the model cannot do without.
    """
    rng = np.random.Generator(np.random.SFC64(seed))
    given = inputs(hatchery, species, labour, assumed, rng, effort, today)
    checked_target(target, hatchery, given.beliefs, today)
    laid_out = study(given, target)
    found, seen = laid_out.planned()
    told = batches(laid_out, found.choice, seen)
    ahead = days_ahead(laid_out, found.choice, seen)
    limited = limits(laid_out, found.choice, ahead.nursery_m2) if compare else ()
    made = offers(laid_out, found.choice, seen) if compare and not found.reaches else ()
    unmade = no_offer(made, target) if compare and not found.reaches else ()
    total = seen.draws.total
    p10, p90 = np.quantile(total, [0.1, 0.9])
    return SeasonPlan(
        hatchery=hatchery, target=target, feasible=found.reaches, odds=seen.odds,
        expected=float(total.mean()), p10=float(p10), p90=float(p90), batches=told,
        egg_masses=laid_out.room.masses(found.choice).total,
        tanks=len(seen.layout.lots), tray_area_cm2=float(ahead.forecast.trays_cm2.max()),
        nursery_m2=ahead.nursery_m2, work_hours=float(ahead.forecast.work_h.sum()),
        limits=limited, binding_limit=binding(limited),
        offers=made,
        notes=(*unmade, *notes(laid_out, found, seen, told)), forecast=ahead.forecast,
        assumptions=given.beliefs.used, seed=seed,
    )  # fmt: skip
