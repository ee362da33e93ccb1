"""The update from a log: exact slopes, the same answer by any road, calibrated, never too sure."""

import os
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from uuid import UUID

import numpy as np
import pytest

from protoconch.log.entry import Entry
from protoconch.log.kinds import kind
from protoconch.log.payloads.animals import Counted
from protoconch.season.outlook.basis import Basis
from protoconch.season.outlook.calibration import band_p, family_p, fits
from protoconch.season.outlook.centred import Centred
from protoconch.season.outlook.invented import Habits, invented_log
from protoconch.season.outlook.likelihood import Likelihood
from protoconch.season.outlook.scoring import crps, total_ahead
from protoconch.season.outlook.update import Posterior, likelihood, observations, updated
from tests.season.outlook.seasons import COUNTING, fixed, on, small

FULL = os.environ.get("PROTOCONCH_FULL_CALIBRATION") == "1"
"""Set, the calibration is run in full: some minutes."""
pytestmark = pytest.mark.timeout(7200 if FULL else 300)
DAY = 75
LOG, TRUTH = invented_log(small(), np.random.default_rng(4), 120)


def believed(day: int = DAY, log: tuple[Entry, ...] = LOG, **more: object) -> Posterior:
    return updated(small(), log, on(day), 1, **more)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def at_75() -> Posterior:
    return believed()


@pytest.fixture(scope="module")
def terms(at_75: Posterior) -> Likelihood:
    return likelihood(small(), at_75.layout, at_75.water)


def test_the_slope_of_the_likelihood_is_its_slope(terms: Likelihood) -> None:
    z = np.random.default_rng(1).standard_normal((terms.size, 2)) * 0.5
    _, slope = terms.with_slope(z)
    for i in range(terms.size):
        step = np.zeros_like(z)
        step[i] = 1e-5
        by_steps = (terms(z + step) - terms(z - step)) / 2e-5
        assert by_steps == pytest.approx(slope[i], rel=1e-3, abs=1e-3), i


def test_straight_coordinates_lead_back_and_keep_their_slope(terms: Likelihood) -> None:
    centred = Centred(terms)
    z = np.random.default_rng(2).standard_normal((terms.size, 2)) * 0.5
    y = centred.straight(z)
    assert centred.plain(y) == pytest.approx(z)
    _, slope = centred(y)
    for i in range(terms.size):
        step = np.zeros_like(y)
        step[i] = 1e-5
        by_steps = (centred(y + step)[0] - centred(y - step)[0]) / 2e-5
        assert by_steps == pytest.approx(slope[i], rel=1e-3, abs=2e-3), i


def test_more_than_a_thousand_particles_are_effective(at_75: Posterior) -> None:
    assert at_75.effective > 1000


def test_the_same_seed_and_log_in_any_order_give_the_same_particles(at_75: Posterior) -> None:
    assert np.array_equal(believed(log=LOG[::-1]).z, at_75.z)


def test_going_on_from_before_gives_what_the_log_alone_gives(at_75: Posterior) -> None:
    went_on = believed(before=believed(70))
    assert went_on.went_on
    assert not at_75.went_on
    assert went_on.layout.coordinates.names == at_75.layout.coordinates.names
    sd = at_75.z.std(axis=1)
    apart = (went_on.z.mean(axis=1) - at_75.z.mean(axis=1)) / sd
    assert np.abs(apart).max() < 0.25
    assert np.sqrt((apart**2).mean()) < 0.09
    assert went_on.z.std(axis=1) == pytest.approx(sd, rel=0.25)


def test_nothing_new_costs_nothing_and_changes_nothing(at_75: Posterior) -> None:
    assert np.array_equal(believed(before=at_75).z, at_75.z)


def test_a_correction_of_the_past_makes_the_log_be_read_afresh(at_75: Posterior) -> None:
    wrong = next(e for e in LOG if e.kind == "counted")
    told = replace(wrong, id=UUID(int=9), kind="correction", payload=kind("correction")
                   .payload.model_validate({"of": wrong.id, "withdraw": True}))  # fmt: skip
    later = believed(log=(*LOG, told), before=at_75)
    assert not later.went_on
    assert all(seen.entry != wrong.id for seen in later.history.observations)


def test_a_log_without_entries_leaves_every_belief_as_it_was() -> None:
    z = believed(log=()).z
    assert np.abs(z.mean(axis=1)).max() < 0.12
    assert z.std(axis=1) == pytest.approx(1.0, abs=0.08)


def test_a_batch_without_entries_keeps_its_prior() -> None:
    early = believed(17)
    assert all(not name.startswith("27B") for name in early.layout.coordinates.names)


QUICK = small((4,), 2, 300)
LARVAE = small((4,), 5, 120)
CAREFUL = Habits(count_every=3, aliquot_ml=500.0)


def test_calibrated_fits_pass_the_band_and_their_intervals_hold() -> None:
    seasons = 400 if FULL else 40
    done = fits(small() if FULL else QUICK, small() if FULL else QUICK, 75 if FULL else 58,
                seasons, 11, particles=300)  # fmt: skip
    p, worst = family_p(done, np.random.default_rng(0))
    assert p > (0.001 if FULL else 0.005), worst
    # 40 intervals of 0.9 hold fewer than 0.75 in 2 of 1000
    least, most = (0.87, 0.93) if FULL else (0.75, 1.0)
    assert least <= done.inside.mean() <= most


@pytest.mark.parametrize(
    ("fault", "truths", "day"),
    [("poisson", QUICK, 58), ("no tank effect", LARVAE, 20), ("volumes 10 % off", LARVAE, 20)],
)
def test_a_wrong_fit_is_rejected(fault: str, truths: Basis, day: int) -> None:
    fitting, altered = wrong(fault, truths)
    done = fits(truths, fitting, day, 40 if FULL else 16, 11, particles=250 if FULL else 120,
                altered=altered, widen=False, habits=CAREFUL)  # fmt: skip
    assert family_p(done, np.random.default_rng(0))[0] < 0.005


