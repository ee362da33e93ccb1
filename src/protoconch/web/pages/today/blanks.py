"""The forms in which the lines of a day are settled: few blanks, the rest is known."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext as _
from pydantic import TypeAdapter, ValidationError

from protoconch.errors import BadInput
from protoconch.log.fields import ONE_OF
from protoconch.operations.recording import Answer
from protoconch.units import text
from protoconch.web.pages.log.forms import EntryForm, shown
from protoconch.work.entries.asked import Asked, Blank, Way, filled

BETWEEN = re.compile(r"[;\s]+")
MOST_ENTRIES, MOST_BOXES = 30, 60
_as_json = TypeAdapter(Asked)


@dataclass(frozen=True, slots=True)
class EntryBlanks:
    """One entry that is asked for. number: among those of its way. id: of the entry to be."""

    number: int
    id: str
    asked: Asked
    form: EntryForm
    where: str

    @property
    def name(self) -> str:
        """What the names of its fields begin with."""
        return f"e.{self.number}"

    @property
    def hints(self) -> tuple[str, ...]:
        """What stands beside fields that have several boxes."""
        several = (beside(blank) for blank in self.asked.fields if blank.times > 1)
        return tuple(filter(None, several))

    @property
    def told(self) -> str:
        """What is known already, for the form to carry."""
        return _as_json.dump_json(self.asked, exclude_defaults=True).decode()


@dataclass(frozen=True, slots=True)
class WayForm:
    """One way to settle a line. answer: what became of it when it was sent."""

    number: int
    words: str
    entries: tuple[EntryBlanks, ...]
    answer: Answer | None = None
    happened: str = ""


def way_form(number: int, way: Way, line: str) -> WayForm:
    """The empty form of a way. line: id of the line on the page, so that ids differ."""
    ids = f"{line}-{number}"
    made = (_entry(n, asked, f"{ids}-{n}-%s", str(uuid4())) for n, asked in enumerate(way.asked))
    return WayForm(number, way.words, tuple(made))


def sent_form(sent: Mapping[str, str], line: str) -> WayForm:
    """The form of a way as it was sent. Raises: BadInput, where it is none of ours."""
    number, entries = 0, []
    for n in range(MOST_ENTRIES):
        if f"e.{n}.asked" not in sent:
            break
        try:
            number = int(sent.get("way", "0"))
            asked = _as_json.validate_json(sent.get(f"e.{n}.asked", ""))
        except (ValidationError, ValueError) as fault:
            raise BadInput(
                _("This form was not made by this page; load the page again.")
            ) from fault
        made = _entry(n, asked, f"{line}-{number}-{n}-%s", sent.get(f"e.{n}.id", ""), sent)
        entries.append(replace(made, where=sent.get(f"e.{n}.where", "").strip() or asked.where))
    if not entries:
        raise BadInput(_("This form was not made by this page; load the page again."))
    return WayForm(number, "", tuple(entries), happened=sent.get("happened", ""))


def payload_of(entry: EntryBlanks, sent: Mapping[str, str]) -> dict[str, Any]:
    """The payload that was sent. Raises: BadInput, every fault a line."""
    typed = {blank.name: _typed(blank, entry.name, sent) for blank in entry.asked.fields}
    try:
        return filled(entry.asked, typed)
    except (KeyError, IndexError, TypeError, ValueError) as fault:
        raise BadInput(_("This form was not made by this page; load the page again.")) from fault


def _typed(blank: Blank, start: str, sent: Mapping[str, str]) -> str | list[str]:
    name = f"{start}.{blank.name}"
    if blank.times == 1:
        return sent.get(name, "").strip()
    if blank.times == 0:
        return [part for part in BETWEEN.split(sent.get(name, "").strip()) if part]
    boxes = (sent.get(f"{name}.{n}", "").strip() for n in range(min(blank.times, MOST_BOXES)))
    return [box for box in boxes if box]


def _entry(
    number: int, asked: Asked, ids: str, own: str, sent: Mapping[str, str] | None = None
) -> EntryBlanks:
    form = EntryForm(asked.kind, sent, auto_id=ids)
    for blank in asked.fields:
        form.fields.update(_fields(f"e.{number}.{blank.name}", blank))
    return EntryBlanks(number, own, asked, form, asked.where)


def _fields(name: str, blank: Blank) -> Mapping[str, forms.Field]:
    """The field of a blank, or one for each of its boxes."""
    label = blank.words[:1].upper() + blank.words[1:]
    if blank.times <= 1:
        return {name: _field(blank, label, beside(blank))}
    one = ONE_OF.get(blank.name.rpartition(".")[2], blank.words)
    boxes = range(min(blank.times, MOST_BOXES))
    return {
        f"{name}.{n}": _field(
            blank,
            f"{one[:1].upper()}{one[1:]} {n + 1}",
            "",
            "next" if n + 1 < len(boxes) else "done",
        )
        for n in boxes
    }


def _field(blank: Blank, label: str, hint: str, key: str = "done") -> forms.Field:
    attrs: dict[str, Any] = {"autocomplete": "off", "enterkeyhint": key}
    attrs |= {"data-needed": ""} if blank.needed else {}
    widget: forms.Widget
    if blank.sort == "choice":
        empty = [] if blank.value in blank.choices else [("", _("choose"))]
        widget = forms.Select(attrs, choices=[*empty, *((each, each) for each in blank.choices)])
    elif blank.sort == "text":
        widget = forms.TextInput(attrs)
    elif blank.times == 0:
        widget = forms.TextInput(attrs | {"data-numbers": _("Next number")})
    else:
        keyboard = "numeric" if blank.sort == "whole" else "decimal"
        widget = forms.TextInput(attrs | {"inputmode": keyboard})
    value = (
        text(blank.value).replace(",", "") if isinstance(blank.value, float) else shown(blank.value)
    )
    field = forms.CharField(label=label, initial=value, required=False, strip=False,
                            help_text=hint, widget=widget)  # fmt: skip
    field.unit = blank.unit  # type: ignore[attr-defined]
    return field


def beside(blank: Blank) -> str:
    """What stands beside a field: the last value, what is expected, whether it may stay empty."""
    may_stay = "" if blank.needed else _("If you like.")
    return " ".join(filter(None, (blank.expected, blank.last, may_stay)))
