"""Said texts as plain data to keep, and back."""

from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Any

from protoconch.words.joining import _Begun, begun
from protoconch.words.said import Amount, Said, Spoken

MOMENTS: dict[Any, str] = {datetime: "moment", date: "day", time: "time"}
"""A datetime is a date as well, so it comes first."""


def to_plain(text: str) -> Any:
    """A text as what JSON can hold: a plain one as it is, a said one as its parts."""
    if isinstance(text, Said):
        kept: dict[str, Any] = {"say": text.template}
        if text.values:
            kept["with"] = {name: _plain(value) for name, value in text.values.items()}
        if text.number is not None:
            kept |= {"many": text.many, "number": text.number}
        return kept
    if isinstance(text, Amount):
        return {"amount": [text.value, text.unit, text.digits]}
    if isinstance(text, _Begun):
        return {"begun": to_plain(text.of)}
    return text.english if isinstance(text, Spoken) else text


def from_plain(kept: Any) -> str:
    """The text that `to_plain` made data of.

    Raises: ValueError, KeyError or TypeError where the data are no text.
    """
    if not isinstance(kept, Mapping):
        return str(kept)
    if "amount" in kept:
        value, unit, digits = kept["amount"]
        return Amount.of(float(value), str(unit), int(digits))
    if "begun" in kept:
        return begun(from_plain(kept["begun"]))
    values = {name: _valued(value) for name, value in kept.get("with", {}).items()}
    return Said.of(kept["say"], values, kept.get("many", ""), kept.get("number"))


def _plain(value: Any) -> Any:
    if isinstance(value, str):
        return to_plain(value)
    for kind, name in MOMENTS.items():
        if isinstance(value, kind):
            return {name: value.isoformat()}
    if isinstance(value, bool | int | float) or value is None:
        return value
    return value.item() if hasattr(value, "item") else str(value)  # item: a number of an array


def _valued(kept: Any) -> Any:
    if not isinstance(kept, Mapping):
        return kept
    for kind, name in MOMENTS.items():
        if name in kept:
            return kind.fromisoformat(kept[name])
    return from_plain(kept)