def test_counts_that_scatter_too_much_are_told_and_widen_the_belief() -> None:
    log, _ = invented_log(QUICK, np.random.default_rng(2), 200)
    wild, factor = [], 1.35
    for entry in log:
        seen = entry.payload
        if isinstance(seen, Counted) and seen.animals is not None:
            wild.append(replace(entry, payload=seen.model_copy(
                update={"animals": round(seen.animals * factor)})))  # fmt: skip
            factor = 1 / factor
        else:
            wild.append(entry)
    assert updated(QUICK, log, on(200), 1).widened == 1.0
    sure = updated(QUICK, wild, on(200), 1, widen=False)
    wide = updated(QUICK, wild, on(200), 1)
    assert wide.widened > 1.5
    assert any("scatter more" in sentence for sentence in wide.surprises)
    assert wide.z.std(axis=1).mean() > sure.z.std(axis=1).mean()


def wrong(fault: str, same: Basis) -> tuple[Basis, Callable[[Entry], Entry]]:
    """A basis, and a change of entries, with a fault put in on purpose."""
    if fault == "poisson":
        counting = dict(COUNTING)
        for name, value in (("count.clumping_k", 290.0), ("count.volume_error", 1e-4)):
            counting[name] = replace(counting[name], value=value, low=None, high=None,
                                     shape="fixed")  # fmt: skip
        measures = replace(same.measures, counting=counting)
        return replace(same, measures=measures).with_beliefs(same.beliefs), lambda e: e
    if fault == "no tank effect":
        return fixed(same, variation__tank=0.002), lambda e: e

    def larger(entry: Entry) -> Entry:
        seen = entry.payload
        if isinstance(seen, Counted) and seen.litres:
            return replace(entry, payload=seen.model_copy(update={"litres": seen.litres * 1.1}))
        return entry

    return same, larger


def test_the_band_rejects_clumped_and_shifted_ranks_and_passes_uniform_ones() -> None:
    rng = np.random.default_rng(3)
    even = rng.integers(0, 100, 200)
    assert band_p(even, rng) > 0.01
    assert band_p(np.minimum(even + 15, 99), rng) < 0.005
    assert band_p(np.where(even < 50, 0, 99), rng) < 0.005


def test_the_score_of_a_normal_forecast_is_the_published_one() -> None:
    # closed form of the normal: Gneiting & Raftery 2007, J Am Stat Assoc 102:359
    draws = np.random.default_rng(1).standard_normal(200_000)
    assert crps(draws, 0.0) == pytest.approx(0.23369, abs=0.002)
    assert crps(draws, 1.0) == pytest.approx(0.60244, abs=0.004)


def test_the_forecast_gets_sharper_as_entries_come() -> None:
    basis, seasons = small((4, 18), 1), 8
    early, late = [], []
    for season in range(seasons):
        rng = np.random.default_rng([7, season])
        log, truth = invented_log(basis, rng, 140)
        came = sum(lot[140] for lot in truth.alive.values() if 140 in lot)
        for day, kept in ((12, early), (110, late)):
            told = updated(basis, log, on(day), season, particles=200)
            # what is alive on day 140, from the same futures' median survival to then
            kept.append(crps(np.log1p(_alive_on(basis, told, 140)), np.log1p(came)))
    assert np.mean(late) < 0.6 * np.mean(early)


def _alive_on(basis: Basis, told: Posterior, day: int) -> np.ndarray:
    from protoconch.season.model.daily import Diary
    from protoconch.season.model.draws import Streams
    from protoconch.season.outlook.ahead import onward, standing

    now = standing(basis, told, Streams(told.seed))
    diary = Diary()
    onward(now, basis, diary)
    return np.asarray(diary.alive[day - now.day].sum(axis=0))


def test_a_tenfold_count_a_future_date_and_an_empty_tank_do_not_move_the_odds() -> None:
    count = next(e for e in LOG if e.kind == "counted" and (e.happened.date() - on(0)).days > 20)
    seen = count.payload
    assert isinstance(seen, Counted)
    later = timedelta(minutes=3)
    ten_times = seen.model_copy(update={"aliquots": tuple(10 * a for a in seen.aliquots)})
    tenfold = replace(count, id=UUID(int=1), happened=count.happened + later, payload=ten_times)
    ahead = replace(count, id=UUID(int=2), happened=count.happened + timedelta(days=3))
    empty = replace(count, id=UUID(int=3), where="large tank 6")
    plain = believed(50)
    fooled = believed(50, (*LOG, tenfold, ahead, empty))
    assert {d.entry for d in fooled.history.doubted} == {UUID(int=i) for i in (1, 2, 3)}
    assert np.array_equal(fooled.z, plain.z)
    assert total_ahead(small(), fooled) == pytest.approx(total_ahead(small(), plain))
    confirmed = replace(count, id=UUID(int=4), kind="confirmed", payload=kind("confirmed")
                        .payload.model_validate({"of": UUID(int=1)}))  # fmt: skip
    moved = believed(50, (*LOG, tenfold, confirmed))
    assert UUID(int=1) in {seen.entry for seen in moved.history.observations}
    assert moved.surprises
    assert not np.array_equal(moved.z, plain.z)


def test_entries_that_the_log_doubts_are_left_out() -> None:
    some = next(e for e in LOG if e.kind == "counted")
    kept = observations(LOG, small(), on(DAY), {some.id})
    assert some.id not in {seen.entry for seen in kept}
    assert len(kept) == len(observations(LOG, small(), on(DAY))) - 1
