"""What each entry about animals does to the state."""

from datetime import timedelta
from uuid import UUID

import pytest

from protoconch.log.fold import fold
from protoconch.log.state import Account
from tests.strategies import FIRST, HATCHERY, entry

STOCKED = entry("stocked", "large tank 1", {"batch": "27A", "animals": 1000}, number=1)


def _say(*told, start=(STOCKED,)):
    """The state after these (kind, where, payload), an hour apart, after those of the start."""
    later = [
        entry(kind, where, payload, minutes=60 * n, number=100 + n)
        for n, (kind, where, payload) in enumerate(told, start=1)
    ]
    return fold([*start, *later], HATCHERY)


def _account(state, code="27A"):
    return state.batches[code].account


def test_a_batch_goes_from_the_mass_to_the_tank():
    state = _say(
        ("egg mass collected", "", {"mass": "M1", "eggs": 900, "site": "north bank"}),
        ("incubator loaded", "incubator 1", {"batch": "27A", "masses": ["M1"]}),
        ("hatched", "incubator 1", {"batch": "27A", "veligers": 800}),
        start=(),
    )
    assert state.masses["M1"].batch == "27A"
    held = state.holdings["incubator 1"]
    assert (held.stage, held.alive, held.batch) == ("veliger", 800, "27A")
    batch = state.batches["27A"]
    assert (batch.masses, batch.eggs) == (("M1",), 900)
    assert batch.hatched - batch.loaded == timedelta(hours=1)
    assert batch.account == Account()
    after = _say(
        ("incubator loaded", "incubator 1", {"batch": "27A", "masses": ["M1"], "eggs": 900}),
        ("hatched", "incubator 1", {"batch": "27A", "veligers": 800}),
        ("stocked", "large tank 1", {"batch": "27A", "animals": 500}),
        ("stocked", "large tank 2", {"batch": "27A", "animals": 300}),
        start=(),
    )
    assert set(after.holdings) == {"large tank 1", "large tank 2"}
    assert _account(after) == Account(stocked=800, alive=800)
    assert after.dirty == {"incubator 1"}


def test_eggs_that_nobody_counted_stay_unknown_and_cleaning_empties_the_incubator():
    loaded = ("incubator loaded", "incubator 1", {"batch": "27A", "masses": ["M1"]})
    state = _say(loaded, ("cleaned", "incubator 1", {}), start=())
    assert state.holdings["incubator 1"].alive == 0  # still eggs: only the outside was cleaned
    assert state.batches["27A"].eggs is None
    assert "has not collected it" in state.doubts[0].sentence
    assert state.doubts[0].counted
    state = _say(loaded, ("hatched", "incubator 1", {"batch": "27A"}),
                 ("cleaned", "incubator 1", {}), start=())  # fmt: skip
    assert (dict(state.holdings), state.dirty) == ({}, frozenset())


def test_stages_follow_the_vessels():
    state = _say(("moved", "large tank 1", {"to": ["tray 1", "raceway 1"]}))
    assert STOCKED.where not in state.holdings
    assert state.holdings["tray 1"].stage == "post-larva"
    assert state.holdings["raceway 1"].stage == "juvenile"
    assert _say().holdings["large tank 1"].stage == "veliger"
    assert _say().holdings["large tank 1"].litres == 400


def test_a_move_splits_whole_animals_by_the_size_of_the_vessels():
    state = _say(("moved", "large tank 1", {"to": ["large tank 2", "small tank 1"],
                  "animals": 100}))  # fmt: skip
    alive = {name: held.alive for name, held in state.holdings.items()}
    assert alive == {"large tank 1": 900, "large tank 2": 67, "small tank 1": 33}
    assert state.batches["27A"].vessels == ("large tank 1", "large tank 2", "small tank 1")


def test_a_count_by_aliquots_has_limits_and_moves_the_difference_to_missing():
    counted = {"aliquots": [2, 3, 2, 1, 4], "aliquot_ml": 1000, "litres": 400}
    state = _say(("counted", "large tank 1", counted))
    held = state.holdings["large tank 1"]
    assert held.alive == 960  # 12 in 5 L of 400 L
    assert held.last_count.value == 960
    assert held.last_count.low == pytest.approx(6.2006 * 80, rel=1e-4)  # Garwood 1936, 12 counted
    assert held.last_count.high == pytest.approx(20.9616 * 80, rel=1e-4)
    assert _account(state) == Account(stocked=1000, alive=960, missing=40)
    assert [s.kind for s in state.batches["27A"].sightings] == ["counted"]
    more = _say(("counted", "large tank 1", {"animals": 1100}))
    assert _account(more) == Account(stocked=1000, alive=1100, missing=-100)


