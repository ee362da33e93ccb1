"""A whole entry from what was sent, and back to what can be sent or kept."""

from collections.abc import Mapping
from datetime import datetime, timedelta, timezone
from typing import Any
from uuid import UUID

from protoconch.errors import BadInput
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import Vessel, vessels
from protoconch.log.entry import Entry
from protoconch.log.kinds import ALGAE, HOLDS, KINDS, Kind
from protoconch.log.payloads.payload import Payload
from protoconch.log.payloads.words import Correction
from protoconch.log.reading.payloads import fields_typed, payload_or_faults
from protoconch.log.reading.places import payload_place_faults, place_fault
from protoconch.log.reading.plain_values import faults_of
from protoconch.sources.reading_toml import did_you_mean, shown
from protoconch.words import joined, say

KEYS = ("id", "kind", "happened", "arrived", "who", "where", "payload", "task",
        "unasked")  # fmt: skip
LONGEST_NAME, LONGEST_TASK = 80, 300
EXAMPLE = "2027-07-14T08:30-05:00"


def read_entry(
    raw: Mapping[str, Any], hatchery: Hatchery | Mapping[str, Vessel], *,
    corrected: Entry | None = None,
) -> Entry:  # fmt: skip
    """The entry that was sent, found sound.

    raw: id, kind, happened, arrived, who, where, payload and task, as JSON or a form has them.
        happened and arrived are texts with a zone, or aware datetimes.
    hatchery: or its vessels by name, where many entries are read.
    corrected: the entry that a correction points at, so that its new content can be judged.
    Raises: BadInput; its text has one sentence a line for every fault.
    """
    known = hatchery if isinstance(hatchery, Mapping) else {v.name: v for v in vessels(hatchery)}
    faults = faults_of({key: raw.get(key) for key in KEYS if key != "payload"}, say("The entry"))
    if faults:
        raise BadInput(joined(faults, "\n"))
    for key in sorted(str(key) for key in raw.keys() - set(KEYS)):
        faults.append(
            say("An entry has no field {key}.{near}", key=key[:60], near=did_you_mean(key, KEYS))
        )
    identity = _identity(raw.get("id"), faults)
    happened = _moment(raw.get("happened"), say("time it happened"), faults)
    arrived = _moment(raw.get("arrived"), say("time it arrived"), faults)
    who = _words(raw.get("who"), say("name of the person"), LONGEST_NAME, faults, needed=True)
    where = _words(raw.get("where"), say("place"), LONGEST_NAME, faults)
    task = _words(raw.get("task"), say("task"), LONGEST_TASK, faults)
    kind = _kind(raw.get("kind"), faults)
    unasked = _yes(raw.get("unasked"), "unasked", faults)
    payload: Payload | None = None
    if kind is not None:
        fault = place_fault(kind, where, known)
        faults += [fault] if fault else []
        payload, said = payload_or_faults(kind, raw.get("payload"))
        faults += said
        faults += payload_place_faults(kind, named_vessels(kind, raw.get("payload")), known)
        if isinstance(payload, Correction) and corrected is not None:
            faults += correction_faults(payload, corrected, known)
    if faults or identity is None or happened is None or arrived is None:
        raise BadInput(joined(dict.fromkeys(faults), "\n"))
    assert kind is not None  # noqa: S101 - a missing kind is a fault above
    assert payload is not None  # noqa: S101
    return Entry(identity, kind.name, happened, arrived, who, where, payload, task, unasked)


def correction_faults(
    correction: Correction, corrected: Entry, known: Mapping[str, Vessel]
) -> list[str]:
    """What is wrong with the new content that a correction gives to an entry."""
    kind = KINDS[corrected.kind]
    faults: list[str] = []
    if correction.where is not None:
        fault = place_fault(kind, correction.where, known)
        faults += [fault] if fault else []
    if correction.payload is not None:
        payload, said = payload_or_faults(kind, correction.payload)
        faults += said
        faults += payload_place_faults(kind, named_vessels(kind, correction.payload), known)
        if kind.name in ("correction", "confirmed") and payload is not None:
            faults += _turned(payload, corrected)
    return faults


def _turned(payload: Payload, corrected: Entry) -> list[str]:
    if getattr(payload, "of", None) == getattr(corrected.payload, "of", None):
        return []
    return [
        say("A correction cannot be turned to another entry; take it back and write a new one.")
    ]


