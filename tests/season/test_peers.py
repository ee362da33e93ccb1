"""The peers that the benchmark measures against compute the same season."""

import numpy as np

from benchmarks.season_peers import plain, run_loop, run_simpy
from protoconch.season.model.events import run_events
from tests.season.seasons import believed, drawn, layout


def test_loop_and_simpy_give_the_same_numbers_as_the_model():
    season = layout(days=260)
    futures = drawn(season, 30)
    expected = run_events(season, futures, believed()).present
    apart = plain(season, futures, believed())
    np.testing.assert_allclose(run_loop(apart), expected, rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose(run_simpy(apart), expected, rtol=1e-9, atol=1e-6)
