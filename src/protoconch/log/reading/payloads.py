"""A payload from what was typed; every fault in the crew's words."""

import re
from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from protoconch.errors import BadInput
from protoconch.log.fields import field_of
from protoconch.log.kinds import Kind
from protoconch.log.payloads.payload import Payload
from protoconch.log.payloads.water import QUANTITIES
from protoconch.log.reading.fault_words import called, sentence_of
from protoconch.log.reading.plain_values import faults_of
from protoconch.units import ends, quantity, text
from protoconch.words import begun, joined, say

LISTS = ("aliquots", "dead", "lengths_mm", "loadings")
HEAPS = ("foods", "classes")
BETWEEN = re.compile(r"\s*[;\n]\s*|\s*,\s+|\s+")
BETWEEN_NAMES = re.compile(r"\s*[;,\n]\s*")


def read_payload(kind: Kind, raw: object) -> Payload:
    """The payload of an entry of that kind.

    raw: a map of its fields. Numbers may be typed with a unit ("5 mL"), and lists of numbers as
        one text ("12; 15; 11").
    Raises: BadInput, with every fault, one sentence a line.
    """
    payload, faults = payload_or_faults(kind, raw)
    if payload is None:
        raise BadInput(joined(faults, "\n"))
    return payload


def payload_or_faults(kind: Kind, raw: object) -> tuple[Payload | None, list[str]]:
    """The payload, or None with all that is wrong with it."""
    if not isinstance(raw, Mapping):
        return None, [
            say("What was {kind} is missing: give its fields by name.", kind=say(kind.name))
        ]
    faults = faults_of(raw, say("The entry"))
    if faults:
        return None, faults
    typed = _Typed(kind.name)
    fields = {str(name): typed.value((str(name),), value) for name, value in raw.items()}
    said = list(typed.faults.values())
    try:
        payload = kind.payload.model_validate(fields)
    except ValidationError as error:
        details = error.errors(include_url=False, include_context=True)
        said += [sentence_of(kind.name, d) for d in details if d["loc"] not in typed.faults]
        return None, list(dict.fromkeys(said))
    said += _outside(payload)
    return (None, said) if said else (payload, [])


def fields_typed(kind: Kind, raw: object) -> dict[str, Any]:
    """The fields as they were understood, sound or not: lists that were typed as text as lists."""
    typed = _Typed(kind.name)
    if not isinstance(raw, Mapping):
        return {}
    return {str(name): typed.value((str(name),), value) for name, value in raw.items()}


class _Typed:
    """Turns texts to numbers and lists where the field is one, and notes where it cannot."""

    def __init__(self, kind: str) -> None:
        self.kind = kind
        self.faults: dict[tuple[str | int, ...], str] = {}

    def value(self, at: tuple[str | int, ...], value: Any) -> Any:
        """The value of the field at that place."""
        name = str(at[-1])
        if name in HEAPS and isinstance(value, list | tuple):
            return [self._part((*at, i), part) for i, part in enumerate(value)]
        if name in LISTS and isinstance(value, str):
            value = [part for part in BETWEEN.split(value.strip()) if part]
        elif isinstance(value, str) and (name == "masses" or (self.kind, name) == ("moved", "to")):
            return [part for part in BETWEEN_NAMES.split(value.strip()) if part]
        if not field_of(self.kind, name).is_number:
            return value
        if name in LISTS and isinstance(value, list | tuple):
            return [self._number((*at, i), part) for i, part in enumerate(value)]
        return self._number(at, value)

    def _part(self, at: tuple[str | int, ...], part: Any) -> Any:
        if not isinstance(part, Mapping):
            return part
        return {str(key): self.value((*at, str(key)), inner) for key, inner in part.items()}

    def _number(self, at: tuple[str | int, ...], value: Any) -> Any:
        if not isinstance(value, str):
            return value
        words, unit = called(self.kind, at)
        try:
            return quantity(value, unit or "1", words)
        except BadInput as error:
            self.faults[at] = error.sentence
            return value


def _outside(payload: Payload) -> list[str]:
    """What no instrument can have shown."""
    name, value = getattr(payload, "quantity", ""), getattr(payload, "value", None)
    if name not in QUANTITIES or value is None:
        return []
    unit, low, high = QUANTITIES[name]
    if low <= value <= high:
        return []
    lowest, highest = ends(low, high, unit, 6)
    said = say(
        "{name} is {value}, which no instrument shows; it lies between {low} and {high}.",
        name=begun(say(name)), value=text(value, unit, 6), low=lowest, high=highest,
    )  # fmt: skip
    return [said]
