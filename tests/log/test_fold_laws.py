"""What holds of every log: order, repeats, corrections, and where the animals are."""

from dataclasses import fields
from uuid import UUID

from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.log.fold import Folding, as_of, can_follow, fold
from protoconch.log.state import EMPTY, State
from tests.strategies import ANIMAL_KINDS, HATCHERY, entry, logs

CLERICAL = ("upto", "entries", "last", "doubts", "awaited")
"""Parts of a state that two more entries change though they change nothing of the hatchery."""
several = settings(max_examples=80, deadline=None)


@several
@given(logs(), st.randoms(use_true_random=False))
def test_the_order_of_arrival_never_matters(log, dice):
    shuffled = log.copy()
    dice.shuffle(shuffled)
    assert fold(shuffled, HATCHERY) == fold(log, HATCHERY)


@several
@given(logs(), st.data())
def test_a_repeated_entry_counts_once(log, data):
    again = data.draw(st.lists(st.sampled_from(log), max_size=5)) if log else []
    assert fold([*log, *again], HATCHERY) == fold(log, HATCHERY)


@several
@given(logs(), st.randoms(use_true_random=False), st.data())
def test_taking_entries_in_as_they_come_equals_a_replay(log, dice, data):
    dice.shuffle(log)
    folding = Folding(HATCHERY)
    while log[len(folding) :]:
        step = data.draw(st.integers(1, 4))
        so_far = log[: len(folding) + step]
        assert folding.add(so_far[len(folding) :]) == fold(so_far, HATCHERY)
    assert folding.state == fold(log, HATCHERY)


@several
@given(logs(), st.integers(0, 14))
def test_a_snapshot_carried_on_equals_a_replay_wherever_it_can_be_carried_on(log, cut):
    log.sort(key=lambda e: e.order)
    start, later = fold(log[:cut], HATCHERY), log[cut:]
    if start is EMPTY or not can_follow(start, later, HATCHERY):
        return
    assert fold(later, HATCHERY, start) == fold(log, HATCHERY)


@several
@given(logs(kinds=ANIMAL_KINDS, most=25))
def test_every_animal_stocked_is_alive_or_accounted_for(log):
    state = fold(log, HATCHERY)
    for code, batch in state.batches.items():
        a = batch.account
        assert a.stocked == a.alive + a.lost + a.removed + a.released + a.missing
        held = [h for h in state.holdings.values() if h.batch == code]
        assert a.alive == sum(h.alive for h in held if not h.vessel.startswith("incubator"))
        assert set(batch.vessels) == {h.vessel for h in held}
        assert min(a.stocked, a.alive, a.lost, a.removed, a.released) >= 0
    assert all(h.alive > 0 for h in state.holdings.values() if h.stage != "egg")
    assert not state.holdings.keys() & state.emptied.keys()


@several
@given(logs(kinds=ANIMAL_KINDS), st.data())
def test_moving_and_grading_lose_no_animal(log, data):
    kind = data.draw(st.sampled_from(("moved", "graded")))
    before = fold(log, HATCHERY)
    if not before.holdings:
        return
    holding = data.draw(st.sampled_from(sorted(before.holdings.values(), key=lambda h: h.vessel)))
    payload = {"to": ["raceway 1", "raceway 2", "tray 2"]} if kind == "moved" else {
        "classes": [{"from_mm": 1, "to_mm": 9, "animals": holding.alive // 2, "to": "raceway 1"},
                    {"from_mm": 9, "to_mm": 20, "animals": holding.alive - holding.alive // 2}]
    }  # fmt: skip
    last = entry(kind, holding.vessel, payload, minutes=9999, number=5000)
    stands = entry("confirmed", "", {"of": str(last.id)}, minutes=9999, number=5001)
    after = fold([*log, last, stands], HATCHERY)
    alive = [sum(b.account.alive for b in s.batches.values()) for s in (before, after)]
    assert alive[0] == alive[1]
    assert [b.account.missing for b in before.batches.values()] == [
        b.account.missing for b in after.batches.values()
    ]


@several
@given(logs(), st.data())
def test_a_correction_taken_back_restores_what_it_changed(log, data):
    if not log:
        return
    of = data.draw(st.sampled_from(log))
    wrong = entry("correction", "", {"of": str(of.id), "withdraw": True}, minutes=5e4, number=7001)
    undo = entry("correction", "", {"of": str(wrong.id), "withdraw": True}, minutes=5e4,
                 number=7002)  # fmt: skip
    before, after = fold(log, HATCHERY), fold([*log, wrong, undo], HATCHERY)
    kept = [f.name for f in fields(State) if f.name not in CLERICAL]
    for part in kept:
        assert getattr(before, part) == getattr(after, part), part
    assert before.doubts == tuple(
        d for d in after.doubts if d.entries[0] not in (wrong.id, undo.id)
    )


@several
@given(logs())
def test_the_state_at_a_moment_is_the_log_up_to_it(log):
    plain = [e for e in log if e.kind not in ("correction", "confirmed")]
    for moment in {e.happened for e in plain}:
        upto = [e for e in plain if e.happened <= moment]
        assert as_of(plain, moment, HATCHERY) == fold(upto, HATCHERY)


@several
@given(logs())
def test_every_doubt_names_an_entry_of_the_log_and_says_a_sentence(log):
    ids = {e.id for e in log}
    for doubt in fold(log, HATCHERY).doubts:
        assert doubt.entries[0] in ids
        assert doubt.sentence.endswith(".")


@several
@given(logs())
def test_confirming_what_is_doubted_leaves_only_what_no_confirmation_can_settle(log):
    state = fold(log, HATCHERY)
    n = 8000
    for _ in range(4):
        later = {d.entries[0] for d in state.doubts}
        ids = {e.id: e for e in log}
        for one in sorted(later, key=str):
            if ids[one].kind in ("correction", "confirmed"):
                continue
            n += 1
            log = [*log, entry("confirmed", "", {"of": str(one)}, minutes=6e4, number=n)]
        state = fold(log, HATCHERY)
    settled = {e.payload.of for e in log if e.id.int > 8000}
    for doubt in state.doubts:
        if doubt.entries[0] in settled:
            said = doubt.sentence
            assert "never put" in said or "no culture" in said or "kept in" in said


def test_nothing_logged_is_an_empty_hatchery():
    assert fold([], HATCHERY) == EMPTY
    assert Folding(HATCHERY).state == EMPTY
    assert UUID(int=1) not in EMPTY.awaited
