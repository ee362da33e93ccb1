"""Adding to the log."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from protoconch.log.entry import Entry
from protoconch.records.models import Person


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of one raw entry.

    outcome: "added"; "there already" (the same id was sent before); "refused", with the reasons;
    "unlikely", with what is odd: it is added when sent again with `sure`.
    """

    outcome: str
    sentences: tuple[str, ...] = ()
    entry: Entry | None = None


def record(
    person: Person, raw: Sequence[Mapping[str, Any]], now: datetime, *, sure: bool = False
) -> tuple[Answer, ...]:
    """Add entries to the log, each judged by what the state was when it happened.

    raw: mappings with id, kind, happened, where, task and payload; who is the person unless a
    shared tablet's `who` names another person of the site. One answer for each, in order.
    """
    raise NotImplementedError
