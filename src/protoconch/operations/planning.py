"""Asking for a plan, and the one worker that makes what was asked for while pages go on.

What was asked and is not made yet stands in the table as an empty answer, so that it is made after
a restart as well. A page never waits for it.
"""

import logging
from datetime import UTC, date, datetime
from threading import Event, Lock, Thread

from django.db import DatabaseError, close_old_connections, connection
from django.db.models import Max

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.animals.profiles import species
from protoconch.errors import MissingInput, ProtoconchError
from protoconch.hatchery.description import Hatchery
from protoconch.operations.algae_room import make_rooms
from protoconch.operations.outlook import make_outlooks
from protoconch.records.models import Answer, Site
from protoconch.records.queries.answers import (
    ALGAE,
    PLAN,
    KeptAlgae,
    KeptPlan,
    keep,
    planned,
    question,
)
from protoconch.records.queries.site import hatchery
from protoconch.records.queries.states import keep_snapshots, much_refolded
from protoconch.season.answer import SeasonPlan
from protoconch.season.plan.planning import plan_season
from protoconch.sources.reading import load_table
from protoconch.words import say
from protoconch.work import hours
from protoconch.work.season_work import room_asked, season_algae

SEED = 1
"""The same question has the same answer."""
LOOK_AGAIN_S = 30.0
ENTRIES_BETWEEN = 200
"""So many entries later the states are kept anew."""
NO_TARGET = say("There is no target to plan for yet: say how many juveniles you want, and by when.")

OUR_FAULT = say("The program made a mistake while it was planning; what was logged is safe.")

_log = logging.getLogger(__name__)
_asked = Event()
_one_at_a_time = Lock()


def make_plan(site: Site) -> None:
    """Ask for the plan and the algae schedule of the hatchery as it is described now.

    Nothing happens where they are made or asked for already.
    Raises: MissingInput, where the hatchery is not described yet.
    """
    asked = question(site)
    if planned(site).making != "not asked":
        return
    for name in (PLAN, ALGAE):
        Answer.objects.update_or_create(
            site=site, name=name, question=asked.key, defaults={"content": b""}
        )
    _asked.set()


def make_what_was_asked() -> int:
    """Make every plan and schedule that was asked for, one after the other; how many."""
    made = 0
    with _one_at_a_time:
        while (row := _next()) is not None:
            _make(row)
            made += 1
    return made


def start_worker() -> Thread:
    """Begin to make what is asked for, in a thread of this program, until it ends.

    It plans the algae rooms and works out the outlook anew as well, where the log has changed.
    """
    thread = Thread(target=_work, name="plans", daemon=True)
    thread.start()
    return thread


def _work() -> None:
    started = False
    while True:
        _asked.clear()
        close_old_connections()
        try:
            if not started:
                _ask_for_all()
                started = True
            look_after()
        except DatabaseError:  # it was away for a moment; it is asked again
            _log.exception("The plans could not be looked after.")
            connection.close()
        _asked.wait(LOOK_AGAIN_S)


def look_after() -> None:
    """One round of the worker: plans asked for, states, rooms and outlooks that have changed."""
    make_what_was_asked()
    _keep_states()
    now = datetime.now(UTC)
    make_rooms(now)
    if make_outlooks(now):
        _asked.set()  # past days wait: the next round begins at once


def _ask_for_all() -> None:
    """After a start: every plan that is missing."""
    for site in Site.objects.filter(descriptions__isnull=False).distinct():
        make_plan(site)


def _keep_states() -> None:
    """Snapshots of the states, so that the next start need not fold the whole log."""
    for site in Site.objects.filter(descriptions__isnull=False).distinct():
        kept = site.snapshot_set.aggregate(last=Max("number"))["last"] or 0
        new = site.entries.filter(number__gt=kept)[:ENTRIES_BETWEEN].count()
        if new == ENTRIES_BETWEEN or much_refolded(site):
            keep_snapshots(site)


def _next() -> Answer | None:
    """The oldest that is asked for; plans first, as schedules follow from them."""
    waiting = Answer.objects.filter(content=b"").select_related("site")
    for row in sorted(waiting, key=lambda row: (row.name != PLAN, row.pk)):
        if row.question == question(row.site).key:
            return row
        row.delete()  # the hatchery was described anew since
    return None


def _make(row: Answer) -> None:
    site, asked = row.site, question(row.site)
    kind = KeptPlan if row.name == PLAN else KeptAlgae
    try:
        found = season(hatchery(site), asked.today) if row.name == PLAN else _algae(site)
        keep(site, asked, kind(asked.description.pk, found))  # type: ignore[arg-type]
    except ProtoconchError as fault:
        keep(site, asked, kind(asked.description.pk, None, str(fault)))
    except Exception:  # noqa: BLE001 - the worker goes on, and the page says what happened
        _log.exception("The %s of %s could not be made.", row.name, site)
        keep(site, asked, kind(asked.description.pk, None, OUR_FAULT))


def _algae(site: Site) -> AlgaeAnswer | None:
    plan = planned(site).plan
    room = room_asked(plan) if plan is not None else None
    return season_algae(plan, room) if plan is not None and room is not None else None


def season(here: Hatchery, today: date | None) -> SeasonPlan:
    """The planned season of a hatchery; nothing before today, or as it is written where None.

    Raises: BadInput, OutOfRange, MissingNumber.
    """
    if here.target is None:
        raise MissingInput(NO_TARGET)
    return plan_season(
        here, species(here.species), here.target, hours, load_table("season"), SEED,
        today=today,
    )  # fmt: skip
