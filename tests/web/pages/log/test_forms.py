"""The form of any kind of entry."""

from datetime import date

import pytest

from protoconch.errors import BadInput
from protoconch.log.kinds import KINDS, kind
from protoconch.log.reading import read_payload
from protoconch.web.pages.log.choices import GROUPS, grouped, kind_of
from protoconch.web.pages.log.forms import entry_form
from protoconch.web.pages.log.typed import payload

CHOSEN = [name for _group, kinds in GROUPS for name in kinds]
WHOLE = {
    "counted": {"aliquots": [12, 15], "dead": [0, 1], "aliquot_ml": 50.0, "litres": 400.0},
    "fed": {"foods": [{"food": "T-Iso", "litres": 3.25, "cells_per_ml": 8e6}], "left": 0.1},
    "graded": {"classes": [{"from_mm": 0, "to_mm": 20, "animals": 5, "to": "raceway 1"}]},
    "moved": {"to": ["tray 1", "tray 2"], "animals": 400},
    "received": {"item": "agar", "amount": 2.0, "unit": "kg", "expires": date(2028, 1, 31)},
    "egg mass collected": {"mass": "C1", "depth_m": 12.5, "note": "on sand"},
    "cartridge changed": {"rating_um": 5.0, "reused": True},
    "measured": {"lengths_mm": [1.25, 1.5, 0.875]},
}


def test_every_kind_that_a_person_sees_can_be_chosen_once():
    left_out = {"photo", "correction", "confirmed"}
    assert sorted(CHOSEN) == sorted(set(KINDS) - left_out)


def test_every_choice_says_in_a_sentence_what_it_is():
    for _group, choices in grouped():
        for one in choices:
            assert str(one.tells).endswith(".")
            assert kind_of(one.slug) is KINDS[one.name]
    assert kind_of("correction") is None


@pytest.mark.parametrize("name", CHOSEN)
def test_every_field_of_a_payload_has_a_labelled_field(name):
    form = entry_form(name, {})
    asked = set(KINDS[name].payload.model_fields)
    assert {field.split(".")[1] for field in form.fields} == asked
    assert all(field.label for field in form.fields.values())


@pytest.mark.parametrize("name", WHOLE)
def test_an_entry_comes_back_from_its_own_form_unchanged(name):
    before = read_payload(kind(name), WHOLE[name])
    form = entry_form(name, before.model_dump(mode="json", exclude_defaults=True))
    sent = {
        field: "true" if form[field].initial is True else str(form[field].initial or "")
        for field in form.fields
    }
    assert read_payload(kind(name), payload(sent)) == before


def test_each_sentence_stands_at_the_field_it_speaks_of():
    sent = {"payload.mass": "", "payload.depth_m": "900", "payload.temperature_c": "warm"}
    form = entry_form("egg mass collected", {}, sent=sent)
    with pytest.raises(BadInput) as fault:
        read_payload(kind("egg mass collected"), payload(sent))
    form.tell([*str(fault.value).splitlines(), "Something else is wrong."])
    assert set(form.errors) == {
        "payload.mass", "payload.depth_m", "payload.temperature_c", "__all__"
    }  # fmt: skip
    assert "900" in form["payload.depth_m"].errors[0]
    assert 'value="warm"' in str(form["payload.temperature_c"])


def test_what_a_name_may_be_is_suggested_and_escaped():
    form = entry_form("hatched", {}, known={"batch": ["27A", '"><script>']})
    shown = str(form["payload.batch"])
    assert '<option value="27A">' in shown
    assert "<script>" not in shown
