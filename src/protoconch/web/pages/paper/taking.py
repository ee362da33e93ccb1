"""A typed sheet is taken: all its lines together, each with its own answer."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from itertools import groupby
from typing import Any

from django.db import transaction
from django.http import QueryDict
from django.utils import timezone
from django.utils.translation import gettext as _

from protoconch.errors import BadInput
from protoconch.log.sentences import sentence
from protoconch.log.state import State
from protoconch.operations.people.roles import hands
from protoconch.operations.recording import Answer, record
from protoconch.records.models import Person, Role
from protoconch.records.queries.log import state
from protoconch.web.pages.log.typed import moment
from protoconch.web.pages.paper.typed_lines import (
    DONE,
    NOT_DONE,
    TypedLine,
    ids,
    own_part,
    sent_lines,
    touched,
)
from protoconch.web.pages.today.days import HOURS
from protoconch.web.pages.today.way_forms import EntryBlanks, payload_of
from protoconch.work.entries.asked import filled

WORST = ("refused", "unlikely", "added", "there already")


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet as it was sent: the day it is of, who is at the screen, who wrote on it, and when."""

    day: date
    person: Person
    who: str
    now: datetime
    sent: QueryDict


def take(person: Person, sent: QueryDict, day: date) -> tuple[TypedLine, ...]:
    """What became of each line that was sent; those that stand are in the log.

    Raises: BadInput, where the form is none of ours.
    """
    sheet = Sheet(day, person, sent.get("written", "").strip(), timezone.now(), sent)
    lines = sent_lines(sent)
    present = state(person.site)
    wanted: list[tuple[TypedLine, list[dict[str, Any]]]] = []
    for line in lines:
        if _entered_by_another(line, present):
            continue
        try:
            raw = _raw(line, sheet)
        except BadInput as fault:
            line.outcome, line.sentences = "refused", tuple(str(fault).splitlines())
            continue
        if raw:
            wanted.append((line, raw))
    wanted.sort(key=lambda part: part[1][0]["happened"])
    with transaction.atomic():
        for sure, part in groupby(wanted, key=lambda each: bool(each[0].marked["sure"])):
            _record(list(part), sheet, sure=sure)
    return lines


def status_of(lines: Sequence[TypedLine]) -> int:
    """How the answer to a sheet is marked: 422 or 409 where a line was not taken."""
    outcomes = {line.outcome for line in lines}
    return 422 if "refused" in outcomes else 409 if "unlikely" in outcomes else 200


def names_here(person: Person) -> list[str]:
    """Who may have written on a sheet: the person at the screen first."""
    others = [one.name for one in hands(person.site) if one.name != person.name]
    return [person.name, *others] if not person.tablet else others


def _record(
    part: list[tuple[TypedLine, list[dict[str, Any]]]], sheet: Sheet, *, sure: bool
) -> None:
    raws = [raw for _line, own in part for raw in own]
    found = iter(record(sheet.person, raws, sheet.now, sure=sure))
    for line, own in part:
        answers = [next(found) for _raw in own]
        line.outcome = next(o for o in WORST if any(a.outcome == o for a in answers))
        line.saved = tuple(sentence(a.entry) for a in answers if a.entry is not None
                           and a.outcome in ("added", "there already"))  # fmt: skip
        _tell(line, answers, [raw["id"] for raw in own])


def _tell(line: TypedLine, answers: Sequence[Answer], sent: Sequence[str]) -> None:
    """Put what was said at its field, or above the line."""
    by_id = {entry.id: entry for entry in line.entries}
    said: list[str] = []
    for answer, id_ in zip(answers, sent, strict=True):
        if answer.outcome == "refused" and id_ in by_id:
            by_id[id_].form.tell(answer.sentences)
        elif answer.outcome in ("refused", "unlikely"):
            said += answer.sentences
    line.sentences = tuple(dict.fromkeys(said))


def _entered_by_another(line: TypedLine, present: State) -> bool:
    """Whether the line was settled by an entry that this form did not make; nothing is added."""
    settled = present.settled.get(line.key) if line.key else None
    if settled is None or str(settled.entry) in ids(line):
        return False
    line.settled, line.outcome = settled, "other"
    return True