def test_the_dead_of_a_count_are_lost_and_not_missing():
    counted = {"aliquots": [2], "dead": [1], "aliquot_ml": 1000, "litres": 400}
    account = _account(_say(("counted", "large tank 1", counted)))
    assert account == Account(stocked=1000, alive=800, lost=200)  # 400 dead, of 200 that lack


def test_past_counts_widen_the_limits_where_animals_clump():
    clumped = {"aliquots": [0, 9, 1, 14, 1], "aliquot_ml": 1000, "litres": 400}
    even = {"aliquots": [5, 5, 5, 5, 5], "aliquot_ml": 1000, "litres": 400}
    alone = _say(("counted", "large tank 1", even)).holdings["large tank 1"].last_count
    past = [("counted", "large tank 1", clumped)] * 20
    after = _say(*past, ("counted", "large tank 1", even)).holdings["large tank 1"].last_count
    assert after.value == alone.value == 2000
    assert after.low < alone.low < alone.high < after.high
    early = _say(*past[:10], ("counted", "large tank 1", even)).holdings["large tank 1"].last_count
    assert (early.low, early.high) == (alone.low, alone.high)


def test_lengths_weights_and_competence_are_seen_of_the_batch():
    state = _say(
        ("measured", "large tank 1", {"lengths_mm": [0.9, 1.1]}),
        ("competence checked", "large tank 1", {"looked_at": 10, "competent": 5}),
        ("weighed", "large tank 1", {"animals": 10, "grams": 2}),
    )
    lengths, ready, grams = state.batches["27A"].sightings
    assert state.holdings["large tank 1"].length_mm == lengths.value == pytest.approx(1.0)
    assert (lengths.low, lengths.high) == pytest.approx((1 - 0.19600, 1 + 0.19600), abs=1e-4)
    assert (ready.value, ready.low, ready.high) == pytest.approx((0.5, 0.18709, 0.81291), abs=1e-5)
    assert grams.value == pytest.approx(0.2)


def test_thinning_leaves_what_was_kept():
    state = _say(("thinned", "large tank 1", {"kept": 600}))
    assert _account(state) == Account(stocked=1000, alive=600, removed=400)
    state = _say(("thinned", "large tank 1", {"kept": 600, "removed": 300}))
    assert _account(state) == Account(stocked=1000, alive=600, removed=300, missing=100)


def test_settling_makes_post_larvae_and_dates_the_batch():
    state = _say(("settled", "large tank 1", {"animals": 700, "offered": 1000}))
    assert state.holdings["large tank 1"].stage == "post-larva"
    assert state.batches["27A"].settled == FIRST + timedelta(hours=1)
    assert _account(state) == Account(stocked=1000, alive=700, missing=300)


def test_grading_sends_each_size_where_it_goes():
    heaps = [{"from_mm": 5, "to_mm": 9, "animals": 600, "to": "raceway 1"},
             {"from_mm": 9, "to_mm": 15, "animals": 390}]  # fmt: skip
    state = _say(("graded", "large tank 1", {"classes": heaps}))
    assert state.holdings["raceway 1"].alive == 600
    assert state.holdings["raceway 1"].length_mm == 7
    assert state.holdings["large tank 1"].alive == 390
    assert _account(state) == Account(stocked=1000, alive=990, missing=10)


def test_losses_and_releases_leave_the_tank_empty_and_dirty():
    state = _say(
        ("lost", "large tank 1", {"animals": 10}),
        ("released", "large tank 1", {"animals": 600}),
        ("lost", "large tank 1", {}),
    )
    assert _account(state) == Account(stocked=1000, lost=400, released=600)
    assert dict(state.holdings) == {}
    assert state.dirty == {"large tank 1"}
    assert state.emptied["large tank 1"].entry == UUID(int=103)
    assert _say(("lost", "large tank 1", {}), ("cleaned", "large tank 1", {})).dirty == set()


