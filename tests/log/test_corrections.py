"""Entries put right, corrections put right, and a log that grows for years."""

from dataclasses import replace
from datetime import timedelta
from uuid import UUID

import pytest

from protoconch.errors import BadInput
from protoconch.log.fold import Folding, as_of, can_follow, fold
from protoconch.log.fold.ledger import KEPT, SETTLED_KEPT
from tests.strategies import FIRST, HATCHERY, entry

STOCKED = entry("stocked", "large tank 1", {"batch": "27A", "animals": 1000}, number=1)
COUNT = entry("counted", "large tank 1", {"animals": 900}, minutes=60, number=2)
LOG = [STOCKED, COUNT]


def _fix(number, of=COUNT, *, minutes=300.0, who="crew B", **change):
    payload = {"of": str(of.id), **change}
    return entry("correction", "", payload, minutes=minutes, number=number, who=who)


def _alive(log, vessel="large tank 1"):
    held = fold(log, HATCHERY).holdings.get(vessel)
    return held.alive if held else 0


def test_each_part_of_an_entry_can_be_corrected():
    assert _alive([*LOG, _fix(3, payload={"animals": 700})]) == 700
    assert _alive([*LOG, _fix(3, withdraw=True)]) == 1000
    moved = _fix(3, of=STOCKED, where="large tank 2")
    assert _alive([STOCKED, moved], "large tank 2") == 1000
    sooner = _fix(3, happened=(FIRST - timedelta(hours=1)).isoformat())
    state = fold([*LOG, sooner], HATCHERY)
    assert state.holdings["large tank 1"].alive == 1000  # counted before it was stocked
    assert "never put animals" in state.doubts[0].sentence
    assert state.entries == 3


def test_a_correction_of_a_correction_counts_and_taking_it_back_restores():
    first = _fix(3, payload={"animals": 700})
    second = _fix(4, of=first, payload={"of": str(COUNT.id), "payload": {"animals": 650}})
    assert _alive([*LOG, first, second]) == 650
    third = _fix(5, of=second, withdraw=True)
    assert _alive([*LOG, first, second, third]) == 700
    assert _alive([*LOG, first, _fix(6, of=first, withdraw=True)]) == 900
    assert fold([*LOG, first, second, third], HATCHERY).doubts == ()


def test_of_two_corrections_that_disagree_the_later_counts_and_a_doubt_says_so():
    early, late = _fix(3, payload={"animals": 700}), _fix(4, minutes=400, payload={"animals": 650})
    for log in ([*LOG, early, late], [late, early, *LOG]):
        state = fold(log, HATCHERY)
        assert state.holdings["large tank 1"].alive == 650
        assert "by crew B and crew B disagree; the later one counts" in state.doubts[0].sentence
        assert state.doubts[0].entries == (late.id, early.id, COUNT.id)
    settled = entry("confirmed", "", {"of": str(late.id)}, minutes=500, number=9)
    assert fold([*LOG, early, late, settled], HATCHERY).doubts == ()
    same = _fix(4, minutes=400, payload={"animals": 700})
    assert fold([*LOG, early, same], HATCHERY).doubts == ()
    other_part = _fix(4, minutes=400, happened=(FIRST + timedelta(hours=2)).isoformat())
    assert fold([*LOG, early, other_part], HATCHERY).doubts == ()


def test_a_later_correction_brings_back_what_an_earlier_one_took():
    gone, back = _fix(3, withdraw=True), _fix(4, minutes=400, payload={"animals": 650})
    assert _alive([*LOG, gone, back]) == 650
    assert _alive([*LOG, replace(gone, happened=FIRST + timedelta(days=1)), back]) == 1000
    stands = entry("confirmed", "", {"of": str(COUNT.id)}, minutes=500, number=9)
    assert _alive([*LOG, gone, stands]) == 900


def test_content_that_is_none_for_the_kind_does_not_count():
    for change in ({"payload": {"animals": -4}}, {"where": "carboy 1"}, {"payload": {"litres": 3}}):
        state = fold([*LOG, _fix(3, **change)], HATCHERY)
        assert state.holdings["large tank 1"].alive == 900
        assert "cannot be what it says" in state.doubts[0].sentence


def test_a_correction_cannot_be_turned_to_another_entry():
    first = _fix(3, payload={"animals": 700})
    turned = _fix(4, of=first, payload={"of": str(STOCKED.id), "withdraw": True})
    assert _alive([*LOG, first, turned]) == 1000  # the count is taken back, not the stocking


def test_what_was_confirmed_and_then_changed_is_not_confirmed_any_more():
    wild = entry("counted", "large tank 1", {"animals": 90_000}, minutes=90, number=5)
    sure = entry("confirmed", "", {"of": str(wild.id)}, minutes=100, number=6)
    assert _alive([*LOG, wild]) == 900
    assert _alive([*LOG, wild, sure]) == 90_000
    again = _fix(7, of=wild, payload={"animals": 80_000})
    assert _alive([*LOG, wild, sure, again]) == 900


