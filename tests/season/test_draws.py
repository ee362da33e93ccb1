"""Each thing has random numbers of its own, so that plans are compared on the same futures."""

import numpy as np

from protoconch.season.model.draws import Dice, day_of_loss, monthly_to_daily, streams
from protoconch.season.model.events import run_events
from protoconch.season.model.simulate import simulate
from tests.season.seasons import believed, drawn, layout


def test_the_same_generator_gives_the_same_season():
    season = layout()
    one, other = (
        simulate(season, believed(), streams(np.random.default_rng(5)), 500, 60.0, 100).total
        for _ in range(2)
    )
    assert np.array_equal(one, other)


def test_another_generator_gives_another_season():
    season = layout()
    one, other = (
        simulate(season, believed(), streams(np.random.default_rng(s)), 500, 60.0, 100).total
        for s in (5, 6)
    )
    assert not np.array_equal(one, other)


def test_a_batch_more_leaves_the_other_batches_as_they_were():
    few, more = layout((0, 28)), layout((0, 14, 28))
    a, b = (run_events(s, drawn(s, 100), believed()) for s in (few, more))
    assert np.array_equal(a.present[0:2], b.present[0:2])
    assert np.array_equal(a.present[2:4], b.present[4:6])


def test_a_tank_more_leaves_the_other_tanks_effects_as_they_were():
    a, b = drawn(layout(tanks=2), 50), drawn(layout(tanks=3), 50)
    assert np.array_equal(a.stage[:, 0:2], b.stage[:, 0:2])
    assert np.array_equal(a.stage[:, 2:4], b.stage[:, 3:5])


def test_more_draws_begin_with_the_same_draws():
    season = layout()
    source = streams(np.random.default_rng(5))
    many = simulate(season, believed(), source, 4500, 60.0, 100).total
    few = simulate(season, believed(), source, 2000, 60.0, 100).total
    assert np.array_equal(many[:2000], few)


def test_losses_come_as_often_as_stated():
    exponential = np.random.default_rng(3).standard_exponential(200_000)
    days = day_of_loss(0.2, 60.0, exponential)
    assert abs(np.mean(days <= 60) - 0.2) < 0.005
    assert np.all(day_of_loss(0.0, 60.0, exponential) > 100_000)


def test_water_follows_the_months():
    monthly = tuple(float(month) for month in range(20, 32))
    daily = monthly_to_daily(monthly, 0, 366)
    assert daily.min() >= 20.0
    assert daily.max() <= 31.0
    assert abs(daily[15] - 20.0) < 0.2
    assert abs(daily[196] - 26.0) < 0.2


def test_weather_has_the_spread_and_the_memory_stated():
    known = believed()
    dice = Dice(known, streams(np.random.default_rng(1)), 0, 2000, 200, 0)
    above = dice._anomaly(np.random.default_rng(2))
    assert abs(above.std() - known.anomaly_sd_c) < 0.02
    lag = np.mean(above[1:] * above[:-1]) / np.mean(above**2)
    assert abs(lag - known.anomaly_correlation) < 0.01