CONTRADICTIONS = [
    ([("counted", "large tank 2", {"animals": 5})], "never put animals into it"),
    ([("lost", "large tank 1", {}), ("counted", "large tank 1", {"animals": 5})], "it is empty"),
    ([("moved", "large tank 1", {"to": ["tray 1"]}), ("moved", "large tank 1", {"to": ["tray 2"]})],
     "it is empty since 01 May 09:00, when batch 27A left it"),
    ([("stocked", "large tank 1", {"batch": "27B", "animals": 9})], "while batch 27A (1,000"),
    ([("released", "large tank 1", {"animals": 1251})], "the ledger had 1,000"),
    ([("moved", "large tank 1", {"to": ["tray 1"], "animals": 1251})], "the ledger had 1,000"),
    ([("counted", "large tank 1", {"animals": 10_001})], "the ledger had 1,000"),
    ([("stocked", "tray 1", {"batch": "27B", "animals": 9}),
      ("moved", "large tank 1", {"to": ["tray 1"]})], "confirmed, they count as batch 27B"),
    ([("fed", "large tank 2", {"foods": [{"food": "t-iso", "litres": 1}]})], "no animals in it"),
    ([("counted", "large tank 1", {"aliquots": [3], "aliquot_ml": 9000, "litres": 1})], "aliquot"),
]  # fmt: skip


@pytest.mark.parametrize(("told", "words"), CONTRADICTIONS)
def test_what_cannot_be_true_does_not_count_and_is_doubted(told, words):
    before, after = _say(*told[:-1]), _say(*told)
    assert words in after.doubts[-1].sentence
    assert not after.doubts[-1].counted
    assert after.doubts[-1].entries[0] == UUID(int=100 + len(told))
    for part in ("holdings", "batches", "emptied", "dirty"):
        assert getattr(before, part) == getattr(after, part)


def test_a_doubt_names_the_entry_that_it_contradicts():
    moved = ("moved", "large tank 1", {"to": ["tray 1"]})
    assert _say(moved, moved).doubts[0].entries == (UUID(int=102), UUID(int=101))


def _confirmed(*told):
    last = UUID(int=100 + len(told))
    return _say(*told, ("confirmed", "", {"of": str(last)}))


def test_a_confirmed_count_of_an_empty_tank_brings_its_last_batch_back():
    state = _confirmed(("lost", "large tank 1", {}), ("counted", "large tank 1", {"animals": 5}))
    assert _account(state) == Account(stocked=1000, lost=1000, missing=-5, alive=5)
    assert state.doubts == ()
    assert "large tank 1" not in state.dirty


def test_a_confirmed_stocking_means_that_the_others_left_unseen():
    state = _confirmed(("stocked", "large tank 1", {"batch": "27B", "animals": 9}))
    assert _account(state) == Account(stocked=1000, missing=1000)
    assert _account(state, "27B") == Account(stocked=9, alive=9)


def test_a_confirmed_move_into_another_batch_counts_to_that_batch():
    state = _confirmed(("stocked", "tray 1", {"batch": "27B", "animals": 9}),
                       ("moved", "large tank 1", {"to": ["tray 1"]}))  # fmt: skip
    assert _account(state) == Account(stocked=1000, removed=1000)
    assert _account(state, "27B") == Account(stocked=1009, alive=1009)


def test_an_entry_that_does_not_stand_is_as_if_it_had_not_been():
    lost = ("lost", "large tank 1", {"animals": 400})
    state = _say(lost, ("confirmed", "", {"of": str(UUID(int=101)), "stands": False}))
    assert _account(state) == Account(stocked=1000, alive=1000)


def test_a_tenth_of_the_animals_counts_at_once_and_is_asked_about():
    state = _say(("counted", "large tank 1", {"animals": 99}))
    assert state.holdings["large tank 1"].alive == 99
    assert state.doubts[0].counted
    assert _confirmed(("counted", "large tank 1", {"animals": 99})).doubts == ()


def test_a_few_more_than_the_ledger_had_are_no_contradiction():
    state = _say(("released", "large tank 1", {"animals": 1250}))
    assert _account(state) == Account(stocked=1000, released=1250, missing=-250)
    assert state.doubts == ()


def test_a_second_mass_of_one_label_does_not_count():
    mass = ("egg mass collected", "", {"mass": "M1", "eggs": 5})
    state = _say(mass, ("egg mass collected", "", {"mass": "M1", "eggs": 7}))
    assert state.masses["M1"].eggs == 5
    assert "label of its own" in state.doubts[0].sentence


HOUR = timedelta(hours=1)


