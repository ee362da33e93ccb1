"""The fields of a form for the blanks of a line, and what was typed into them."""

import re
from collections.abc import Mapping
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _

from protoconch.log.fields import ONE_OF
from protoconch.units import text
from protoconch.web.pages.log.forms import shown
from protoconch.web.shell.quick_widgets import Chosen, Typed
from protoconch.web.shell.reading import as_shown, unit_typed, with_unit
from protoconch.words import joined, say
from protoconch.work.entries.asked import Blank

BETWEEN = re.compile(r"[;\s]+")
MOST_BOXES = 60


class Several(forms.MultipleChoiceField):
    """Some of a row of names, each a box to tick."""

    widget = forms.CheckboxSelectMultiple
    across = True

    def validate(self, value: Any) -> None:
        """Whatever was ticked; the log judges it."""


def fields_of(start: str, blank: Blank) -> Mapping[str, forms.Field]:
    """The field of a blank, or one for each of its boxes.

    start: what the names of the fields begin with, "e.0".
    """
    name, label = f"{start}.{blank.name}", _capital(blank.words)
    if blank.sort == "choice" and blank.times == 0:
        ticked = str(blank.value or "").split(", ")
        choices = [(each, str(say(each))) for each in blank.choices]
        return {name: Several(label=label, initial=ticked, choices=choices, required=False)}
    if blank.times <= 1:
        return {name: _field(blank, label, beside(blank))}
    one = _capital(str(say(ONE_OF.get(blank.name.rpartition(".")[2], blank.words))))
    last = min(blank.times, MOST_BOXES) - 1
    return {
        f"{name}.{n}": _field(blank, f"{one} {n + 1}", "", "done" if n == last else "next")
        for n in range(last + 1)
    }


def typed_of(start: str, blank: Blank, sent: QueryDict) -> str | list[str]:
    """What was typed or ticked for a blank, as `asked.filled` takes it."""
    name = f"{start}.{blank.name}"
    if blank.sort == "choice" and blank.times == 0:
        return [one for each in sent.getlist(name) if (one := str(each).strip())]
    if blank.times == 1:
        return with_unit(_text(sent, name), blank.unit)
    if blank.times == 0:
        return [with_unit(part, blank.unit) for part in BETWEEN.split(_text(sent, name)) if part]
    boxes = (_text(sent, f"{name}.{n}") for n in range(min(blank.times, MOST_BOXES)))
    return [with_unit(box, blank.unit) for box in boxes if box]


def beside(blank: Blank) -> str:
    """What stands beside a field: what is expected, and the last value."""
    return joined(filter(None, (blank.expected, blank.last)), "; ")


def stands(blank: Blank) -> str:
    """What a blank holds already, in words; empty where it holds nothing."""
    if blank.value in (None, ""):
        return ""
    value = blank.value if isinstance(blank.value, str) else text(blank.value, blank.unit or "1")
    return f"{blank.words} {value}"


def _field(blank: Blank, label: str, hint: str, key: str = "done") -> forms.Field:
    attrs: dict[str, Any] = {"data-needed": True} if blank.needed else {}
    attrs |= {"enterkeyhint": key} if key != "done" else {}
    field = forms.CharField(
        label=label, initial=_initial(blank), required=False, strip=False, help_text=hint,
        widget=_widget(blank, attrs),
    )  # fmt: skip
    field.unit = unit_typed(blank.unit)  # type: ignore[attr-defined]
    return field


def _widget(blank: Blank, attrs: dict[str, Any]) -> forms.Widget:
    if blank.sort == "choice":
        empty = [] if blank.value in blank.choices else [("", _("choose"))]
        return Chosen(attrs, choices=[*empty, *((each, str(say(each))) for each in blank.choices)])
    if blank.sort == "text":
        return Typed(attrs)
    if blank.times == 0:
        return Typed(attrs | {"data-numbers": _("Next number")})
    return Typed(attrs | {"inputmode": "numeric" if blank.sort == "whole" else "decimal"})


def _initial(blank: Blank) -> str:
    if isinstance(blank.value, float):
        return text(as_shown(blank.value, blank.unit)).replace(",", "")
    return shown(blank.value)


def _text(sent: QueryDict, name: str) -> str:
    return str(sent.get(name) or "").strip()


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
