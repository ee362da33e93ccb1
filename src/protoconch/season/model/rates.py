"""From the unknowns of a future to what the animals do: thresholds and mortality per day."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, logit, ndtr, ndtri

from protoconch.season.model.beliefs import Beliefs
from protoconch.season.model.draws import BatchDraws, SiteDraws

Numbers = NDArray[np.float64]
VELIGER, POST_LARVA, SMALL_JUVENILE, JUVENILE = range(4)
"""Stages with a mortality of their own, in the order of the tank effects."""


@dataclass(frozen=True, slots=True)
class SiteRates:
    """Rates of the median batch; arrays of shape (n,), mortality (4, n) per day.

    Thresholds are in standard days, at the growth reference temperature.
    """

    egg_days: Numbers
    egg_mortality: Numbers
    larval_days: Numbers
    mortality: Numbers
    settle_logit: Numbers
    growth: Numbers
    spread: Numbers
    batch_sd: Numbers
    tank_sd: Numbers


def site_rates(beliefs: Beliefs, site: SiteDraws) -> SiteRates:
    """Rates that all batches of a future share.

    Mortality of a stage is -ln(survival) over the days in which the planning growth passes it, so
    that slow growth costs lives and fast growth saves them.
    """
    u = site.unknown
    q10 = u["incubation.q10"]
    corners = beliefs.path.days
    stage_days = (beliefs.veliger_survival_days, *(corners[1:] - corners[:-1]))
    survival = ("veliger.survival", "post_larva.survival", "small_juvenile.survival",
                "juvenile.survival")  # fmt: skip
    return SiteRates(
        egg_days=u["incubation.days"] * q10 ** ((beliefs.incubation_c - beliefs.growth_c) / 10),
        egg_mortality=-np.log(u["incubation.hatch_share"]),
        larval_days=u["competence_days"] * q10 ** ((beliefs.veliger_c - beliefs.growth_c) / 10),
        mortality=np.stack(
            [-np.log(u[name]) / days for name, days in zip(survival, stage_days, strict=True)]
        ),
        settle_logit=logit(u["settlement.metamorphosis_share"]),
        growth=u["variation.growth_site"],
        spread=np.sqrt(np.log1p(u["growth.size_cv"] ** 2)),
        batch_sd=u["variation.batch"],
        tank_sd=u["variation.tank"],
    )


@dataclass(frozen=True, slots=True)
class BatchRates:
    """Rates of one batch in n futures: (n,) each, mortality (4, n) before tank effects."""

    egg_days: Numbers
    hatch_share: Numbers
    larval_days: Numbers
    mortality: Numbers
    settle_share: Numbers
    growth: Numbers
    post_larva_days: Numbers
    small_juvenile_days: Numbers


def batch_rates(beliefs: Beliefs, site: SiteRates, batch: BatchDraws) -> BatchRates:
    """Rates of a batch: one quality moves all its stages the same way."""
    factor = np.exp(site.batch_sd * batch.quality)
    growth = site.growth * batch.growth
    return BatchRates(
        egg_days=site.egg_days,
        hatch_share=np.exp(-site.egg_mortality * factor),
        larval_days=site.larval_days * batch.period,
        mortality=site.mortality * factor,
        settle_share=expit(site.settle_logit + batch.settle),
        growth=growth,
        post_larva_days=beliefs.post_larva_days / growth,
        small_juvenile_days=beliefs.small_juvenile_days / growth,
    )


def competent_share(beliefs: Beliefs, progress: Numbers, larval_days: Numbers) -> Numbers:
    """Share of larvae competent at that progress; at larval_days, the planned share."""
    with np.errstate(divide="ignore"):
        ahead = np.log(progress / larval_days) / beliefs.competence_spread
    return np.asarray(ndtr(ahead + ndtri(beliefs.competent_at_induction)))
