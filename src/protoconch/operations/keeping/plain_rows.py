"""Rows of the tables as plain values that JSON can hold, and back, the same on every database."""

from base64 import b64decode, b64encode
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.apps import apps
from django.db.models import BinaryField, DateTimeField, Field, Model

from protoconch.errors import BrokenRecords
from protoconch.words import say

MADE_ANEW = ("Snapshot", "Answer", "Tries")
"""Tables that hold nothing which cannot be worked out again, or nothing worth keeping."""


def kept_tables() -> dict[str, type[Model]]:
    """The tables that a backup holds, by name, each after those that its rows point at."""
    models = [m for m in apps.get_app_config("records").get_models() if m.__name__ not in MADE_ANEW]
    found: dict[str, type[Model]] = {}
    while models:
        ready = [m for m in models if not (_pointed_at(m) - {m}) & set(models)]
        for model in ready:
            found[model.__name__.lower()] = model
            models.remove(model)
    return found


def _pointed_at(model: type[Model]) -> set[type[Model]]:
    return {f.related_model for f in columns(model) if isinstance(f.related_model, type)}


def columns(model: type[Model]) -> "list[Field[Any, Any]]":
    """The columns of a table."""
    return list(model._meta.concrete_fields)  # noqa: SLF001 - Django's own name for them


def plain(row: Model) -> dict[str, Any]:
    """A row as values that JSON can hold."""
    return {field.attname: _plain(getattr(row, field.attname)) for field in columns(type(row))}


def _plain(value: Any) -> Any:
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, UUID):
        return str(value)
    if isinstance(value, bytes | memoryview | bytearray):
        return b64encode(bytes(value)).decode("ascii")
    return value


def row(model: type[Model], values: Mapping[str, Any]) -> Model:
    """The row that `plain` made these values of, not saved.

    Raises: BrokenRecords, where it has columns that this version does not know.
    """
    known = {field.attname: field for field in columns(model)}
    strange = sorted(set(values) - set(known))
    if strange:
        raise BrokenRecords(
            say(
                "The backup has a column {strange} that this version of Protoconch does not "
                "know: restore it with the version that made it, or a newer one.",
                strange=strange[0],
            )
        )
    return model(**{name: _value(known[name], value) for name, value in values.items()})


def _value(field: "Field[Any, Any]", value: Any) -> Any:
    if value is None:
        return None
    if isinstance(field, BinaryField):
        return b64decode(value)
    if isinstance(field, DateTimeField):
        return datetime.fromisoformat(value)
    return field.to_python(value)
