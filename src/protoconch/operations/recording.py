"""Adding to the log."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from django.db import transaction

from protoconch.animals.profiles import species
from protoconch.errors import BadInput
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import Vessel, vessels
from protoconch.log.checking import Verdict, alone, judged
from protoconch.log.entry import Entry
from protoconch.log.reading import read_entry
from protoconch.records.models import Entry as Row
from protoconch.records.models import Person, Role, Site
from protoconch.records.queries.log import entries, state
from protoconch.records.queries.site import hatchery
from protoconch.records.rows import row_of
from protoconch.words import say

FOR_OTHERS = say("Only a manager, or the tablet of the room, can enter for somebody else.")
NOT_YOURS = say("Your role is to look; crew and managers add to the log.")
WHO = say("Say who saw or did it; the tablet itself sees nothing.")
OTHERWISE = say(
    "The log has this entry already, with other content. Look at it there, and correct it if it is"
    " wrong."
)
TAKEN = say("An entry of another hatchery carries this number; make a new one.")


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of one raw entry.

    outcome: "added", with what was odd where it was sure; "there already" (the same id was sent
    before); "refused", with the reasons; "unlikely", with what is odd: it is added when sent again
    with `sure`.
    """

    outcome: str
    sentences: tuple[str, ...] = ()
    entry: Entry | None = None


def record(
    person: Person, raw: Sequence[Mapping[str, Any]], now: datetime, *, sure: bool = False
) -> tuple[Answer, ...]:
    """Add entries to the log, each judged by what the state was when it happened.

    raw: mappings with id, kind, happened, where, task and payload; who is the person unless a
    shared tablet's or a manager's `who` names another person of the site. One answer for each, in
    order. Those that stand are added together, in one transaction. An entry marked `unasked` comes
    from a phone that was away: it is refused only where nothing else in the log could make it true,
    so that the order in which phones come back changes nothing; the fold finds what is at odds.
    """
    with transaction.atomic():
        Site.objects.select_for_update().get(pk=person.site_id)  # numbers in order of arrival
        taking = _Taking(person, raw, now, sure=sure)
        return tuple(taking.answer(one) for one in raw)


def correct(
    person: Person, of: UUID, now: datetime, *, why: str = "", happened: datetime | None = None,
    where: str | None = None, payload: Mapping[str, Any] | None = None, sure: bool = False,
    id: UUID | None = None,  # noqa: A002 - as an entry calls it
) -> Answer:  # fmt: skip
    """Say what an entry should have read: its time, its place or its whole payload."""
    said = {"happened": happened and happened.isoformat(), "where": where, "payload": payload}
    parts = {name: part for name, part in said.items() if part is not None}
    return _pointing(person, "correction", {"of": str(of), "why": why, **parts}, now, id, sure=sure)


def withdraw(
    person: Person, of: UUID, now: datetime, *, why: str = "", sure: bool = False,
    id: UUID | None = None,  # noqa: A002 - as an entry calls it
) -> Answer:  # fmt: skip
    """Take an entry back; taking a correction back restores what it changed."""
    payload = {"of": str(of), "withdraw": True, "why": why}
    return _pointing(person, "correction", payload, now, id, sure=sure)


def confirm(
    person: Person, of: UUID, now: datetime, *, stands: bool = True,
    id: UUID | None = None,  # noqa: A002 - as an entry calls it
) -> Answer:  # fmt: skip
    """Say that an entry which was unlikely or at odds with another stands, or that it does not."""
    payload = {"of": str(of), "stands": stands, "by_whom": person.name}
    return _pointing(person, "confirmed", payload, now, id, sure=True)


def _pointing(
    person: Person, kind: str, payload: Mapping[str, Any], now: datetime, identity: UUID | None,
    *, sure: bool,
) -> Answer:  # fmt: skip
    raw = {
        "id": str(identity or uuid4()), "kind": kind, "happened": now.isoformat(),
        "payload": payload,
    }  # fmt: skip
    return record(person, [raw], now, sure=sure)[0]


