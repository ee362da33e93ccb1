"""The stage model against the published series of the queen conch.

Brito-Manzano & Aldana Aranda 2004 (Aquaculture 242:479) and 2017 (Proc GCFI 70:241): at 29 ± 1 °C,
200 larvae a litre, 1,000 cells/mL of one flagellate, larvae of 300 µm settled on days 25 to 29 at
867 to 908 µm, and 20 to 38 % of them lived from hatch to settlement.
Brownell 1977 (Bull Mar Sci 27:668): 31.7 mm at 171 days after hatch, Los Roques.
"""

from dataclasses import replace

import numpy as np
import pytest

from protoconch.animals.profiles import species
from protoconch.season.model.draws import Dice, streams
from protoconch.season.model.events import run_events
from protoconch.season.model.layout import Layout, Lot, ReservedBatch, futures
from protoconch.season.model.rates import batch_rates, site_rates
from tests.season.seasons import believed

N = 4000


def one_batch(regime: str, temperature_c: float, days: int):
    """One free batch in steady water; returns beliefs, futures and outcome."""
    known = replace(believed(regime, temperature_c), density=((0.0, 200.0),))
    season = Layout((ReservedBatch(0, 1e6, 0, 90, 0, 400),), (Lot(0, 0, 0, 400.0, 1e12),), days)
    source = streams(np.random.default_rng(11))
    drawn = futures(season, Dice(known, source, 0, N, days, 0))
    return known, drawn, run_events(season, drawn, known)


def interval(values: np.ndarray) -> tuple[float, float, float]:
    """The 90 % interval and the median."""
    low, middle, high = np.quantile(values, [0.05, 0.5, 0.95])
    return float(low), float(middle), float(high)


def test_trial_larvae_settle_on_days_25_to_29():
    _, _, seen = one_batch("trial", 29.0, 60)
    low, middle, high = interval(seen.induce[0] - seen.hatch[0])
    assert 25 <= low <= 26
    assert 27 <= middle <= 28
    assert 28 <= high <= 29


def test_trial_larvae_settle_at_867_to_908_um():
    value = species("queen-conch").value("regime.trial.competence_length_um")
    assert 867 <= value.number <= 908
    hatch = species("queen-conch").number("veliger.hatch_length_um")
    days = species("queen-conch").number("regime.trial.competence_days")
    growth = (value.number - hatch) / days
    assert growth == pytest.approx(21.6, abs=0.05)  # um/d, (883 - 300) / 27


def test_published_survival_to_settlement_lies_in_the_90_percent_interval():
    known, _, seen = one_batch("trial", 29.0, 60)
    alive = seen.competent[0] / known.competent_at_induction / seen.stocked[0]
    low, middle, high = interval(alive[alive > 0.0])
    assert low < 0.20
    assert high > 0.38
    assert middle == pytest.approx(0.315, abs=0.02)  # mean of the six monthly values


def test_brownells_juveniles_lie_in_the_90_percent_interval():
    known, drawn, seen = one_batch("trial", 28.0, 180)
    columns = np.arange(N)
    clock = drawn.site.clock
    rates = batch_rates(known, site_rates(known, drawn.site), drawn.batches[0])
    grown = clock[np.minimum(seen.hatch[0] + 171, 180), columns] - clock[seen.induce[0], columns]
    own = np.exp(seen.spread * np.random.default_rng(2).standard_normal(N))
    low, _, high = interval(known.path.length_mm(grown * rates.growth * own))
    assert low < 31.7 < high


def test_well_fed_larvae_stay_18_to_24_days_before_an_inducer():
    """Common practice, no source: about 21 days in warm, well-fed tanks."""
    _, _, seen = one_batch("well_fed", 29.0, 60)
    low, middle, high = interval(seen.induce[0] - seen.hatch[0])
    assert middle == 21
    assert low >= 18
    assert high <= 24


def test_ten_thousand_settled_larvae_give_about_two_thousand_juveniles():
    """Common practice, no source: 2,000 of 70-80 mm from 10,000 brought to metamorphosis."""
    known, drawn, _ = one_batch("well_fed", 28.0, 60)
    site = site_rates(known, drawn.site)
    rates = batch_rates(known, site, drawn.batches[0])
    mortality = rates.mortality * np.exp(site.tank_sd * drawn.stage[:, 0])
    corners = known.path.days
    for size_mm in (70.0, 75.0, 80.0):
        last = known.path.days_to(size_mm) - corners[2]
        hazard = (mortality[1] * corners[1] + mortality[2] * (corners[2] - corners[1])
                  + mortality[3] * last) / rates.growth  # fmt: skip
        assert 1400 <= np.median(10_000 * np.exp(-hazard)) <= 2800
