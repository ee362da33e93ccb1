"""Where the season has a closed form, the simulation agrees with it."""

from dataclasses import replace

import numpy as np

from protoconch.season.model.beliefs import Beliefs, spread_parameters
from protoconch.season.model.draws import streams
from protoconch.season.model.layout import Layout, Lot, ReservedBatch
from protoconch.season.model.simulate import simulate
from protoconch.sources.values import SourcedValue
from tests.season.seasons import believed

CHAIN = ("veliger.survival", "post_larva.survival", "small_juvenile.survival")
FIXED = (
    "incubation.days",
    "incubation.q10",
    "incubation.hatch_share",
    "competence_days",
    "juvenile.survival",
    "settlement.metamorphosis_share",
    "variation.growth_site",
)


def fixed(value: SourcedValue, number: float | None = None) -> SourcedValue:
    """The value without any doubt about it."""
    return replace(value, value=value.number if number is None else number, low=None, high=None,
                   shape="fixed", beta=None)  # fmt: skip


def only_stage_survivals(known: Beliefs) -> Beliefs:
    """Beliefs in which nothing varies but the survival of three stages, at 28 °C all year."""
    uncertain = {name: fixed(v) if name in FIXED else v for name, v in known.uncertain.items()}
    for name in ("variation.batch", "variation.tank"):
        uncertain[name] = fixed(known.uncertain[name], 0.0)
    uncertain["growth.size_cv"] = fixed(known.uncertain["growth.size_cv"])
    uncertain["competence_days"] = fixed(known.uncertain["competence_days"], 27.0)
    return replace(
        known, uncertain=uncertain, metamorphosis_sd=0.0, growth_batch_sd=0.0, period_batch_sd=0.0,
        batch_loss=0.0, tank_larval_loss=0.0, tank_nursery_loss=0.0, density=((0.0, 1e9),),
        veliger_c=28.0, incubation_c=28.0,
    )  # fmt: skip


def beta_moments(value: SourcedValue) -> tuple[float, float]:
    """Mean and mean square of a survival believed to be a scaled Beta."""
    a, b, low, width = spread_parameters(value)
    mean = a / (a + b)
    square = a * (a + 1) / ((a + b) * (a + b + 1))
    return low + width * mean, low**2 + 2 * low * width * mean + width**2 * square


def test_a_chain_of_beta_survivals_has_the_mean_and_spread_of_its_closed_form():
    """The product of independent Betas: means and mean squares multiply."""
    known = only_stage_survivals(believed(temperature_c=28.0))
    eggs, stage_end = 1e6, 4 + 27 + 38 + 94  # incubation, larvae, 1.2-5 mm, 5-20 mm (93.75 d)
    season = Layout((ReservedBatch(0, eggs, 0, 400, 0, 400),), (Lot(0, 0, 0, 400.0, 1e12),),
                    stage_end)  # fmt: skip
    n = 40_000
    seen = simulate(season, known, streams(np.random.default_rng(1)), n, 1e-9, 0)
    share = seen.total / (
        eggs * known.uncertain["incubation.hatch_share"].number * known.competent_at_induction
        * known.uncertain["settlement.metamorphosis_share"].number
    )  # fmt: skip
    moments = [beta_moments(known.uncertain[name]) for name in CHAIN]
    mean = float(np.prod([m for m, _ in moments]))
    square = float(np.prod([s for _, s in moments]))
    sd = np.sqrt(square - mean**2)
    assert abs(share.mean() - mean) < 4 * sd / np.sqrt(n) + 0.004 * mean
    assert abs(share.std() - sd) < 0.02 * sd


def test_the_median_animal_is_as_long_as_the_path_says():
    path = believed().path
    days = np.array([0.0, 38.0, 131.75, 431.75])
    np.testing.assert_allclose(path.length_mm(days), [1.2, 5.0, 20.0, 80.0], rtol=1e-12)
    for length in (1.2, 3.0, 5.0, 12.0, 20.0, 50.0, 80.0, 95.0):
        np.testing.assert_allclose(path.length_mm(np.array(path.days_to(length))), length)
