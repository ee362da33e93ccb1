"""A form that was kept on a phone becomes entries, with the time that it happened."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.http import QueryDict
from django.urls import Resolver404, resolve, reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from protoconch.errors import BadInput
from protoconch.log.state import Doubt
from protoconch.operations.phone_clock import Moment, Unclear, when
from protoconch.operations.recording import Answer, record
from protoconch.records.models import Person
from protoconch.records.queries.log import state
from protoconch.web.pages.carried.noted import noted
from protoconch.web.pages.log.choices import kind_of
from protoconch.web.pages.log.typed import moment, raw_entry
from protoconch.web.pages.today.lines import line_id
from protoconch.web.pages.today.settling import raw_entries
from protoconch.web.pages.today.way_forms import sent_form

APART = timedelta(milliseconds=1)
"""Between the entries of one form, which happen in their order."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of a form that was kept.

    outcome: "saved", "there" (it had come before), "doubtful" (in the log, and at odds with
    something), "refused", "when" (a person must say when it happened). sentences: why, and what was
    put right. entries: where to look at them. choices: moments it may have happened at.
    """

    outcome: str
    sentences: tuple[str, ...] = ()
    entries: tuple[str, ...] = ()
    choices: tuple[datetime, ...] = ()


def taken(person: Person, sent: QueryDict, now: datetime) -> Taken:
    """The entries of a form are in the log when this says so; sent again, it says "there".

    sent: the fields of the form as they were typed, with carried.address, where the form would have
    gone, carried.when, what a person said when it happened, and what `noted` reads.
    """
    zone = ZoneInfo(person.site.zone)
    try:
        found = _happened(sent, now, zone)
    except (KeyError, ValueError, OverflowError):
        return Taken("refused", (_("This phone sent no time that can be read; say when it was."),))
    if isinstance(found, Unclear):
        return Taken("when", (found.sentence,), choices=found.choices)
    try:
        raw = _raw(sent, found.happened)
    except BadInput as fault:
        return Taken("refused", tuple(str(fault).splitlines()))
    answers = record(person, [one | {"unasked": True} for one in raw], now)
    return _told(person, answers, found.sentence)


def _happened(sent: QueryDict, now: datetime, zone: ZoneInfo) -> Moment | Unclear:
    """When the form was filled in. Raises: KeyError, ValueError, OverflowError."""
    said = sent.get("carried.when", "")
    if said:
        return Moment(datetime.fromisoformat(moment(str(said), now)))
    typed, at = noted({key: str(sent[key]) for key in sent if key.startswith("carried.")})
    if sent.get("happened"):  # the form says itself when it was, by the site's clock
        return Moment(min(typed.at, now))
    return when(typed, at, now, zone)


def _raw(sent: QueryDict, happened: datetime) -> list[dict[str, Any]]:
    """The entries that a form tells of. Raises: BadInput, every fault a line."""
    try:
        match = resolve(str(sent.get("carried.address", "")))
    except Resolver404:
        raise BadInput(_not_carried()) from None
    if match.view_name == "today:settle":
        key = str(sent.get("task", ""))
        raw = raw_entries(sent_form(sent, line_id(key)), sent, key, happened)
    elif match.view_name == "log:add":
        kind = kind_of(match.kwargs["slug"])
        if kind is None:
            raise BadInput(_not_carried())
        raw = [raw_entry(sent, happened) | {"kind": kind.name}]
    else:
        raise BadInput(_not_carried())
    return [
        one if n == 0 else one | {"happened": _later(one["happened"], n * APART)}
        for n, one in enumerate(raw)
    ]


def _later(told: str, by: timedelta) -> str:
    try:
        return (datetime.fromisoformat(told) + by).isoformat()
    except (ValueError, OverflowError):
        return told


def _told(person: Person, answers: Sequence[Answer], put_right: str) -> Taken:
    refused = [one for answer in answers if answer.outcome == "refused" for one in answer.sentences]
    entries = [answer.entry.id for answer in answers if answer.entry is not None]
    looks = tuple(reverse("log:entry", args=[one]) for one in entries)
    said = (put_right,) if put_right else ()
    if refused:
        return Taken("refused", (*dict.fromkeys(refused),), looks)
    doubts = [one for one in state(person.site).doubts if set(one.entries) & set(entries)]
    otherwise = [sentence for answer in answers for sentence in answer.sentences]
    if doubts or otherwise:
        at_odds = (*otherwise, *(_doubted(doubt) for doubt in doubts))
        return Taken("doubtful", (*said, *dict.fromkeys(at_odds)), looks)
    new = any(answer.outcome == "added" for answer in answers)
    return Taken("saved" if new else "there", said, looks)


def _doubted(doubt: Doubt) -> str:
    return doubt.sentence[:1].upper() + doubt.sentence[1:]


def _not_carried() -> str:
    return _("This form cannot be sent later; open its page and enter it there.")


def local(at: datetime) -> str:
    """A moment by the site's clock, as a field for it has it."""
    return timezone.localtime(at).replace(tzinfo=None).isoformat(timespec="minutes")
