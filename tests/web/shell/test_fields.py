"""What people type into fields, and how it comes back when it is wrong."""

import re

import pytest
from django import forms
from django.template import engines
from hypothesis import given
from hypothesis import strategies as st

from protoconch.web.shell.fields import Day, Measure, Whole


class Tank(forms.Form):
    volume = Measure("L", 1, 50_000, label="Water in it")
    count = Whole(1, 500, label="Tanks", help_text="All of that size.")
    since = Day(label="Since", required=False)


def page(form: forms.Form, tag: str) -> str:
    return engines["django"].from_string(tag).render({"form": form})


@pytest.mark.parametrize(("typed", "litres"), [("400", 400), ("0,4 m3", 400), ("400 L", 400)])
def test_a_measure_takes_its_own_unit_and_others_of_the_kind(typed, litres):
    assert Measure("L").clean(typed) == pytest.approx(litres)


@pytest.mark.parametrize("typed", ["four", "12 kg", "nan", "1e999", "-1", "60000", "0x10"])
def test_a_measure_that_cannot_be_is_refused_in_a_sentence_and_kept(typed):
    form = Tank({"volume": typed, "count": "2"})
    assert not form.is_valid()
    shown = page(form, "{% field form.volume %}")
    assert f'value="{typed}"' in shown
    error = re.search(r'<p class="error" id="(.+?)">\s*(.+?)</p>', shown, re.DOTALL)
    assert error
    assert error[2].strip().endswith(".")
    described = re.search(r'aria-describedby="(.+?)"', shown)
    assert described
    assert error[1] in described[1].split()
    assert 'aria-invalid="true"' in shown


def test_a_count_is_whole():
    form = Tank({"volume": "1", "count": "2.5"})
    assert form.errors["count"] == ["Give a whole number, not 2.5."]


def test_the_unit_and_the_hint_are_told_to_those_who_cannot_see_them():
    shown = page(Tank(), "{% field form.volume %}{% field form.count %}")
    assert 'aria-describedby="id_volume_unit"' in shown
    assert 'aria-describedby="id_count_hint"' in shown
    assert 'inputmode="decimal"' in shown
    assert 'inputmode="numeric"' in shown
    assert shown.count("<label for=") == 2


def test_what_is_wrong_with_the_whole_form_is_said_first():
    form = Tank({"volume": "1", "count": "2"})
    form.add_error(None, "Both cannot be.")
    assert 'role="alert"' in page(form, "{% rest form 'volume' %}")
    assert "id_volume" not in page(form, "{% rest form 'volume' %}")


@given(st.text(max_size=30))
def test_whatever_is_typed_is_answered_by_a_number_or_a_sentence(typed):
    form = Tank({"volume": typed, "count": typed, "since": typed})
    for sentences in form.errors.values():
        assert all(str(sentence).endswith((".", "?")) for sentence in sentences)
    if "volume" in form.cleaned_data:
        assert 1 <= form.cleaned_data["volume"] <= 50_000