class _Taking:
    """One sending of raw entries."""

    def __init__(
        self, person: Person, raw: Sequence[Mapping[str, Any]], now: datetime, *, sure: bool
    ) -> None:  # fmt: skip
        self.person, self.site, self.now, self.sure = person, person.site, now, sure
        self.hatchery: Hatchery = hatchery(self.site)
        self.vessels: dict[str, Vessel] = {one.name: one for one in vessels(self.hatchery)}
        self.names = {other.name for other in self.site.people.all() if not other.tablet}
        ids = {one for part in raw if (one := _uuid(part, "id")) is not None}
        self.there = {row.uuid: row for row in Row.objects.filter(uuid__in=ids)}

    def answer(self, raw: Mapping[str, Any]) -> Answer:
        """What becomes of one raw entry; it is in the log when this says so."""
        if not self.person.may(Role.CREW):
            return Answer("refused", (NOT_YOURS,))
        row = self.there.get(_uuid(raw, "id"))  # type: ignore[arg-type]
        if row is not None:
            return self._there_already(row, raw)
        try:
            entry = self._read(raw)
        except BadInput as fault:
            return Answer("refused", tuple(str(fault).splitlines()))
        verdict = self._verdict(entry)
        if verdict.refused:
            return Answer("refused", verdict.refused)
        if verdict.unlikely and not self.sure:
            return Answer("unlikely", verdict.unlikely, entry)
        row = row_of(self.site, entry)
        row.save(force_insert=True)
        self.there[entry.id] = row
        return Answer("added", verdict.unlikely, entry)

    def _verdict(self, entry: Entry) -> Verdict:
        """What speaks against it beside the log; alone, where it was written with nobody to ask.

        What happened before it may still be on its way on another phone, and the fold judges.
        """
        kind = species(self.hatchery.species)
        if entry.unasked:
            return Verdict(alone(entry, self.hatchery, kind))
        return judged(entry, state(self.site, entry.happened), self.hatchery, kind)

    def _there_already(self, row: Row, raw: Mapping[str, Any]) -> Answer:
        """The same entry sent again; in a sentence, where it reads otherwise than the one there."""
        if row.site_id != self.site.pk:
            return Answer("refused", (TAKEN,))
        there = entries([row])[0]
        try:
            sent = self._read(raw)
        except BadInput:
            return Answer("there already", (), there)
        same = (sent.kind, sent.where, sent.payload) == (there.kind, there.where, there.payload)
        return Answer("there already", () if same else (str(OTHERWISE),), there)

    def _read(self, raw: Mapping[str, Any]) -> Entry:
        """The entry, found sound. Raises: BadInput, with one sentence a line."""
        if not isinstance(raw, Mapping):
            raise BadInput(
                say("An entry has parts by name: id, kind, happened, where and payload.")
            )
        who = self._who(raw.get("who"))
        whole = {**raw, "who": who, "arrived": self.now}
        return read_entry(whole, self.vessels, corrected=self._corrected(raw))

    def _who(self, named: Any) -> str:
        """Who saw or did it. Raises: BadInput."""
        person = self.person
        if named in (None, "", person.name) and not person.tablet:
            return person.name
        if not (person.tablet or person.may(Role.MANAGER)):
            raise BadInput(FOR_OTHERS)
        if named in (None, "", person.name):
            raise BadInput(WHO)
        if not isinstance(named, str) or named not in self.names:
            raise BadInput(say("Nobody here is called {named}.", named=str(named)[:80]))
        return named

    def _corrected(self, raw: Mapping[str, Any]) -> Entry | None:
        """The entry that a correction points at, None where there is none."""
        if raw.get("kind") != "correction":
            return None
        of = _uuid(raw.get("payload"), "of")
        found = Row.objects.filter(site=self.site, uuid=of) if of else ()
        return next(iter(entries(found)), None)


def _uuid(raw: Any, key: str) -> UUID | None:
    value = raw.get(key) if isinstance(raw, Mapping) else None
    if isinstance(value, UUID):
        return value
    try:
        return UUID(value) if isinstance(value, str) else None
    except ValueError:
        return None
