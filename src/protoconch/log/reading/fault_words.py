"""A fault that the payload's rules found, as a sentence in the crew's words."""

from collections.abc import Callable, Mapping
from typing import Any

from protoconch.log.fields import ONE_OF, field_of
from protoconch.log.kinds import KINDS
from protoconch.sources.reading_toml import did_you_mean, shown


def sentence_of(kind: str, detail: Mapping[str, Any]) -> str:
    """One sentence for one fault, as pydantic lists it: with loc, type, ctx and input."""
    if detail["type"] == "value_error" and "error" in detail.get("ctx", {}):
        return str(detail["ctx"]["error"])
    location = tuple(detail["loc"])
    what, unit = called(kind, location)
    context = {**detail.get("ctx", {}), "unit": f" {unit}" if unit else ""}
    if detail["type"] == "extra_forbidden":
        return _unknown_field(kind, location)
    words = _WORDS.get(str(detail["type"]), _cannot)
    return f"{what[:1].upper()}{what[1:]} {words(context, detail['input'])}"


def called(kind: str, location: tuple[str | int, ...]) -> tuple[str, str]:
    """What the crew call the place of a fault, and its unit."""
    names = [part for part in location if isinstance(part, str)]
    numbers = [part for part in location if isinstance(part, int)]
    if not names:
        return "the entry", ""
    field = field_of(kind, names[-1])
    if not numbers:
        return f"the {field.words}", field.shown_unit
    one = f"{ONE_OF.get(names[0], names[0])} {numbers[0] + 1}"
    if len(names) > 1:
        return f"the {field.words} of {one}", field.shown_unit
    return one, field.shown_unit


def _unknown_field(kind: str, location: tuple[Any, ...]) -> str:
    name = str(location[-1])[:60]
    known = KINDS[kind].payload.model_fields if kind in KINDS else {}
    hint = did_you_mean(name, known) if len(location) == 1 else ""
    return f"An entry '{kind}' has no field {name}.{hint}"


def _number(value: Any) -> str:
    return f"{value:,.10g}" if isinstance(value, int | float) else str(value)


def _choices(context: Mapping[str, Any], given: Any) -> str:
    expected = str(context.get("expected", "")).replace("''", "nothing").replace("'", "")
    return f"is {shown(given)}; it must be one of: {expected.replace(' or ', ', ')}."


def _cannot(_context: Mapping[str, Any], given: Any) -> str:
    return f"is {shown(given)}, which cannot be used here."


def _text(_context: Mapping[str, Any], given: Any) -> str:
    return f"is {shown(given)}; it must be text."


def _list(_context: Mapping[str, Any], given: Any) -> str:
    return f"is {shown(given)}; it must be a list."


def _map(_context: Mapping[str, Any], given: Any) -> str:
    return f"is {shown(given)}; it must have fields by name."


def _yes_no(_context: Mapping[str, Any], given: Any) -> str:
    return f"is {shown(given)}; it must be yes or no."


def _a_number(context: Mapping[str, Any], given: Any) -> str:
    unit = context["unit"]
    return f"is {shown(given)}; it must be a number{' in' + unit if unit else ''}."


def _whole(_context: Mapping[str, Any], given: Any) -> str:
    return f"is {shown(given)}; it must be a whole number."


def _date(_context: Mapping[str, Any], given: Any) -> str:
    return f"is {shown(given)}; it must be a date such as 2027-07-14."


def _moment(_context: Mapping[str, Any], given: Any) -> str:
    return f"is {shown(given)}; it must be a time with its zone, such as 2027-07-14T08:30-05:00."


def _entry(_context: Mapping[str, Any], given: Any) -> str:
    return f"is {shown(given)}; it must be the number that an entry carries."


def _bound(words: str, key: str) -> Callable[[Mapping[str, Any], Any], str]:
    def said(context: Mapping[str, Any], given: Any) -> str:
        unit = context["unit"]
        here = _number(given) if isinstance(given, int | float) else shown(given)
        return f"is {here}{unit}; it must be {words} {_number(context.get(key))}{unit}."

    return said


def _length(words: str, key: str, noun: str) -> Callable[[Mapping[str, Any], Any], str]:
    def said(context: Mapping[str, Any], _given: Any) -> str:
        return f"must have {words} {context.get(key)} {noun}."

    return said


_WORDS: dict[str, Callable[[Mapping[str, Any], Any], str]] = {
    "missing": lambda _context, _given: "is missing.",
    "literal_error": _choices,
    "string_type": _text,
    "string_too_long": _length("at most", "max_length", "letters"),
    "string_too_short": lambda _context, _given: "is empty.",
    "too_long": _length("at most", "max_length", "members"),
    "too_short": _length("at least", "min_length", "member"),
    "tuple_type": _list,
    "dict_type": _map,
    "model_type": _map,
    "model_attributes_type": _map,
    "bool_type": _yes_no,
    "bool_parsing": _yes_no,
    "int_type": _whole,
    "int_parsing": _whole,
    "int_parsing_size": _whole,
    "int_from_float": _whole,
    "float_type": _a_number,
    "float_parsing": _a_number,
    "finite_number": lambda _context, _given: "is not a finite number.",
    "greater_than": _bound("more than", "gt"),
    "greater_than_equal": _bound("at least", "ge"),
    "less_than": _bound("less than", "lt"),
    "less_than_equal": _bound("at most", "le"),
    "date_type": _date,
    "date_parsing": _date,
    "date_from_datetime_parsing": _date,
    "date_from_datetime_inexact": _date,
    "datetime_type": _moment,
    "datetime_parsing": _moment,
    "datetime_from_date_parsing": _moment,
    "datetime_object_invalid": _moment,
    "timezone_aware": _moment,
    "uuid_type": _entry,
    "uuid_parsing": _entry,
}