def _raw(line: TypedLine, sheet: Sheet) -> list[dict[str, Any]]:
    """The entries that a line tells of, none where it was left empty.

    Raises: BadInput, after telling each fault at its field.
    """
    own = own_part(sheet.sent, line.prefix)
    written = [entry for entry in line.entries if touched(entry, own)]
    if line.marked["mark"] == NOT_DONE:
        if written:
            raise BadInput(
                _("This line is ticked as not done, and has numbers: take one of them away.")
            )
        return [_whole(line, sheet, _skip(line))]
    beside = any(line.marked[name] for name in ("time", "who", "note"))
    if not line.key:
        if beside and not written:
            raise BadInput(_("This row has no number yet."))
        return _entries(line, written, own, sheet)
    if line.marked["mark"] != DONE and not written and not beside:
        return []
    line.marked["mark"] = DONE  # where it comes back, it is no longer one that was left empty
    return _entries(line, line.entries, own, sheet)


def _entries(
    line: TypedLine, entries: Sequence[EntryBlanks], own: QueryDict, sheet: Sheet
) -> list[dict[str, Any]]:
    """The entries of a line that was done. Raises: BadInput."""
    raw, whole = [], True
    for entry in entries:
        try:
            payload = payload_of(entry, own)
        except BadInput as fault:
            _tell_at_box(entry, str(fault).splitlines(), own)
            whole = False
            continue
        raw.append(_whole(line, sheet, {
            "id": entry.id, "kind": entry.asked.kind, "payload": payload,
            "where": line.kept["place"] or entry.where,
        }))  # fmt: skip
    if not whole:
        raise BadInput("")
    return raw


def _tell_at_box(entry: EntryBlanks, sentences: Sequence[str], own: QueryDict) -> None:
    """Put each sentence at the box that it is about; of several boxes, at the faulty one."""
    left, at_box = list(sentences), []
    for blank in entry.asked.fields:
        boxes = entry.names[blank.name]
        for box in boxes if len(boxes) > 1 else ():
            typed = str(own.get(box) or "").strip()
            try:
                filled(replace(entry.asked, fields=(blank,)), {blank.name: [typed or "0"]})
            except BadInput as fault:
                at_box.append((box, str(fault)))
                left = [said for said in left if said != str(fault)]
    entry.form.tell(left)
    for box, said in at_box:
        entry.form.add_error(box, said)


def _skip(line: TypedLine) -> dict[str, Any]:
    kind = line.key.split("/")[1] if line.key.count("/") > 1 else line.key
    return {"id": line.kept["skip"], "kind": "done", "where": line.kept["skip-where"],
            "payload": {"work": kind, "skipped": True}}  # fmt: skip


def _whole(line: TypedLine, sheet: Sheet, part: dict[str, Any]) -> dict[str, Any]:
    """The entry with its line, when it happened and who wrote it."""
    payload = dict(part["payload"])
    words = [str(payload.get("note") or ""), line.marked["note"]]
    whole = {**part, "task": line.key, "happened": _happened(line, sheet), "payload": payload}
    who = line.marked["who"] or sheet.who
    if who and who != sheet.person.name:
        if sheet.person.may(Role.MANAGER):
            whole["who"] = who
        else:
            words.append(_("On paper by %(who)s.") % {"who": who})
    note = " ".join(word for word in words if word)
    if note:
        payload["note"] = note
    return whole


def _happened(line: TypedLine, sheet: Sheet) -> str:
    """When it was done: as written, else at the hour of its round, never after now."""
    if line.marked["time"]:
        return moment(f"{sheet.day.isoformat()}T{line.marked['time']}", sheet.now)
    usual = HOURS.get(line.kept["round"])
    here = timezone.localtime(sheet.now)
    if usual is None and sheet.day == here.date():
        return sheet.now.isoformat()
    noon = HOURS["midday"]
    hour = timezone.make_aware(datetime.combine(sheet.day, usual or noon))
    return min(hour, here).isoformat()