@pytest.mark.parametrize(
    ("told", "seen"),
    [
        (("counted", "large tank 1", {"animals": 900}), FIRST + HOUR),
        (("settled", "large tank 1", {"animals": 900}), FIRST + HOUR),
        (("thinned", "large tank 1", {"kept": 900}), FIRST + HOUR),
        (("stocked", "large tank 1", {"batch": "27A", "animals": 9}), FIRST + HOUR),
        (("lost", "large tank 1", {"animals": 9}), FIRST),
        (("released", "large tank 1", {"animals": 9}), FIRST),
        (("measured", "large tank 1", {"mean_mm": 1}), FIRST),
    ],
)
def test_the_number_alive_was_seen_when_counted_or_put_in(told, seen):
    assert _say(told).holdings["large tank 1"].alive_seen == seen


def test_an_incubator_takes_more_of_its_batch_but_no_other():
    first = ("incubator loaded", "incubator 1", {"batch": "27A", "masses": ["M1"], "eggs": 5})
    more = ("incubator loaded", "incubator 1", {"batch": "27A", "masses": ["M2"], "eggs": 7})
    state = _say(first, more, start=())
    assert state.holdings["incubator 1"].alive == 12
    assert state.batches["27A"].masses == ("M1", "M2")
    other = ("incubator loaded", "incubator 1", {"batch": "27B", "masses": ["M2"], "eggs": 7})
    state = _say(first, other, start=())
    assert state.holdings["incubator 1"].batch == "27A"
    assert "was still in it" in state.doubts[-1].sentence
    last = UUID(int=102)
    state = _say(first, other, ("confirmed", "", {"of": str(last)}), start=())
    assert (state.holdings["incubator 1"].batch, state.holdings["incubator 1"].alive) == ("27B", 7)


def test_exactly_a_tenth_or_ten_times_is_no_slip():
    assert _say(("counted", "large tank 1", {"animals": 100})).doubts == ()
    assert _say(("counted", "large tank 1", {"animals": 10_000})).doubts == ()


def test_a_floor_has_no_litres_and_a_tank_has_those_it_was_filled_with():
    state = _say(("moved", "large tank 1", {"to": ["tray 1"]}))
    assert state.holdings["tray 1"].litres is None
    stocked = entry("stocked", "large tank 1", {"batch": "27A", "animals": 9, "litres": 300})
    assert _say(start=[stocked]).holdings["large tank 1"].litres == 300


def test_animals_that_join_others_share_a_mean_length_by_their_number():
    state = _say(
        ("measured", "large tank 1", {"mean_mm": 1.0}),
        ("stocked", "large tank 2", {"batch": "27A", "animals": 3000}),
        ("measured", "large tank 2", {"mean_mm": 2.0}),
        ("moved", "large tank 1", {"to": ["large tank 2"]}),
    )
    held = state.holdings["large tank 2"]
    assert (held.alive, held.length_mm) == (4000, pytest.approx(1.75))


def test_two_aliquots_tell_of_clumping_and_one_does_not():
    one = {"aliquots": [4], "aliquot_ml": 1000, "litres": 400}
    two = one | {"aliquots": [1, 9]}
    assert _say(("counted", "large tank 1", one)).clumping.counts == 0
    clumping = _say(("counted", "large tank 1", two)).clumping
    # mean 5, variance 32: 25 - 32/2 = 9, and 32 - 5 = 27
    assert (clumping.counts, clumping.squared_means, clumping.excess) == (1, 9, 27)


@pytest.mark.parametrize(("days", "mean"), [(20, 4.4), (5, 2.5)])
def test_a_length_seen_long_before_another_says_nothing_of_those_that_came_together(days, mean):
    day = 24 * 60
    told = [
        ("measured", "large tank 1", {"mean_mm": 0.6, "animals": 30}, 1),
        ("moved", "large tank 1", {"to": ["tray 1", "tray 2"]}, 2),
        ("measured", "tray 1", {"mean_mm": 4.4, "animals": 30}, days * day),
        ("moved", "tray 2", {"to": ["raceway 1"]}, days * day + 1),
        ("moved", "tray 1", {"to": ["raceway 1"]}, days * day + 2),
    ]
    later = [entry(kind, where, payload, minutes=minutes, number=100 + n)
             for n, (kind, where, payload, minutes) in enumerate(told)]  # fmt: skip
    held = fold([STOCKED, *later], HATCHERY).holdings["raceway 1"]
    assert held.length_mm == pytest.approx(mean)
    assert held.length_seen == later[2].happened
