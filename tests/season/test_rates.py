"""Warmth hurries development; quality, food and size change what becomes of the animals."""

from dataclasses import replace

import numpy as np
import pytest

from protoconch.season.model.daily import run_daily
from protoconch.season.model.draws import median_batch, median_site
from protoconch.season.model.events import free_days, run_events
from protoconch.season.model.rates import batch_rates, competent_share, site_rates
from tests.season.closed import with_survival
from tests.season.seasons import believed, drawn, layout


def median_days(temperature_c: float, regime: str = "trial"):
    """Days of the median batch in steady water: hatch, and hatch to induction."""
    known = believed(regime, temperature_c)
    site = median_site(known, 200, 0)
    days = free_days(site.clock, batch_rates(known, site_rates(known, site), median_batch()), 0)
    rate = site.clock[1, 0]
    rates = site_rates(known, site)
    return float(rates.egg_days[0] / rate), int(days.induce[0] - days.hatch[0])


@pytest.mark.parametrize(("temperature_c", "hatch"), [(26.0, 4.76), (28.5, 4.00), (31.0, 3.36)])
def test_eggs_hatch_as_the_q10_rule_says(temperature_c, hatch):
    """4 d x 2^((28.5 - T) / 10): common practice for 26 to 31 °C, worked by hand."""
    assert median_days(temperature_c)[0] == pytest.approx(hatch, abs=0.005)


def test_three_degrees_speed_larvae_up_as_in_the_published_trial():
    """20.0 against 24.7 um/d at 28 and 31 °C (Chávez Villegas et al. 2017): 1.235 times."""
    cool, warm = (median_days(t)[1] for t in (28.0, 31.0))
    assert cool / warm == pytest.approx(24.7 / 20.0, abs=0.06)


def test_a_batch_of_poor_quality_dies_more_in_every_stage():
    known = believed()
    site = median_site(known, 10, 0)
    good, poor = (
        batch_rates(known, site_rates(known, site), replace(median_batch(), quality=np.array([q])))
        for q in (-1.0, 1.0)
    )
    assert np.all(poor.mortality > good.mortality)
    assert poor.hatch_share[0] < good.hatch_share[0]


def test_a_batch_that_grows_faster_is_larger_and_leaves_the_trays_sooner():
    known = believed()
    site = median_site(known, 10, 0)
    usual, fast = (
        batch_rates(known, site_rates(known, site), replace(median_batch(), growth=np.array([g])))
        for g in (1.0, 1.25)
    )
    assert fast.growth[0] == pytest.approx(1.25 * usual.growth[0])
    assert fast.post_larva_days[0] == pytest.approx(usual.post_larva_days[0] / 1.25)


def test_on_the_planned_day_the_planned_share_is_competent():
    known = believed()
    at = competent_share(known, np.array([10.0, 22.0, 40.0]), np.array([22.0, 22.0, 22.0]))
    assert at[1] == pytest.approx(known.competent_at_induction)
    assert at[0] < 0.01
    assert at[2] > 0.999


def test_hungry_larvae_are_later_and_fewer():
    fed, hungry = layout(days=60), layout(days=60, algae_g=0.25)
    futures = drawn(fed, 100)
    one, other = (run_daily(season, futures, believed()) for season in (fed, hungry))
    both = (one.induce <= 60) & (other.induce <= 60)
    assert np.all(other.induce[both] >= one.induce[both])
    assert (other.induce[both] - one.induce[both]).mean() > 1.0
    assert other.competent.sum() < one.competent.sum()


def test_slow_growth_costs_lives():
    known = believed()
    season = layout(days=200)
    futures = drawn(season, 200, known=known)
    slow, fast = (
        run_events(season, drawn(season, 200, known=held), held).present.sum()
        for held in (with_survival(known, "variation.growth_site", g) for g in (0.6, 1.4))
    )
    assert futures.n == 200
    assert slow < fast


def test_larvae_wait_for_their_trays_and_leave_their_tanks_in_time():
    season = layout((0,), 1, 120)
    early = replace(season, batches=(replace(season.batches[0], tray_from=60, tank_until=70),))
    late = replace(season, batches=(replace(season.batches[0], tank_until=20),))
    futures = drawn(season, 100)
    assert run_events(early, futures, believed()).induce.min() >= 60
    assert run_events(late, futures, believed()).induce.max() <= 20
