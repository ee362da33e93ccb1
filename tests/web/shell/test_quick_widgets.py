"""The quick widgets give what Django's templates give."""

import pytest
from django.forms import Select, TextInput
from django.test.html import parse_html

from protoconch.web.shell.quick_widgets import Chosen, Typed

ODD = ['<script>"&', "", None, "3.5", 0]
ATTRS = [{}, {"id": "a", "data-needed": True, "inputmode": "decimal"}, {"disabled": False}]
CHOICES = [("", "choose"), ("3.5", 'a "<b>"'), ("0", "none")]


@pytest.mark.parametrize("value", ODD)
@pytest.mark.parametrize("attrs", ATTRS)
def test_a_quick_widget_reads_as_the_usual_one(value, attrs):
    for quick, usual in (
        (Typed(attrs), TextInput(attrs)),
        (Chosen(attrs, choices=CHOICES), Select(attrs, choices=CHOICES)),
    ):
        said = {"aria-invalid": "true"}
        assert parse_html(quick.render("e.0.x", value, said)) == parse_html(
            usual.render("e.0.x", value, said)
        )
