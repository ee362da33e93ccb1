"""Working out the outlook anew when the log has grown or a day has passed, while pages go on.

Done by the one worker that makes the plans, one hatchery after the other; entries that come while
it is at work are taken up together the next time. What was believed after the last entry stays in
memory, so that the next costs little; after a restart it is worked out from the log alone.
"""

import logging
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from threading import Lock
from zoneinfo import ZoneInfo

import numpy as np

from protoconch.errors import MissingInput, ProtoconchError
from protoconch.log.entry import Entry
from protoconch.log.state import EMPTY, State
from protoconch.operations.learning import heed
from protoconch.operations.looking_ahead import bearing_on, doubted, looked_from, what_helps
from protoconch.records.models import Site
from protoconch.records.queries.answers import planned, question
from protoconch.records.queries.log import state
from protoconch.records.queries.outlook import (
    BatchThen,
    KeptDay,
    KeptDays,
    KeptOutlook,
    bearing_entries,
    bearing_rows,
    current,
    keep_days,
    keep_outlook,
    kept_days,
    last_outlook,
)
from protoconch.records.queries.reading import last_arrived
from protoconch.season.answer import SeasonPlan
from protoconch.season.outlook.history import history
from protoconch.season.outlook.outlook import Known
from protoconch.season.outlook.scoring import DayOutlook
from protoconch.words import say

RECENT = 14
"""Of so many days past the outlook of each is kept; of those before, of every third."""
EVERY = 3
AT_ONCE = 4
"""Past days worked out in one round, so that a new entry need not wait for all of them."""
SOON = 4
"""Days after a past day for which its numbers are kept: counts are set beside them."""
QUANTILES = (np.arange(100) + 0.5) / 100
OUR_FAULT = say("The program made a mistake while it looked ahead; what was logged is safe.")

_log = logging.getLogger(__name__)


@dataclass(slots=True)
class _Memory:
    """What was believed last: now, and as of the last past day; by the plan of a question."""

    plan: str
    now: Known | None = None
    then: Known | None = None


_remembered: dict[tuple[int, datetime], _Memory] = {}
_one_at_a_time = Lock()


def make_outlooks(now: datetime) -> bool:
    """Work out anew every outlook whose plan, log or day has changed; whether past days wait.

    now: with a zone.
    """
    with _one_at_a_time:
        waiting = [_looked_after(site, now) for site in Site.objects.all()]
    return any(waiting)


def forget() -> None:
    """Forget what is in memory; it is worked out from the log again."""
    with _one_at_a_time:
        _remembered.clear()


def _looked_after(site: Site, now: datetime) -> bool:
    """One site's outlook, and some of its past days; whether more of them wait."""
    try:
        known, key, there = planned(site), question(site).key, state(site)
    except MissingInput:
        return False
    plan, today = known.plan, now.astimezone(ZoneInfo(site.zone)).date()
    if plan is None or not plan.batches or known.making in ("being made", "not asked"):
        return False
    kept = last_outlook(site)
    fresh = kept is not None and current(site, kept, key, today)
    failed = kept is not None and kept.outlook is None
    if fresh and (failed or not _days_wanted(site, key, plan, today)):
        return False
    if not bearing_rows(site).exists():
        return False
    return _worked_out(site, _memory(site, key), plan, there, today, fresh=fresh)


def _worked_out(
    site: Site, memory: _Memory, plan: SeasonPlan, there: State, today: date, *, fresh: bool
) -> bool:  # fmt: skip
    """The outlook, unless it is fresh, and some past days; whether more of them wait."""
    number, first = last_arrived(site).number, plan.forecast.first_day
    try:
        since = datetime.combine(first, time(), ZoneInfo(site.zone))
        older = bearing_rows(site).filter(happened__lt=since).exists()
        before = state(site, since) if older else EMPTY
        log = bearing_on(bearing_entries(site, since), plan.hatchery, before)
        if not fresh:
            keep_outlook(site, _made(memory, plan, log, there, today, number))
            if memory.now is not None:
                heed(site, memory.now, today)
        return _past_days(site, memory, plan, log, there, today)
    except ProtoconchError as fault:
        keep_outlook(site, KeptOutlook(memory.plan, today, number, None, fault=str(fault)))
    except Exception:  # noqa: BLE001 - the worker goes on, and the page says what happened
        _log.exception("The outlook of %s could not be worked out.", site)
        keep_outlook(site, KeptOutlook(memory.plan, today, number, None, fault=OUR_FAULT))
    return False


