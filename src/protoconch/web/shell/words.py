"""Words, numbers, days, fields and pictures as pages show them, for the templates."""

from datetime import date, datetime
from typing import Any

from django import template
from django.forms import (
    BaseForm,
    BoundField,
    HiddenInput,
)
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from protoconch.pictures.drawing import Picture
from protoconch.sheets.look import figure
from protoconch.units import text
from protoconch.web.shell.field_markup import field_markup
from protoconch.words import say

register = template.Library()


@register.filter
def amount(value: float, unit: str = "1") -> str:
    """A number with its unit, as the crew reads it."""
    return text(value, unit)


@register.filter
def said(name: str) -> str:
    """A name of the program, such as that of a kind of entry, in the reader's words."""
    return str(say(name))


@register.filter
def amount_parts(value: float, unit: str = "1") -> SafeString:
    """A large number with its unit small beside it."""
    shown = "" if unit in ("", "1") else unit
    return format_html('<span class="amount">{} <small>{}</small></span>', text(value), shown)


@register.filter
def day(moment: date | datetime | None) -> str:
    """The day by the site's clock, in words: 14 July 2027."""
    if not moment:
        return ""
    return date_format(_here(moment), _("j F Y"))


@register.filter
def weekday(of: date) -> str:
    """The day with its weekday: Wednesday 14 July."""
    return date_format(of, _("l j F"))


@register.filter
def clock(moment: datetime | None) -> str:
    """The time of day by the site's clock: 07:40."""
    return date_format(_here(moment), "H:i") if moment else ""


@register.filter
def moment_words(moment: datetime | None) -> str:
    """Day and time by the site's clock."""
    return f"{day(moment)}, {clock(moment)}" if moment else ""


@register.filter
def drawn(svg: str) -> SafeString:
    """A picture of our own as it stands."""
    return mark_safe(svg)  # noqa: S308 - made by pictures/, never typed by a person


@register.filter
def picture(seen: Picture) -> SafeString:
    """A picture of our own with the sentence that says what it means."""
    return mark_safe(figure(seen))  # noqa: S308 - sheets.look escapes what people typed


@register.simple_tag
def field(bound: BoundField, unit: str = "", hint: str = "") -> SafeString:
    """A field with its label, its unit beside it, what helps, and what is wrong under it.

    unit, hint: else those of the form field (`unit` of shell.fields, `help_text`).
    """
    if bound.is_hidden:
        return bound.as_widget()
    return field_markup(
        bound, unit or getattr(bound.field, "unit", ""), hint or str(bound.help_text)
    )


@register.simple_tag
def rest(form: BaseForm, *shown: str) -> SafeString:
    """What is wrong with the whole form, and all fields but those named."""
    bounds = [bound for bound in form if bound.name not in shown]
    return render_to_string("rest.html", {
        "errors": form.non_field_errors(),
        "hidden": [bound for bound in bounds if isinstance(bound.field.widget, HiddenInput)],
        "shown": [bound for bound in bounds if not isinstance(bound.field.widget, HiddenInput)],
    })  # fmt: skip


def _here(moment: date | datetime | None) -> Any:
    """A moment by the clock in force; a day stays as it is."""
    if isinstance(moment, datetime) and timezone.is_aware(moment):
        return timezone.localtime(moment)
    return moment
