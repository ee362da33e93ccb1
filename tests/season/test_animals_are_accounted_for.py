"""Every animal that was brought in is alive, dead, culled or handed over, on every morning."""

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.season.model.daily import Diary, run_daily
from tests.season.closed import with_survival
from tests.season.seasons import believed, drawn, layout

seasons = st.builds(
    lambda starts, tanks, days, algae_g, nursery_m2, size_days: layout(
        tuple(sorted(starts)), tanks, days, algae_g=algae_g, nursery_m2=nursery_m2,
        size_days=size_days,
    ),
    st.sets(st.integers(0, 60), min_size=1, max_size=4),
    st.integers(1, 3),
    st.integers(30, 260),
    st.sampled_from([0.1, 0.5, 2.0, float("inf")]),
    st.sampled_from([0.5, 5.0, 30.0, float("inf")]),
    st.sampled_from([60.0, 150.0, float("inf")]),
)  # fmt: skip


@settings(max_examples=25)
@given(seasons, st.integers(0, 10_000))
def test_nothing_is_lost_or_made(season, seed):
    diary = Diary()
    run_daily(season, drawn(season, 40, seed), believed(), diary)
    ledger = np.array(diary.ledger)
    alive = np.array(diary.alive).sum(axis=1)
    brought, gone = ledger[:, 0], ledger[:, 1:].sum(axis=1)
    assert np.all(np.abs(brought - alive - gone) <= 1e-9 * np.maximum(brought, 1.0))


@settings(max_examples=25)
@given(seasons, st.integers(0, 10_000))
def test_numbers_only_fall_once_eggs_are_in_and_accounts_only_rise(season, seed):
    diary = Diary()
    run_daily(season, drawn(season, 40, seed), believed(), diary)
    alive, ledger = np.array(diary.alive), np.array(diary.ledger)
    started = np.array(diary.stage)[:-1] >= 0
    assert np.all(np.diff(alive, axis=0)[started] <= 1e-9)
    assert np.all(np.diff(ledger, axis=0) >= -1e-9)
    assert np.all(alive >= 0.0)


@settings(max_examples=25)
@given(seasons, st.integers(0, 10_000))
def test_the_nursery_never_holds_more_than_its_floor(season, seed):
    diary = Diary()
    run_daily(season, drawn(season, 40, seed), believed(), diary)
    assert np.max(diary.nursery_m2) <= season.nursery_m2


@settings(max_examples=25)
@given(seasons, st.integers(0, 10_000))
def test_tanks_never_hold_more_than_their_density_allows(season, seed):
    known, diary = believed(), Diary()
    run_daily(season, drawn(season, 20, seed), known, diary)
    alive, stage = np.array(diary.alive), np.array(diary.stage)
    litres = np.array([[400.0 * (season.lots_of(b).stop - season.lots_of(b).start)]
                       for b in range(len(season.batches))])  # fmt: skip
    assert np.all(np.where(stage == 1, alive, 0.0) <= known.density[0][1] * litres + 1e-6)


def test_shares_taken_from_either_end_match_the_animals_taken():
    """Where nothing dies in the nursery, what is left is the part of the cohort in the middle."""
    known = believed()
    for name in ("small_juvenile.survival", "juvenile.survival"):
        known = with_survival(known, name, 1.0 - 1e-12)
    known = replace(known, batch_loss=0.0, tank_nursery_loss=0.0)
    season = layout(days=330, nursery_m2=12.0, size_days=180.0)
    seen = run_daily(season, drawn(season, 60, known=known), known)
    entered = seen.to_nursery > 1.0
    assert (seen.handed_over[entered] > 1.0).any()
    assert (seen.graded[entered] > 0.01).any()
    middle = seen.to_nursery * (1.0 - seen.graded - seen.ahead)
    np.testing.assert_allclose(seen.present[entered], middle[entered], rtol=1e-6, atol=1e-6)
    np.testing.assert_allclose(
        seen.handed_over[entered], (seen.to_nursery * seen.ahead)[entered], rtol=1e-6, atol=1e-6
    )
