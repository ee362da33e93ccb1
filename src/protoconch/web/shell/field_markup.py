"""The markup of a field: label, what helps, the control with its unit, what is wrong.

Written here and not as a template, as a page may hold a hundred and more of them.
"""

from dataclasses import dataclass
from typing import Any

from django.forms import BoundField, CheckboxInput, CheckboxSelectMultiple, RadioSelect
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

NOTHING = SafeString("")


@dataclass(frozen=True, slots=True)
class Told:
    """What stands around a control, each with the id by which the control points at it."""

    id: str
    hint: str
    unit: str
    errors: tuple[str, ...]

    @property
    def ids(self) -> str:
        """The ids of what is there."""
        parts = (("hint", self.hint), ("unit", self.unit), ("error", self.errors))
        return " ".join(f"{self.id}_{part}" for part, there in parts if there)

    @property
    def hint_markup(self) -> SafeString:
        """What helps, under the label."""
        if not self.hint:
            return NOTHING
        return format_html('<p class="hint" id="{}_hint">{}</p>', self.id, self.hint)

    @property
    def error_markup(self) -> SafeString:
        """What is wrong, under the control."""
        if not self.errors:
            return NOTHING
        said = format_html_join(SafeString("<br>"), "{}", ((error,) for error in self.errors))
        return format_html('<p class="error" id="{}_error">{}</p>', self.id, said)


def field_markup(bound: BoundField, unit: str, hint: str) -> SafeString:
    """A field as the pages show it. unit, hint: empty where there is none."""
    told = Told(bound.auto_id, hint, unit, tuple(map(str, bound.errors)))
    said: dict[str, Any] = {"aria-describedby": told.ids} if told.ids else {}
    if told.errors:
        said["aria-invalid"] = "true"
    inside = _inside(bound, told, said)
    faulty = " faulty" if told.errors else ""
    return format_html('<div class="field{}">{}{}</div>', faulty, inside, told.error_markup)


def _inside(bound: BoundField, told: Told, said: dict[str, Any]) -> SafeString:
    widget = bound.field.widget
    if isinstance(widget, RadioSelect | CheckboxSelectMultiple):
        return _group(bound, told)
    control = bound.as_widget(attrs=said)
    if type(widget) is CheckboxInput:
        ticked = format_html("{} <span>{}</span>", control, bound.label)
        return format_html('<label class="choice">{}</label>{}', ticked, told.hint_markup)
    if told.unit:
        control = format_html(
            '<div class="typed">{}<span class="unit" id="{}_unit">{}</span></div>',
            control, told.id, told.unit,
        )  # fmt: skip
    label = format_html('<label for="{}">{}</label>', told.id, bound.label)
    return format_html("{}{}{}", label, told.hint_markup, control)


def _group(bound: BoundField, told: Told) -> SafeString:
    ids = format_html(' aria-describedby="{}"', told.ids) if told.ids else NOTHING
    across = " across" if isinstance(bound.field.widget, CheckboxSelectMultiple) else ""
    options = format_html_join(
        "", '<label for="{}">{} <span>{}</span></label>',
        ((one.id_for_label, one.tag(), one.choice_label) for one in bound),
    )  # fmt: skip
    legend = format_html("<fieldset{}><legend>{}</legend>", ids, bound.label)
    choices = format_html('<div class="choices{}">{}</div>', across, options)
    return format_html("{}{}{}</fieldset>", legend, told.hint_markup, choices)
