"""When a culture is dense enough, by its counts and by what its species usually does."""

import math
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.algae.chain.culture_curve import LoggedCount, culture_curve
from protoconch.algae.chain.lines import usual_and_peak_per_ml
from protoconch.algae.growth import logistic_per_ml
from protoconch.errors import BadInput
from protoconch.hatchery.algae_vessels import demo_algae_room

ROOM = demo_algae_room().room
BEGUN = datetime(2027, 5, 1, 8, tzinfo=UTC)
USUAL, PEAK = usual_and_peak_per_ml("t-iso", ROOM.kind("carboy"))


def counted(day, per_ml, wide=1.25):
    return LoggedCount(BEGUN + timedelta(days=day), per_ml, per_ml / wide, per_ml * wide)


def curve(counts=(), age=3.0, **changes):
    given = {"room": ROOM, "species": "t-iso", "kind": "carboy", "inoculated": BEGUN}
    given |= changes
    return culture_curve(*given.values(), counts, now=BEGUN + timedelta(days=age))


def grown(days, growth=0.7, start=8e5):
    return [counted(day, float(logistic_per_ml(day, start_per_ml=start, growth_per_d=growth,
            peak_per_ml=PEAK))) for day in days]  # fmt: skip


def test_without_a_count_it_grows_as_its_species_does():
    found = curve()
    assert found.fit is None
    # 0.7 a day, 0.4 to 1.0: common practice, no source; the room is as warm as that holds for
    assert found.growth_per_d[0] == pytest.approx(0.7)
    assert found.growth_per_d[1] < 0.45
    assert found.growth_per_d[2] > 0.95
    # half a day of lag and rounding up make the schedule's 6 days
    step = ROOM.lines[0].steps[2]
    assert step.grow_days - 2 < found.ready_d <= step.grow_days
    assert found.ready_early_d < found.ready_d < found.ready_late_d
    assert found.advice == "wait"
    assert "not counted yet" in found.sentence


def test_one_count_moves_the_curve_and_two_move_the_growth():
    thin, dense = curve([counted(2, 1e6)]), curve([counted(2, 4e6)])
    assert thin.ready_d > dense.ready_d
    assert thin.growth_per_d == dense.growth_per_d
    slow, fast = (curve(grown([0, 3], growth)) for growth in (0.4, 1.0))
    assert 0.4 < slow.growth_per_d[0] < 0.7 < fast.growth_per_d[0]
    assert np.ptp(slow.growth_per_d) < np.ptp(thin.growth_per_d)


def test_surer_counts_move_it_more():
    sure = curve([counted(0, 1e6, 1.05), counted(3, 1.2e6, 1.05)])
    unsure = curve([counted(0, 1e6, 2.5), counted(3, 1.2e6, 2.5)])
    assert sure.growth_per_d[0] < unsure.growth_per_d[0] < 0.7


def test_with_many_counts_the_day_is_that_of_the_curve_they_were_taken_from():
    found = curve(grown([0, 1, 2, 3, 4, 5, 6]), age=6)
    true = math.log(USUAL * (PEAK - 8e5) / (8e5 * (PEAK - USUAL))) / 0.7
    assert found.fit is not None
    assert found.growth_per_d[0] == pytest.approx(0.7, abs=0.01)
    assert found.ready_d == pytest.approx(true, abs=0.1)
    assert found.advice == "use"
    assert "It is dense enough" in found.sentence


def test_a_dying_culture_is_discarded_and_so_is_an_old_one():
    dying = curve([counted(day, 5e6 * math.exp(-0.8 * day)) for day in range(6)], age=6)
    assert dying.growth_per_d[0] == pytest.approx(-0.8, abs=0.02)
    assert dying.advice == "discard"
    assert "shrinks 0.80 a day" in dying.sentence
    assert "It is dying" in dying.sentence
    old = curve([], age=60)
    assert old.advice == "discard"
    assert "Its last day was 21 May" in old.sentence


def test_a_culture_that_stays_thin_is_counted_again():
    found = curve([counted(day, 1e6 * (1 + 0.02 * day)) for day in range(8)], age=8)
    assert found.ready_d is None
    assert found.advice == "count"
    assert "never reaches 8 million/mL" in found.sentence


COUNTS = st.lists(
    st.tuples(st.floats(0, 20), st.floats(1e3, 5e7), st.floats(1.01, 4)), max_size=9
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(COUNTS, st.sampled_from([(line.species, step.kind) for line in ROOM.lines
                                for step in line.steps]))  # fmt: skip
def test_whatever_was_counted_the_curve_lies_within_its_limits(counts, place):
    seen = [counted(*entry) for entry in counts]
    species, kind = place
    found = curve(seen, 20.0, species=species, kind=kind)
    assert np.isfinite([found.middle, found.low, found.high]).all()
    assert (found.low <= found.middle * (1 + 1e-9)).all()
    assert (found.middle <= found.high * (1 + 1e-9)).all()
    assert found.growth_per_d[1] <= found.growth_per_d[0] <= found.growth_per_d[2]
    assert all(a[0] <= b[0] for a, b in pairwise(found.counts))
    assert found.sentence.endswith(".")
    if found.ready_d is not None:
        assert 0 <= found.ready_d <= found.last_d


@pytest.mark.parametrize(
    ("counts", "changes", "said"),
    [
        ([counted(4, 1e6)], {}, "after now"),
        ([counted(-1, 1e6)], {}, "before the inoculation"),
        ([counted(1, 0.0)], {}, "above 0"),
        ([LoggedCount(BEGUN, 1e6, 2e6, 3e6)], {}, "within its limits"),
        ([LoggedCount(BEGUN, 1e6, 5e5, math.nan)], {}, "within its limits"),
        ([], {"age": -1.0}, "inoculated after now"),
        ([], {"kind": "bucket"}, "no line of t-iso through a bucket"),
    ],
)
def test_what_cannot_be_is_refused(counts, changes, said):
    with pytest.raises(BadInput, match=said):
        curve(counts, **changes)
