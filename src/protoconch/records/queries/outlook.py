"""The outlook of the season as it was last worked out from the log, kept because it takes long."""

from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from hashlib import sha256
from typing import NamedTuple, TypeVar
from zoneinfo import ZoneInfo

import numpy as np
from django.db.models import Q, QuerySet
from numpy.typing import NDArray

from protoconch import __version__
from protoconch.errors import BadInput, MissingInput
from protoconch.log.entry import Entry
from protoconch.log.fold.corrections import POINTING
from protoconch.log.kinds import KINDS
from protoconch.log.payloads import animals
from protoconch.records.models import Answer, Site
from protoconch.records.models import Entry as Row
from protoconch.records.packing import packed, unpacked
from protoconch.records.queries.answers import Making, question
from protoconch.records.queries.log import entries
from protoconch.season.outlook.counting_again import CountAgain
from protoconch.season.outlook.next_action import Action
from protoconch.season.outlook.outlook import Outlook
from protoconch.season.outlook.scoring import DayOutlook

OUTLOOK, OVER_TIME = "outlook", "odds over time"
BEARING = (
    *(kind.name for kind in KINDS.values() if kind.payload.__module__ == animals.__name__),
    *POINTING,
)  # fmt: skip
"""Kinds of entry that bear on the outlook, besides temperature readings."""
SEASONS_KEPT = 12


@dataclass(frozen=True, slots=True)
class KeptOutlook:
    """An outlook as it is kept.

    plan: key of the question its plan answers. day: on which it was made. number: of the last
    entry that had arrived. actions: the best first, their futures left out. left_out: ids, as
    text, of entries that the log's own state doubts. fault: why there is none. currency: of the
    actions' costs.
    """

    plan: str
    day: date
    number: int
    outlook: Outlook | None
    actions: tuple[Action, ...] = ()
    counts: tuple[CountAgain, ...] = ()
    silent: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    fault: str = ""
    currency: str = ""


@dataclass(frozen=True, slots=True)
class BatchThen:
    """What a past day's outlook had of a batch.

    ready: mean number of the size asked at the date. soon: numbers alive that 10, 50 and 90 % of
    futures stay below on the days just after, (3, days); the first is the next day.
    """

    code: str
    ready: float
    soon: NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class KeptDay:
    """The outlook as of a past day, by what was known then; its `ready` are a hundred quantiles.

    released: animals released or handed over by then.
    """

    told: DayOutlook
    released: float
    batches: tuple[BatchThen, ...]


@dataclass(frozen=True, slots=True)
class KeptDays:
    """The outlooks of a season as of its past days, in their order.

    plan: key of the question that the plan answers by which they were made. came: animals
    released once the date is past, None before.
    """

    plan: str
    first_day: date
    by: date
    animals: int
    days: tuple[KeptDay, ...] = ()
    came: float | None = None


class LookedAhead(NamedTuple):
    """What the log says of the season's end.

    outlook: the last that was made for the plan in force; None before the first. actions, counts:
    what would help, the best first. silent: what is not tried, in sentences. days: the outlook as
    of past days. making: how far the next is; why: where it failed, the sentence. made: when the
    outlook was. earlier: seasons that are over, with what came. left_out: entries
    that the log doubts and the outlook leaves out. currency: of the actions' costs.
    """

    outlook: Outlook | None
    actions: tuple[Action, ...] = ()
    counts: tuple[CountAgain, ...] = ()
    silent: tuple[str, ...] = ()
    days: tuple[KeptDay, ...] = ()
    making: Making = "not asked"
    why: str = ""
    made: datetime | None = None
    came: float | None = None
    earlier: tuple[KeptDays, ...] = ()
    left_out: int = 0
    currency: str = ""

    def expected_on(self, code: str, day: date) -> tuple[float, float, float] | None:
        """Numbers alive that the last outlook before a day gave a batch for it: 10, 50, 90 %.

        None where no outlook of the days before tells of it.
        """
        for kept in reversed(self.days):
            ahead = (day - kept.told.as_of).days
            if ahead < 1:
                continue
            for batch in kept.batches:
                if batch.code == code and ahead <= batch.soon.shape[1]:
                    low, middle, high = (float(n) for n in batch.soon[:, ahead - 1])
                    return low, middle, high
            return None
        return None


def outlook_question(plan: str, number: int, day: date) -> str:
    """A hash of all that an outlook follows from: the plan, the last entry, the day."""
    return sha256(f"{__version__}\n{plan}\n{number}\n{day}".encode()).hexdigest()


def bearing_rows(site: Site, since: int = 0) -> QuerySet[Row]:
    """Rows that bear on the animals or on the water's temperature, after a number of arrival."""
    told = Q(kind__in=BEARING) | Q(kind="read", payload__quantity="temperature")
    return Row.objects.filter(told, site=site, number__gt=since)


