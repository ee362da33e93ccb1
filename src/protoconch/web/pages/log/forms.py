"""The form of any kind of entry, made from what its payload asks for.

Fields are named by their path in the payload, "payload.foods.0.litres". What was typed is judged
where entries are read, not here; `tell` then puts each sentence at the field it speaks of.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any

from django import forms
from django.forms import widgets
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from protoconch.log.fields import ONE_OF, field_of
from protoconch.log.kinds import kind
from protoconch.units import text
from protoconch.web.shell.reading import as_shown, unit_typed
from protoconch.words import begun, english, say

SPARE_ROWS = 2
"""Empty rows offered in a list of foods or of size classes."""
LARGEST_BOUND_TOLD = 10_000
LETTERS_ON_A_LINE = 400


class Suggesting(widgets.TextInput):
    """A line to type in, with names that may well be meant."""

    def __init__(self, names: Sequence[str], attrs: dict[str, Any] | None = None) -> None:
        """names: suggested; anything else may be typed."""
        super().__init__(attrs)
        self.names = tuple(names)

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        """The line, and the list of names beside it."""
        own = f"{(attrs or {}).get('id', name)}_names"
        line = super().render(name, value, {**(attrs or {}), "list": own}, renderer)
        options = format_html_join("", '<option value="{}">', ((each,) for each in self.names))
        return format_html('{}<datalist id="{}">{}</datalist>', line, own, options)


class EntryForm(forms.Form):
    """An empty form, to which the fields of one kind of entry are added."""

    use_required_attribute = False

    def __init__(self, kind_name: str, *parts: Any, **named: Any) -> None:
        """kind_name: of the entry."""
        named.setdefault("label_suffix", "")
        super().__init__(*parts, **named)
        self.kind_name = kind_name

    def tell(self, sentences: Sequence[str]) -> None:
        """Put each sentence at the field it speaks of, the others above all fields."""
        self.full_clean()
        for sentence in sentences:
            self.add_error(self._meant(sentence), sentence)

    def _meant(self, sentence: str) -> str | None:
        """The field by whose name, or by that of one of its members, the sentence begins."""
        said = english(sentence).lower().removeprefix("the ")
        by_label = {name: (str(field.label).lower(),) for name, field in self.fields.items()}
        by_words = {name: self._called(name) for name in self.fields}
        for names in (by_words, by_label):
            for name, starts in names.items():
                if said.startswith(tuple(f"{start} " for start in starts)):
                    return name
        return None

    def _called(self, name: str) -> tuple[str, ...]:
        """What the log calls a field, and one member of it where it is a list."""
        last = next(part for part in reversed(name.split(".")) if not part.isdigit())
        words = english(field_of(self.kind_name, last).words).lower()
        return (words, english(ONE_OF[last])) if last in ONE_OF else (words,)


def entry_form(
    kind_name: str,
    payload: Mapping[str, Any],
    *,
    sent: Mapping[str, str] | None = None,
    known: Mapping[str, Sequence[str]] | None = None,
) -> EntryForm:
    """The form of that kind.

    payload: what stands in it at first. sent: what a person typed, where it comes back to them.
    known: by field of the payload, names that may well be meant.
    """
    form = EntryForm(kind_name, sent)
    making = _Making(kind_name, known or {})
    form.fields.update(making.fields(_schema(kind_name), "payload", payload))
    return form


def shown(value: Any) -> str:
    """A value of a payload as it stands in a field."""
    if value is None:
        return ""
    if isinstance(value, float) and abs(value) < 1e15:
        return f"{value:.15g}"
    if isinstance(value, list | tuple):
        between = "; " if any(isinstance(part, str) for part in value) else " "
        return between.join(map(shown, value))
    return str(value)


@cache
def _schema(kind_name: str) -> dict[str, Any]:
    return kind(kind_name).payload.model_json_schema()


class _Making:
    """Makes the fields of one kind of entry."""

    def __init__(self, kind_name: str, known: Mapping[str, Sequence[str]]) -> None:
        self.kind_name, self.known = kind_name, known

    def fields(
        self, schema: Mapping[str, Any], path: str, payload: Mapping[str, Any], one: str = ""
    ) -> Iterator[tuple[str, forms.Field]]:
        """Those of one thing, the needed ones first and the note last.

        one: what the thing is called in a list of them, "food 2".
        """
        parts, needed = schema["properties"], schema.get("required", ())
        for name in sorted(parts, key=lambda n: (n == "note", n not in needed)):
            told = next(
                (x for x in parts[name].get("anyOf", ()) if x["type"] != "null"), parts[name]
            )
            value = payload.get(name, parts[name].get("default"))
            if told.get("type") == "array" and "$ref" in told["items"]:
                yield from self._rows(name, f"{path}.{name}", value)
            elif not (one and name == "note"):
                field = self._field(name, told, value, one)
                field.help_text = field.help_text or (
                    "" if name in needed or one else _("If known.")
                )
                yield f"{path}.{name}", field

    def _rows(self, name: str, path: str, value: Any) -> Iterator[tuple[str, forms.Field]]:
        inner = next(iter(_schema(self.kind_name)["$defs"].values()))
        given = [row for row in value if isinstance(row, Mapping)] if _is_list(value) else []
        for number, row in enumerate((*given, *[{}] * SPARE_ROWS)):
            one = f"{say(ONE_OF.get(name, name))} {number + 1}"
            yield from self.fields(inner, f"{path}.{number}", row, one)

    def _field(self, name: str, told: Mapping[str, Any], value: Any, one: str) -> forms.Field:
        words = field_of(self.kind_name, name)
        label = begun(say(words.words)) + (f", {one}" if one else "")
        if told.get("type") == "boolean":
            return forms.BooleanField(label=label, initial=bool(value), required=False)
        if "enum" in told:
            choices = [(each, str(say(each)) if each else _("nothing")) for each in told["enum"]]
            empty = [] if value in told["enum"] else [("", _("choose"))]
            return forms.CharField(label=label, initial=value, required=False,
                                   widget=forms.Select(choices=[*empty, *choices]))  # fmt: skip
        field = forms.CharField(
            label=label, initial=_standing(value, words.unit), required=False, strip=False,
            help_text=_bounds(told, words.unit) if words.is_number else "",
            widget=_widget(name, told, self.known.get(name, ())),
        )  # fmt: skip
        field.unit = unit_typed(words.shown_unit)  # type: ignore[attr-defined]
        return field


def _is_list(value: Any) -> bool:
    return isinstance(value, list | tuple)


def _widget(name: str, told: Mapping[str, Any], known: Sequence[str]) -> forms.Widget:
    attrs: dict[str, Any] = {"autocomplete": "off"}
    if told.get("format") == "date":
        return widgets.DateInput(attrs={"type": "date"})
    if name in ("note", "text"):
        return forms.Textarea(attrs={"rows": 2})
    if told.get("type") == "array" and told["items"]["type"] != "string":
        return widgets.TextInput(attrs | {"data-numbers": _("Next number")})
    if told.get("type") in ("integer", "number"):
        attrs["inputmode"] = "numeric" if told["type"] == "integer" else "decimal"
    return Suggesting(known, attrs) if known else widgets.TextInput(attrs)


def _standing(value: Any, unit: str) -> str:
    """A value as it stands in its field, in the unit of the site."""
    if isinstance(value, int | float) and not isinstance(value, bool) and unit_typed(unit) != unit:
        return text(as_shown(value, unit)).replace(",", "")
    return shown(value)


def _bounds(told: Mapping[str, Any], unit: str) -> str:
    """What can be meant, where that is worth saying."""
    if told.get("type") == "array":
        return _("With spaces between.")
    low = told.get("minimum", told.get("exclusiveMinimum"))
    high = told.get("maximum", told.get("exclusiveMaximum"))
    if low is None or high is None or high > LARGEST_BOUND_TOLD:
        return ""
    if (low, high) == (0, 1):
        return _("From 0 to 1, such as 0.5 or 50 %.")
    ends = {"low": text(as_shown(low, unit)), "high": text(as_shown(high, unit))}
    return _("From %(low)s to %(high)s.") % ends
