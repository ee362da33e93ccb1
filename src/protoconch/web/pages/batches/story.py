"""One batch's story: its pictures, its account, and what the log tells of it."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from django.db.models import Q

from protoconch.hatchery.description import Hatchery
from protoconch.log.entry import Entry
from protoconch.log.fold.corrections import POINTING
from protoconch.log.fold.replay import by_name, items_of
from protoconch.log.sentences import sentence
from protoconch.log.state import State
from protoconch.pictures.batch_story import batch_numbers
from protoconch.pictures.counted import against, lengths_seen, numbers_seen
from protoconch.pictures.drawing import Picture
from protoconch.pictures.lengths import batch_lengths
from protoconch.pictures.words import about, counted, one_in
from protoconch.records.models import Site
from protoconch.records.queries.log import entries, rows
from protoconch.records.queries.site import hatchery
from protoconch.season.answer import SeasonPlan
from protoconch.sheets.season_report.batch_history import BatchHistory, batch_history
from protoconch.web.pages.batches.lines import Known, hoped_on, today_in
from protoconch.web.shell.kept import ByReader
from protoconch.words import say
from protoconch.work.names import name_of

LAST_ENTRIES = 30
_pictures = ByReader(80)


@dataclass(frozen=True, slots=True)
class CountLine:
    """A count beside what was expected of its day."""

    day: date
    value: str
    limits: str
    expected: str
    against: str


@dataclass(frozen=True, slots=True)
class Told:
    """An entry of the batch in a sentence."""

    entry: Entry
    sentence: str


@dataclass(frozen=True, slots=True)
class Story:
    """All that the page of a batch shows; survived: of those stocked, as "1 in 12"."""

    numbers: Picture | None
    lengths: Picture | None
    counts: tuple[CountLine, ...]
    history: BatchHistory
    latest: tuple[Told, ...]
    more: int
    losses: tuple[Told, ...]
    notes: tuple[Told, ...]
    photos: tuple[Told, ...]
    survived: str


def story(site: Site, one: Known, plan: SeasonPlan | None, state: State, today: date) -> Story:
    """The story of a batch that the log has heard of, or only the plan's part of it."""
    if one.state is None:
        history = BatchHistory((), (), (), (), (), ())
        return Story(*_drawn(one, plan, state, today), (), history, (), 0, (), (), (), "")
    history = batch_history(one.state, state, _entries(site, one, plan, state))

    def told(some: tuple[Entry, ...]) -> tuple[Told, ...]:
        return tuple(Told(each, sentence(each)) for each in some)

    account = one.state.account
    return Story(
        *_drawn(one, plan, state, today), _counts(one, plan, state, hatchery(site)), history,
        told(history.entries[: -LAST_ENTRIES - 1 : -1]),
        max(0, len(history.entries) - LAST_ENTRIES), told(history.losses), told(history.notes),
        told(history.photos),
        one_in(account.alive + account.released, account.stocked) if account.stocked else "",
    )  # fmt: skip


def _entries(site: Site, one: Known, plan: SeasonPlan | None, state: State) -> tuple[Entry, ...]:
    """Entries that may concern the batch, as they read after corrections, in their order."""
    batch = one.state
    if batch is None:
        return ()
    places = {seen.where for seen in batch.sightings} | set(batch.vessels)
    places |= {name for name, left in state.emptied.items() if left.batch == batch.code}
    if one.planned is not None and plan is not None:
        places |= {name_of(tank) for tank in one.planned.tanks}
    since = batch.loaded or batch.hatched
    asked = Q(batch=batch.code) | Q(where__in=places) | Q(kind__in=("photo", *POINTING))
    found = rows(site, since=since - timedelta(days=1) if since else None).filter(asked)
    kept = entries(found.order_by("happened", "uuid"))
    return tuple(item.entry for item in items_of(kept, by_name(hatchery(site))))


def _drawn(
    one: Known, plan: SeasonPlan | None, state: State, today: date
) -> tuple[Picture | None, Picture | None]:
    """Its numbers and its lengths, where the plan has the batch."""
    planned, daily = one.planned, one.line
    if plan is None or planned is None or daily is None:
        return None, None
    batch, made = one.state, one.ahead.made if one.ahead else None

    def make() -> tuple[Picture, Picture]:
        seen = numbers_seen(batch, state, plan.hatchery) if batch else ()
        measured = lengths_seen(batch) if batch else ()
        first_day, named = plan.forecast.first_day, replace(planned, code=one.code)
        return (
            batch_numbers(
                named,
                daily,
                first_day,
                seen,
                today_in(plan, today),
                "numbers",
                before=one.hoped(seen[-1].day) if seen else None,
            ),
            batch_lengths(named, daily, plan.forecast, plan.target, "lengths", measured),
        )

    return _pictures.of(plan, (one.code, str(state.last), state.entries, today, made), make)


def _counts(
    one: Known, plan: SeasonPlan | None, state: State, here: Hatchery
) -> tuple[CountLine, ...]:
    """Its counts, the latest first."""
    if one.state is None:
        return ()
    lines = []
    for seen in reversed(numbers_seen(one.state, state, here)):
        hoped, beside = "", ""
        there = hoped_on(one, plan, seen.day)
        if there is not None:
            hoped, beside = (
                say("{low} to {high}", low=about(there.low), high=about(there.high)),
                against(seen, there),
            )
        limits = (
            ""
            if seen.low == seen.high
            else say("{low} to {high}", low=about(seen.low, 3), high=about(seen.high, 3))
        )
        lines.append(CountLine(seen.day, counted(seen.value), limits, hoped, beside))
    return tuple(lines)