def bearing_entries(site: Site, since: datetime) -> tuple[Entry, ...]:
    """Their entries from a moment on, with all that corrects or confirms, as they arrived."""
    found = bearing_rows(site).filter(Q(happened__gte=since) | Q(kind__in=POINTING))
    return entries(found.select_related("site").order_by("number"))


def last_outlook(site: Site) -> KeptOutlook | None:
    """The last that was kept, whatever it is of; None where there is none of this version."""
    found = _opened(Answer.objects.filter(site=site, name=OUTLOOK), KeptOutlook)
    return found[0] if found else None


def kept_days(site: Site, plan: str) -> KeptDays | None:
    """The outlooks of past days by the plan of a question."""
    found = _opened(Answer.objects.filter(site=site, name=OVER_TIME, question=plan), KeptDays)
    return found[0] if found else None


def current(site: Site, kept: KeptOutlook, plan: str, today: date) -> bool:
    """Whether nothing that an outlook follows from has changed since it was made."""
    same = kept.plan == plan and kept.day == today
    return same and not bearing_rows(site, kept.number).exists()


def looked_ahead(site: Site) -> LookedAhead:
    """What the log says of the season's end, as it was last worked out; never waits for it."""
    try:
        plan = question(site).key
    except MissingInput:
        return LookedAhead(None)
    found = _opened(Answer.objects.filter(site=site, name=OUTLOOK), KeptOutlook)
    over_time = kept_days(site, plan)
    days = over_time.days if over_time else ()
    came = over_time.came if over_time else None
    earlier = _earlier(site, plan)
    if found is None or found[0].plan != plan:
        making: Making = "being made" if bearing_rows(site).exists() else "not asked"
        return LookedAhead(None, days=days, making=making, came=came, earlier=earlier)
    kept, made = found
    if kept.outlook is None and kept.fault:
        return LookedAhead(None, days=days, making="failed", why=kept.fault, came=came,
                           earlier=earlier)  # fmt: skip
    today = datetime.now(ZoneInfo(site.zone)).date()
    making = "ready" if current(site, kept, plan, today) else "being made"
    return LookedAhead(kept.outlook, kept.actions, kept.counts, kept.silent, days, making, "",
                       made, came, earlier, len(kept.left_out), kept.currency)  # fmt: skip


def keep_outlook(site: Site, kept: KeptOutlook) -> None:
    """Keep an outlook in the place of the one before."""
    asked = outlook_question(kept.plan, kept.number, kept.day)
    mine = Answer.objects.filter(site=site, name=OUTLOOK)
    old = list(mine.values_list("pk", flat=True))
    mine.filter(question=asked).delete()
    Answer.objects.create(site=site, name=OUTLOOK, question=asked, content=packed(kept))
    Answer.objects.filter(pk__in=old).delete()


def keep_days(site: Site, kept: KeptDays) -> None:
    """Keep the outlooks of past days; of a season the latest plan's stay, of seasons the last."""
    mine = Answer.objects.filter(site=site, name=OVER_TIME)
    mine.filter(question=kept.plan).delete()
    Answer.objects.create(site=site, name=OVER_TIME, question=kept.plan, content=packed(kept))
    seen: set[date] = set()
    for row in mine.order_by("-id").only("pk", "made"):
        found = _unpacked(row.pk, row.made, KeptDays)
        if found is None or found.first_day in seen or len(seen) == SEASONS_KEPT:
            row.delete()
        else:
            seen.add(found.first_day)


def _earlier(site: Site, plan: str) -> tuple[KeptDays, ...]:
    """Seasons that are over, the latest first."""
    rows = Answer.objects.filter(site=site, name=OVER_TIME).exclude(question=plan)
    found = (_unpacked(row.pk, row.made, KeptDays) for row in rows.order_by("-id").only("made"))
    return tuple(one for one in found if one is not None and one.came is not None)


Kept = TypeVar("Kept", KeptOutlook, KeptDays)


def _opened(rows: QuerySet[Answer], kind: type[Kept]) -> tuple[Kept, datetime] | None:
    """The latest of some rows, with when it was made."""
    row = rows.order_by("-id").only("pk", "made").first()
    if row is None:
        return None
    kept = _unpacked(row.pk, row.made, kind)  # type: ignore[arg-type]
    return (kept, row.made) if kept is not None else None


@lru_cache(maxsize=24)
def _unpacked(pk: int, made: datetime, kind: type[Kept]) -> Kept | None:
    """What a row holds; rows are never changed, so that it need not be read twice."""
    content = Answer.objects.filter(pk=pk, made=made).values_list("content", flat=True).first()
    try:
        return unpacked(bytes(content), kind) if content else None
    except BadInput:
        return None
