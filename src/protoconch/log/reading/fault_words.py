"""A fault that the payload's rules found, as a sentence in the crew's words."""

from collections.abc import Callable, Mapping
from typing import Any

from protoconch.log.fields import ONE_OF, field_of
from protoconch.log.kinds import KINDS
from protoconch.sources.reading_toml import did_you_mean, shown
from protoconch.words import begun, joined, phrase, say


def sentence_of(kind: str, detail: Mapping[str, Any]) -> str:
    """One sentence for one fault, as pydantic lists it: with loc, type, ctx and input."""
    if detail["type"] == "value_error" and "error" in detail.get("ctx", {}):
        return str(detail["ctx"]["error"])
    location = tuple(detail["loc"])
    what, unit = called(kind, location)
    context = {**detail.get("ctx", {}), "unit": unit}
    if detail["type"] == "extra_forbidden":
        return _unknown_field(kind, location)
    words = _WORDS.get(str(detail["type"]), _cannot)
    return words(begun(what), context, detail["input"])


def called(kind: str, location: tuple[str | int, ...]) -> tuple[str, str]:
    """What the crew call the place of a fault, and its unit."""
    names = [part for part in location if isinstance(part, str)]
    numbers = [part for part in location if isinstance(part, int)]
    if not names:
        return say("the entry"), ""
    field = field_of(kind, names[-1])
    if not numbers:
        return say("the {field}", field=say(field.words)), field.shown_unit
    one = joined([say(ONE_OF.get(names[0], names[0])), str(numbers[0] + 1)])
    if len(names) > 1:
        return say("the {field} of {one}", field=say(field.words), one=one), field.shown_unit
    return one, field.shown_unit


def _unknown_field(kind: str, location: tuple[Any, ...]) -> str:
    name = str(location[-1])[:60]
    known = KINDS[kind].payload.model_fields if kind in KINDS else {}
    hint = did_you_mean(name, known) if len(location) == 1 else ""
    return say("An entry '{kind}' has no field {name}.{hint}", kind=say(kind), name=name, hint=hint)


def _number(value: Any, unit: str) -> str:
    shown_here = f"{value:,.10g}" if isinstance(value, int | float) else str(value)
    return joined([shown_here, unit]) if unit else shown_here


def _choices(what: str, context: Mapping[str, Any], given: Any) -> str:
    expected = str(context.get("expected", "")).replace("''", "nothing").replace("'", "")
    return say(
        "{what} is {given}; it must be one of: {choices}.",
        what=what, given=shown(given), choices=expected.replace(" or ", ", "),
    )  # fmt: skip


def _must(template: str) -> Callable[[str, Mapping[str, Any], Any], str]:
    def said(what: str, _context: Mapping[str, Any], given: Any) -> str:
        return say(template, what=what, given=shown(given))

    return said


_cannot = _must(phrase("{what} is {given}, which cannot be used here."))
_text = _must(phrase("{what} is {given}; it must be text."))
_list = _must(phrase("{what} is {given}; it must be a list."))
_map = _must(phrase("{what} is {given}; it must have fields by name."))
_yes_no = _must(phrase("{what} is {given}; it must be yes or no."))
_whole = _must(phrase("{what} is {given}; it must be a whole number."))
_date = _must(phrase("{what} is {given}; it must be a date such as 2027-07-14."))
_moment = _must(
    phrase("{what} is {given}; it must be a time with its zone, such as 2027-07-14T08:30-05:00.")
)
_entry = _must(phrase("{what} is {given}; it must be the number that an entry carries."))


def _a_number(what: str, context: Mapping[str, Any], given: Any) -> str:
    unit = context["unit"]
    if not unit:
        return say("{what} is {given}; it must be a number.", what=what, given=shown(given))
    return say(
        "{what} is {given}; it must be a number in {unit}.",
        what=what, given=shown(given), unit=unit,
    )  # fmt: skip


def _bound(template: str, key: str) -> Callable[[str, Mapping[str, Any], Any], str]:
    def said(what: str, context: Mapping[str, Any], given: Any) -> str:
        unit = context["unit"]
        here = given if isinstance(given, int | float) else shown(given)
        bound = _number(context.get(key), unit)
        return say(template, what=what, given=_number(here, unit), bound=bound)

    return said


def _length(template: str, key: str) -> Callable[[str, Mapping[str, Any], Any], str]:
    def said(what: str, context: Mapping[str, Any], _given: Any) -> str:
        return say(template, what=what, number=context.get(key))

    return said


_WORDS: dict[str, Callable[[str, Mapping[str, Any], Any], str]] = {
    "missing": _must(phrase("{what} is missing.")),
    "literal_error": _choices,
    "string_type": _text,
    "string_too_long": _length(phrase("{what} must have at most {number} letters."), "max_length"),
    "string_too_short": _must(phrase("{what} is empty.")),
    "too_long": _length(phrase("{what} must have at most {number} members."), "max_length"),
    "too_short": _length(phrase("{what} must have at least {number} member."), "min_length"),
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
    "finite_number": _must(phrase("{what} is not a finite number.")),
    "greater_than": _bound(phrase("{what} is {given}; it must be more than {bound}."), "gt"),
    "greater_than_equal": _bound(phrase("{what} is {given}; it must be at least {bound}."), "ge"),
    "less_than": _bound(phrase("{what} is {given}; it must be less than {bound}."), "lt"),
    "less_than_equal": _bound(phrase("{what} is {given}; it must be at most {bound}."), "le"),
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
