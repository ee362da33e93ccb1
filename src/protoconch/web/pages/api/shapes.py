"""What the API takes and answers."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from math import isfinite
from typing import Any
from uuid import UUID

from ninja import Schema
from pydantic import BaseModel, Field

from protoconch.log.reading import written
from protoconch.records.models import Entry as Row
from protoconch.records.queries.log import entries

MOST_AT_ONCE = 500


class Refused(Schema):
    """Why something was not done, in sentences."""

    sentences: list[str]


class EntryShape(Schema):
    """An entry of the log as it was written. number: order of arrival in this log."""

    number: int
    id: UUID
    kind: str
    happened: datetime
    arrived: datetime
    who: str
    where: str
    task: str
    payload: dict[str, Any]


class Entries(Schema):
    """Entries, and the number after which the next ones come; none where these are the last."""

    entries: list[EntryShape]
    next: int | None


class NewEntries(Schema):
    """Entries to add: each with id, kind, happened, where, task and payload."""

    entries: list[dict[str, Any]] = Field(max_length=MOST_AT_ONCE)
    sure: bool = False


class AnswerShape(Schema):
    """What became of one entry: "added", "there already", "refused" or "unlikely", and why."""

    id: str
    outcome: str
    sentences: list[str]


class Answers(Schema):
    """What became of each entry, in their order."""

    answers: list[AnswerShape]


def entry_shapes(rows: list[Row]) -> list[dict[str, Any]]:
    """Rows of the log as the API answers them."""
    return [
        {"number": row.number, **written(entry)}
        for row, entry in zip(rows, entries(rows), strict=True)
    ]


def plain(value: Any) -> Any:  # noqa: PLR0911 - one line for each sort of value
    """Any result of the model as values that JSON can hold; what is not finite is null."""
    if is_dataclass(value):
        return {one.name: plain(getattr(value, one.name)) for one in fields(value)}
    if isinstance(value, BaseModel):
        return value.model_dump(mode="json")
    if isinstance(value, Mapping):
        if all(isinstance(key, str) for key in value):
            return {key: plain(inner) for key, inner in value.items()}
        return [plain(inner) for inner in value.values()]
    if isinstance(value, list | tuple | set | frozenset):
        parts = [plain(inner) for inner in value]
        return sorted(parts, key=str) if isinstance(value, set | frozenset) else parts
    if isinstance(value, float):
        return value if isfinite(value) else None
    if isinstance(value, datetime | date):
        return value.isoformat()
    if value is None or isinstance(value, str | int):
        return value
    return plain(value.tolist()) if hasattr(value, "tolist") else str(value)