def test_a_correction_may_come_before_what_it_corrects():
    fix = _fix(3, payload={"animals": 700})
    waiting = fold([STOCKED, fix], HATCHERY)
    assert waiting.awaited == {COUNT.id}
    assert "does not have" in waiting.doubts[0].sentence
    late = replace(COUNT, happened=FIRST + timedelta(days=9))
    assert not can_follow(waiting, [late], HATCHERY)
    folding = Folding(HATCHERY, [STOCKED, fix])
    assert folding.add([late]) == fold([STOCKED, fix, late], HATCHERY)
    assert folding.state.holdings["large tank 1"].alive == 700
    assert folding.state.doubts == ()


def test_corrections_in_a_circle_change_nothing():
    one, other = _fix(3, withdraw=True), _fix(4, withdraw=True)
    one = _fix(3, of=other, withdraw=True)
    other = _fix(4, of=one, withdraw=True)
    own = _fix(5, of=entry("note", "", {"text": "x"}, number=5), withdraw=True)
    state = fold([*LOG, one, other, own], HATCHERY)
    assert state.holdings["large tank 1"].alive == 900
    assert [("circle" in d.sentence) for d in state.doubts] == [True] * 3


def test_a_chain_of_thousands_of_corrections_is_no_trouble():
    log, last = list(LOG), COUNT
    for n in range(10, 3000):
        last = _fix(n, of=last, minutes=n, withdraw=True)
        log.append(last)
    assert _alive(log) == 900  # an even number of them
    assert _alive(log[:-1]) == 1000


def test_a_state_is_only_carried_on_by_entries_that_do_not_reach_back():
    start = fold(LOG, HATCHERY)
    assert can_follow(start, [entry("note", "", {"text": "x"}, minutes=61, number=3)], HATCHERY)
    for late in (
        entry("note", "", {"text": "x"}, minutes=59, number=3),
        COUNT,
        _fix(3, withdraw=True),
    ):
        assert not can_follow(start, [late], HATCHERY)
    with pytest.raises(BadInput, match="fold the whole log"):
        fold([_fix(3, withdraw=True)], HATCHERY, start)


def test_the_state_as_it_was_known_at_a_time_lacks_later_corrections():
    fix = _fix(3, payload={"animals": 700})
    noon = FIRST + timedelta(hours=2)
    assert as_of([*LOG, fix], noon, HATCHERY).holdings["large tank 1"].alive == 700
    then = as_of([*LOG, fix], noon, HATCHERY, known_by=noon)
    assert then.holdings["large tank 1"].alive == 900
    assert as_of([*LOG, fix], FIRST, HATCHERY).holdings["large tank 1"].alive == 1000


def test_of_two_entries_with_one_id_the_first_to_arrive_counts():
    forged = replace(COUNT, payload=COUNT.payload.model_copy(update={"animals": 1}),
                     arrived=COUNT.arrived + timedelta(days=1))  # fmt: skip
    for log in ([*LOG, forged], [forged, *LOG]):
        assert _alive(log) == 900
        folding = Folding(HATCHERY)
        for one in log:
            folding.add([one])
        assert folding.state == fold(log, HATCHERY)


def test_ten_years_do_not_make_the_state_grow():
    def day(n):
        return entry("counted", "large tank 1", {"animals": 900}, minutes=60 + n * 1440,
                     number=n + 9, task=f"count {n}")  # fmt: skip

    log = [STOCKED, *(day(n) for n in range(3650))]
    state = fold(log, HATCHERY)
    assert len(state.batches["27A"].sightings) == KEPT.days + 1
    assert len(state.settled) == SETTLED_KEPT.days + 1
    assert state.batches["27A"].account.missing == 100
    folding = Folding(HATCHERY, log[:2000])
    assert folding.add(log[2000:]) == state
    assert len(folding._rests) < 30


def test_one_more_entry_redoes_nothing_and_a_late_one_only_what_follows(monkeypatch):
    from protoconch.log.fold import folding as module

    done = []
    log = [entry("read", "reservoir", {"quantity": "level", "value": 100 + n}, minutes=n, number=n)
           for n in range(5000)]  # fmt: skip
    folding = Folding(HATCHERY, log)
    apply = module.apply

    def counted(ledger, items):
        items = list(items)
        done.append(len(items))
        apply(ledger, items)

    monkeypatch.setattr(module, "apply", counted)
    folding.add([entry("note", "", {"text": "x"}, minutes=6000, number=9000)])
    assert sum(done) == 1
    done.clear()
    folding.add([entry("note", "", {"text": "x"}, minutes=4900, number=9001)])
    assert 100 < sum(done) < 400
    assert UUID(int=9001) != folding.state.last
