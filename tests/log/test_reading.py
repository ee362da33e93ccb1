"""What is sent becomes an entry, or is refused with every fault in words."""

from datetime import UTC, datetime, timedelta, timezone
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from protoconch.errors import BadInput
from protoconch.log.fields import FIELDS
from protoconch.log.kinds import KINDS
from protoconch.log.reading import read_entry, stored, written
from protoconch.log.reading.fault_words import sentence_of
from tests.strategies import HATCHERY, entry, logs

RAW = {
    "id": "7b1f8b1e-8f2c-4d53-9d0b-3f6f8a7f2d11", "kind": "counted",
    "happened": "2027-07-14T08:30-05:00", "arrived": "2027-07-14T13:31:00Z", "who": " crew A ",
    "where": "large tank 2", "task": "27A|count",
    "payload": {"aliquots": [12, 15, 11], "aliquot_ml": "5 mL", "litres": "400 L"},
}  # fmt: skip


def _faults(**change):
    with pytest.raises(BadInput) as refusal:
        read_entry(RAW | change, HATCHERY)
    return str(refusal.value).splitlines()


def test_a_sound_entry_is_read_with_its_units():
    found = read_entry(RAW, HATCHERY)
    assert found.id == UUID(RAW["id"])
    assert found.happened == datetime(2027, 7, 14, 13, 30, tzinfo=UTC)
    assert (found.who, found.where, found.task) == ("crew A", "large tank 2", "27A|count")
    assert found.payload.aliquots == (12, 15, 11)
    assert (found.payload.aliquot_ml, found.payload.litres) == (5.0, 400.0)


@settings(max_examples=100, deadline=None)
@given(logs(most=8, pointing=4))
def test_writing_and_reading_an_entry_loses_nothing(log):
    for one in log:
        assert stored(written(one)) == one
        assert read_entry(written(one), HATCHERY) == one


def test_all_faults_are_told_at_once():
    told = _faults(
        happened="2027-07-14T08:30", who="", where="large tank 22",
        payload={"aliquots": "1; x 3", "aliquot_ml": -5, "litres": "400 kg", "foo": 3},
    )  # fmt: skip
    for part in ("has no zone", "name of the person is missing", "Did you mean large tank 2?",
                 "'x', which is not a number", "must be more than 0 mL", "give it in L",
                 "no field foo"):  # fmt: skip
        assert [part in sentence for sentence in told].count(True) == 1, part
    assert len(told) == 7


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"id": "7"}, "32 digits"),
        ({"id": None}, "is missing"),
        ({"kind": "cuonted"}, "Did you mean counted?"),
        ({"kind": None}, "kind of entry is missing"),
        ({"happened": "soon"}, "write it such as"),
        ({"happened": None}, "write it with its zone"),
        ({"arrived": "0001-01-01T00:00+14:00"}, "write it such as"),
        ({"where": ""}, "Say where it was counted"),
        ({"where": "carboy 1"}, "which is an algae vessel"),
        ({"where": "the moon"}, "Name a larval tank, a tray, a nursery tank or an incubator"),
        ({"who": "x" * 81}, "longer than 80"),
        ({"who": 3}, "must be text"),
        ({"who": "a\x00"}, "cannot be written"),
        ({"who": "\ud800"}, "cannot be written"),
        ({"color": 3}, "no field color"),
        ({"payload": None}, "give its fields by name"),
        ({"payload": {"animals": "\ud800"}}, "cannot be written"),
        ({"payload": {"animals": 10**400}}, "larger than anything"),
        ({"payload": {"animals": float("inf")}}, "not finite"),
        ({"payload": {"animals": [[[[[[[[[[3]]]]]]]]]]}}, "more than an entry can"),
        ({"payload": {"animals": -1}}, "at least 0"),
        ({"payload": {"animals": 1.5}}, "must be a whole number"),
        ({"payload": {}}, "either a list of aliquots or the number"),
        ({"payload": {"aliquots": [3]}}, "Aliquots need their volume"),
        ({"payload": {"aliquots": [3], "dead": [1, 2], "aliquot_ml": 5, "litres": 4}}, "dead of"),
        ({"kind": "moved", "payload": {"to": "rac 4, tray 1"}}, "This hatchery has no rac 4"),
        ({"kind": "moved", "payload": {"to": ["carboy 1"]}}, "is an algae vessel"),
        ({"kind": "fed", "payload": {"foods": [{"food": "", "grams": "a"}]}}, "food of food 1"),
        ({"kind": "read", "where": "", "payload": {"quantity": "temperature", "value": 80}},
         "between -2 and 45 °C"),
        ({"kind": "read", "where": "tray lop", "payload": {"quantity": "pH", "value": 8}},
         "Did you mean tray loop?"),
        ({"kind": "correction", "where": "", "payload": {"of": "x", "happened": "2027-07-14"}},
         "time with its zone"),
        ({"kind": "received", "where": "", "payload": {"item": "x", "amount": 1, "unit": "g",
          "expires": "never"}}, "a date such as"),
        ({"kind": "done", "where": "", "payload": {"work": "x", "skipped": "maybe"}}, "yes or no"),
    ],
)  # fmt: skip
def test_a_fault_is_a_sentence_of_the_crew(change, words):
    told = _faults(**change)
    assert any(words in sentence for sentence in told), told
    for sentence in told:
        assert sentence[0].upper() == sentence[0]
        assert sentence[-1] in ".?"
        assert "Input should" not in sentence


