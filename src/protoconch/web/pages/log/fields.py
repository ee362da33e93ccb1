"""The fields of an entry in words, as its own page lists them."""

from collections.abc import Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from protoconch.log.entry import Entry
from protoconch.log.fields import ONE_OF, field_of
from protoconch.units import text
from protoconch.words import say

HIDDEN = ("payload",)


def told_fields(entry: Entry) -> tuple[tuple[str, str], ...]:
    """Each field that was filled, by its name, with its value and unit."""
    content = entry.payload.model_dump(mode="json", exclude_defaults=True)
    return tuple(_told(entry.kind, content))


def _told(kind: str, content: Mapping[str, Any], one: str = "") -> Iterator[tuple[str, str]]:
    for name, value in content.items():
        if name in HIDDEN:
            continue
        field = field_of(kind, name)
        if isinstance(value, list) and any(isinstance(part, Mapping) for part in value):
            for number, part in enumerate(value, 1):
                yield from _told(kind, part, f"{say(ONE_OF.get(name, name))} {number}")
        else:
            words = str(say(field.words))
            words = f"{one}, {words}" if one else words
            yield words[:1].upper() + words[1:], _value(value, field.shown_unit)


def _value(value: Any, unit: str) -> str:
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, list):
        parts = ", ".join(_value(part, "") for part in value)
        return f"{parts} {unit}".strip()
    if isinstance(value, int | float):
        return text(value, unit or "1")
    return str(value)