def _memory(site: Site, key: str) -> _Memory:
    known = _remembered.get((site.pk, site.made))
    if known is None or known.plan != key:
        known = _remembered[site.pk, site.made] = _Memory(key)
    return known


def _made(
    memory: _Memory, plan: SeasonPlan, log: Sequence[Entry], there: State, today: date, number: int
) -> KeptOutlook:  # fmt: skip
    """The outlook now, with what would help."""
    left_out = doubted(there)
    memory.now = looked_from(plan, log, today, left_out, memory.now)
    kept = KeptOutlook(memory.plan, today, number, memory.now.outlook,
                       left_out=tuple(sorted(map(str, left_out))))  # fmt: skip
    if today >= plan.target.by:
        return kept
    choices, paying = what_helps(memory.now)
    none = np.zeros(0)
    return replace(
        kept, actions=tuple(replace(action, met=none) for action in choices.actions),
        counts=paying, silent=choices.silent, currency=choices.currency,
    )  # fmt: skip


def days_wanted(first: date, today: date) -> list[date]:
    """Past days whose outlook is kept, from the first entry to yesterday.

    Each day of the last fortnight; before that every third.
    """
    past = (first + timedelta(days=n) for n in range((today - first).days))
    return [day for day in past if (today - day).days <= RECENT or day.toordinal() % EVERY == 0]


def _days_wanted(site: Site, key: str, plan: SeasonPlan, today: date) -> list[date]:
    """Those of them that are not there yet."""
    row = bearing_rows(site).order_by("number").first()
    if row is None:
        return []
    first = max(row.arrived.astimezone(ZoneInfo(site.zone)).date(), plan.forecast.first_day)
    kept = kept_days(site, key)
    there = {day.told.as_of for day in kept.days} if kept else set()
    over = kept is not None and kept.came is None and today > plan.target.by
    wanted = [day for day in days_wanted(first, min(today, plan.target.by)) if day not in there]
    return wanted or ([plan.target.by] if over and plan.target.by not in there else [])


def _past_days(
    site: Site, memory: _Memory, plan: SeasonPlan, log: Sequence[Entry], there: State, today: date
) -> bool:  # fmt: skip
    """Some of the past days that are missing, in their order; whether more are."""
    wanted = _days_wanted(site, memory.plan, plan, today)
    if not wanted:
        return False
    kept = kept_days(site, memory.plan) or KeptDays(
        memory.plan, plan.forecast.first_day, plan.target.by, plan.target.animals
    )
    made = [_day(memory, plan, log, there, day) for day in wanted[:AT_ONCE]]
    keep_by = set(days_wanted(plan.forecast.first_day, today))
    days = {day.told.as_of: day for day in (*kept.days, *made)}
    order = tuple(days[day] for day in sorted(days) if day in keep_by or day == plan.target.by)
    keep_days(site, replace(kept, days=order, came=_came(memory, plan, log, today)))
    return len(wanted) > AT_ONCE


def _day(
    memory: _Memory, plan: SeasonPlan, log: Sequence[Entry], there: State, day: date
) -> KeptDay:  # fmt: skip
    """The outlook as of a past day, by what had arrived by then."""
    then = memory.then
    if then is not None and then.outlook.as_of >= day:
        then = None
    arrived = [entry for entry in log if entry.arrived.date() <= day]
    memory.then = known = looked_from(plan, arrived, day, doubted(there, log, day), then)
    said = known.outlook
    told = DayOutlook(
        said.as_of, said.odds, said.expected, said.p10, said.p90,
        np.quantile(said.ready, QUANTILES), said.entries_used,
    )  # fmt: skip
    after = (said.as_of - said.first_day).days + 1
    return KeptDay(told, known.standing.released, tuple(
        BatchThen(batch.code, batch.ready.mean, np.stack([
            curve[after : after + SOON]
            for curve in (batch.line.alive_p10, batch.line.alive_p50, batch.line.alive_p90)
        ]).astype(np.float32))
        for batch in said.batches
    ))  # fmt: skip


def _came(
    memory: _Memory, plan: SeasonPlan, log: Sequence[Entry], today: date
) -> float | None:  # fmt: skip
    """Animals released, once the date is past and some were."""
    known = memory.now or memory.then
    if today <= plan.target.by or known is None:
        return None
    rests_on = known.basis
    told = history(log, rests_on.first_day, today, rests_on.vessels, rests_on.measures.counting)
    return told.released or None