def test_a_place_outside_the_tanks_may_be_told_in_free_words():
    one = read_entry(RAW | {"kind": "read", "where": "the beach",
                     "payload": {"quantity": "temperature", "value": 27}}, HATCHERY)  # fmt: skip
    assert one.where == "the beach"


def test_new_content_of_a_correction_is_judged_as_that_of_its_kind():
    of = entry("counted", "large tank 1", {"animals": 5})
    raw = RAW | {"kind": "correction", "where": "", "payload": {
        "of": str(of.id), "where": "carboy 1", "payload": {"animals": "-3"}}}  # fmt: skip
    assert read_entry(raw, HATCHERY).payload.where == "carboy 1"
    with pytest.raises(BadInput, match=r"cannot happen in carboy 1[^£]*at least 0"):
        read_entry(raw, HATCHERY, corrected=of)


def test_an_hour_that_comes_twice_is_kept_as_it_was_meant():
    for fold in (0, 1):
        moment = datetime(2027, 11, 7, 1, 30, tzinfo=ZoneInfo("America/New_York"), fold=fold)
        one = read_entry(RAW | {"happened": moment}, HATCHERY)
        assert one.happened.astimezone(UTC).hour == 5 + fold
        assert one.happened.tzinfo == timezone(timedelta(hours=-4 - fold))
        assert stored(written(one)) == one


def test_what_is_no_entry_is_not_taken_from_the_store():
    for raw in ({}, {"id": "x"}, written(entry("note", "", {"text": "a"})) | {"kind": "x"}):
        with pytest.raises(BadInput, match="no entry of the log"):
            stored(raw)


def test_every_field_of_every_payload_has_words():
    for kind in KINDS.values():
        for name in kind.payload.model_fields:
            assert name in FIELDS, name


def test_a_fault_of_an_unknown_sort_is_still_a_sentence():
    detail = {"type": "brand_new", "loc": ("animals",), "input": 3}
    assert sentence_of("counted", detail) == (
        "The number of animals is 3, which cannot be used here."
    )


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner,
                                                                max_size=3),
    max_leaves=8,
)  # fmt: skip


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_any_values_whatever_are_answered_by_sentences_or_read(data):
    kind = data.draw(st.sampled_from(sorted(KINDS)))
    names = st.sampled_from([*KINDS[kind].payload.model_fields, "x"])
    payload = data.draw(st.dictionaries(names, json_values, max_size=4))
    raw = RAW | {"kind": kind, "payload": payload}
    raw |= data.draw(st.dictionaries(st.sampled_from([*RAW]), json_values, max_size=1))
    said, one = "", None
    try:
        one = read_entry(raw, HATCHERY)
    except BadInput as refusal:
        said = str(refusal)
    assert (one is None) == bool(said)
    assert "Input should" not in said
    assert one is None or stored(written(one)) == one
