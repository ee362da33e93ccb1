"""A raw entry from what a form sent, as JSON would have it."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.utils import timezone

from protoconch.log.fields import field_of
from protoconch.web.shell.reading import with_unit

DEEPEST = 6
MOST_MEMBERS = 3000


def raw_entry(sent: Mapping[str, str], now: datetime) -> dict[str, Any]:
    """The entry that a form tells of.

    sent: id, kind, where, task, happened (the site's clock, empty for now) and the fields of the
    payload by their path, "payload.foods.0.litres"; what is empty was not told.
    """
    raw: dict[str, Any] = {
        key: sent.get(key, "").strip() for key in ("id", "kind", "where", "task")
    }
    raw["happened"] = moment(sent.get("happened", ""), now)
    raw["payload"] = payload(sent)
    return raw


def payload(sent: Mapping[str, str]) -> dict[str, Any]:
    """The payload that the fields of a form tell, with lists where the path has numbers."""
    tree: dict[str, Any] = {}
    for name in sent:
        path = name.split(".")
        value = sent[name].strip()
        if path[0] == "payload" and 1 < len(path) <= DEEPEST and value:
            _put(tree, path[1:], with_unit(value, _unit(sent.get("kind", ""), path)))
    told: dict[str, Any] = _lists(tree)
    return told


def _unit(kind: str, path: list[str]) -> str:
    """The unit of the field at a path, empty where it has none."""
    name = next((part for part in reversed(path) if not part.isdigit()), "")
    return field_of(kind, name).shown_unit


def moment(typed: str, now: datetime) -> str:
    """The time typed by the site's clock, with its zone; now where nothing was typed."""
    if not typed.strip():
        return now.isoformat()
    try:
        read = datetime.fromisoformat(typed.strip())
        aware = read if read.tzinfo else timezone.make_aware(read)
    except (ValueError, OverflowError):
        return typed
    return aware.isoformat()


def _put(tree: dict[str, Any], path: list[str], value: str) -> None:
    for key in path[:-1]:
        inner = tree.setdefault(key, {})
        if not isinstance(inner, dict):
            return
        tree = inner
    tree[path[-1]] = value


def _lists(tree: Any) -> Any:
    """The same, with every part whose keys are all numbers as a list in their order."""
    if not isinstance(tree, dict):
        return tree
    inner = {key: _lists(part) for key, part in tree.items()}
    if inner and len(inner) <= MOST_MEMBERS and all(_is_index(key) for key in inner):
        return [inner[key] for key in sorted(inner, key=int)]
    return inner


def _is_index(key: str) -> bool:
    return key.isascii() and key.isdigit() and len(key) <= len(str(MOST_MEMBERS))