def named_vessels(kind: Kind, raw: object) -> dict[str, str]:
    """Vessels that a payload names besides the place of its entry, and their kinds by "|"."""
    fields = fields_typed(kind, raw)
    holds, algae = "|".join(HOLDS), "|".join(ALGAE)
    if kind.name == "moved":
        return {name: holds for name in _list(fields.get("to")) if name and isinstance(name, str)}
    if kind.name == "graded":
        return dict.fromkeys(_names_in(fields.get("classes"), "to"), holds)
    if kind.name == "inoculated" and fields.get("inoculum_l") is not None:
        return dict.fromkeys(_names_in([fields], "source"), algae)
    if kind.name == "fed":
        return dict.fromkeys(_names_in(fields.get("foods"), "culture"), algae)
    return {}


def _names_in(parts: Any, key: str) -> list[str]:
    named = (part.get(key) for part in _list(parts) if isinstance(part, Mapping))
    return [name for name in named if isinstance(name, str) and name]


def _list(value: Any) -> list[Any]:
    return list(value) if isinstance(value, list | tuple) else []


def written(entry: Entry) -> dict[str, Any]:
    """The entry as values that JSON can hold; `read_entry` and `stored` give it back unchanged."""
    return {
        "id": str(entry.id),
        "kind": entry.kind,
        "happened": entry.happened.isoformat(),
        "arrived": entry.arrived.isoformat(),
        "who": entry.who,
        "where": entry.where,
        "payload": entry.payload.model_dump(mode="json", exclude_defaults=True),
        "task": entry.task,
        "unasked": entry.unasked,
    }


def stored(raw: Mapping[str, Any]) -> Entry:
    """An entry as `written` gave it, quickly, not asked again whether the hatchery allows it.

    For what was found sound when it came in: the vessels may have changed since.
    Raises: BadInput, where it is no entry of the log at all.
    """
    try:
        return Entry(
            UUID(raw["id"]),
            raw["kind"],
            datetime.fromisoformat(raw["happened"]),
            datetime.fromisoformat(raw["arrived"]),
            raw["who"],
            raw["where"],
            KINDS[raw["kind"]].payload.model_validate(raw["payload"]),
            raw["task"],
            raw.get("unasked", False),
        )
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise BadInput(
            say("This is no entry of the log: {entry}.", entry=shown(str(raw.get("id", raw))))
        ) from error


def _identity(value: Any, faults: list[str]) -> UUID | None:
    try:
        return value if isinstance(value, UUID) else UUID(str(value))
    except ValueError:
        if value in (None, ""):
            faults.append(
                say("The number of the entry is missing; the program makes it, 32 digits (a UUID).")
            )
        else:
            faults.append(
                say(
                    "The number of the entry is {value}; the program makes it, 32 digits (a UUID).",
                    value=shown(value),
                )
            )
        return None


def _kind(value: Any, faults: list[str]) -> Kind | None:
    if isinstance(value, str) and value in KINDS:
        return KINDS[value]
    if value in (None, ""):
        faults.append(say("The kind of entry is missing."))
    else:
        near = did_you_mean(str(value), KINDS)
        faults.append(
            say("There is no kind of entry {value}.{near}", value=shown(value), near=near)
        )
    return None


def _words(value: Any, name: str, most: int, faults: list[str], *, needed: bool = False) -> str:
    if value is None or value == "":
        if needed:
            faults.append(say("The {name} is missing.", name=name))
        return ""
    if not isinstance(value, str):
        faults.append(say("The {name} must be text, not {value}.", name=name, value=shown(value)))
        return ""
    text = value.strip()
    if len(text) > most:
        faults.append(say("The {name} is longer than {most} letters.", name=name, most=most))
    if needed and not text:
        faults.append(say("The {name} is missing.", name=name))
    return text


def _yes(value: Any, name: str, faults: list[str]) -> bool:
    if value in (None, "", False, True):
        return value is True
    if value in ("yes", "no"):
        return bool(value == "yes")
    faults.append(
        say("The mark {name} is {value}; it is yes or no.", name=name, value=shown(str(value)))
    )
    return False


def _moment(value: Any, name: str, faults: list[str]) -> datetime | None:
    if value is None or value == "":
        faults.append(
            say(
                "The {name} is missing; write it with its zone, such as {example}.",
                name=name,
                example=EXAMPLE,
            )
        )
        return None
    try:
        moment = (
            value if isinstance(value, datetime) else datetime.fromisoformat(str(value).strip())
        )
        offset = moment.utcoffset()
        if offset is not None:
            _ = moment - timedelta(days=1), moment + timedelta(days=1)
            return moment.astimezone(timezone(offset))
    except (ValueError, OverflowError):
        faults.append(
            say(
                "The {name} is {value}; write it such as {example}.",
                name=name,
                value=shown(value),
                example=EXAMPLE,
            )
        )
        return None
    faults.append(
        say(
            "The {name}, {value}, has no zone, so it is not known when that was; write it "
            "such as {example}.",
            name=name,
            value=shown(str(value)),
            example=EXAMPLE,
        )
    )
    return None
