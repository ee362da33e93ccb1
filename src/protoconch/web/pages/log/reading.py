"""Entries as the log's pages tell them: as they read now, and what was put right."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.db.models import Q, QuerySet
from django.utils import timezone

from protoconch.errors import BadInput
from protoconch.hatchery.vessels import Vessel
from protoconch.log.entry import Entry
from protoconch.log.fold.corrections import POINTING
from protoconch.log.fold.replay import by_name, items_of
from protoconch.log.sentences import change_sentence, sentence
from protoconch.records.models import Entry as Row
from protoconch.records.models import Site
from protoconch.records.queries.log import entries
from protoconch.records.queries.site import hatchery

ON_A_PAGE = 50


@dataclass(frozen=True, slots=True)
class Told:
    """One entry of the log in a sentence.

    entry: as it reads now; first: as it was written. counted: False where it was taken back.
    changed: whether a correction gave it other content. pointing: corrections and confirmations of
    it, in their order.
    """

    entry: Entry
    first: Entry
    sentence: str
    counted: bool
    confirmed: bool
    pointing: tuple[Entry, ...] = ()

    @property
    def changed(self) -> bool:
        """Whether it reads otherwise than it was written."""
        return self.entry != self.first

    @property
    def title(self) -> str:
        """The sentence as the title of a page, without its full stop."""
        return self.sentence.removesuffix(".")

    @property
    def day(self) -> date:
        """The day it happened, by the site's clock."""
        return timezone.localtime(self.entry.happened).date()

    @property
    def points(self) -> bool:
        """Whether it is a correction or a confirmation itself."""
        return self.first.kind in POINTING


def page_of(found: QuerySet[Row], before: str) -> tuple[list[Row], str]:
    """So many rows as stand on a page, and the mark from which the next page goes on.

    before: the mark of the page before, empty for the first.
    """
    mark = _read_mark(before)
    if mark is not None:
        moment, uuid = mark
        found = found.filter(happened__lte=moment).exclude(Q(happened=moment) & Q(uuid__gte=uuid))
    rows = list(found[: ON_A_PAGE + 1])
    more = rows[ON_A_PAGE - 1] if len(rows) > ON_A_PAGE else None
    return rows[:ON_A_PAGE], f"{more.happened.isoformat()}_{more.uuid}" if more else ""


def told(site: Site, found: Iterable[Row]) -> tuple[Told, ...]:
    """The entries in the order of the rows, each as it reads now."""
    first = entries(found)
    targets = _pointed_at(site, first)
    pointing = _pointing(site, (*first, *targets))
    whole = {entry.id: entry for entry in (*first, *targets, *pointing)}
    vessels = by_name(hatchery(site))
    items = {item.entry.id: item for item in items_of(whole.values(), vessels)}
    below: dict[UUID, list[Entry]] = {}
    for entry in sorted(pointing, key=lambda each: each.order):
        below.setdefault(_of(entry), []).append(entry)
    return tuple(
        Told(
            items[entry.id].entry, entry, _sentence(items[entry.id].entry, whole, vessels),
            items[entry.id].counted or entry.kind in POINTING, items[entry.id].confirmed,
            tuple(below.get(entry.id, ())),
        )
        for entry in first
    )  # fmt: skip


def one(site: Site, uuid: UUID) -> Told | None:
    """One entry, None where this log has none of that id."""
    found = told(site, Row.objects.filter(site=site, uuid=uuid))
    return found[0] if found else None


def several(site: Site, ids: Sequence[UUID]) -> tuple[Told, ...]:
    """Entries by their ids, in that order."""
    found = {
        each.entry.id: each for each in told(site, Row.objects.filter(site=site, uuid__in=ids))
    }
    return tuple(found[uuid] for uuid in ids if uuid in found)


def _sentence(entry: Entry, whole: Mapping[UUID, Entry], vessels: Mapping[str, Vessel]) -> str:
    """What an entry says; of a correction, what it changed."""
    of = whole.get(_of(entry)) if entry.kind in POINTING else None
    if of is None:
        return sentence(entry)
    before = [each for each in whole.values() if each.order < entry.order]
    as_it_was = next((i.entry for i in items_of(before, vessels) if i.entry.id == of.id), of)
    try:
        return change_sentence(entry, as_it_was)
    except BadInput:
        return sentence(entry)


def _pointed_at(site: Site, found: Sequence[Entry]) -> tuple[Entry, ...]:
    """What corrections and confirmations point at, and what that points at in its turn."""
    targets: dict[UUID, Entry] = {}
    wanted = {_of(entry) for entry in found if entry.kind in POINTING}
    while wanted:
        fresh = entries(Row.objects.filter(site=site, uuid__in=wanted))
        targets |= {entry.id: entry for entry in fresh}
        wanted = {_of(entry) for entry in fresh if entry.kind in POINTING} - targets.keys()
    return tuple(targets.values())


def _pointing(site: Site, of: Sequence[Entry]) -> tuple[Entry, ...]:
    """All corrections and confirmations of entries, and of those again."""
    known = {entry.id for entry in of}
    found: dict[UUID, Entry] = {}
    ids = set(known)
    while ids:
        # without the site, by whose index SQLite would read the whole log
        rows = [row for row in Row.objects.filter(corrects__in=ids) if row.site_id == site.pk]
        fresh = {entry.id: entry for entry in entries(rows) if entry.id not in found}
        found |= fresh
        ids = set(fresh)
    return tuple(found.values())


def _of(entry: Entry) -> UUID:
    of: UUID = entry.payload.of  # type: ignore[attr-defined]
    return of


def _read_mark(mark: str) -> tuple[datetime, UUID] | None:
    moment, _, uuid = mark.partition("_")
    try:
        read = datetime.fromisoformat(moment), UUID(uuid)
    except ValueError:
        return None
    return read if read[0].tzinfo else None
