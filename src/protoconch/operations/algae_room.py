"""Planning the algae room anew from the cultures that there are by the log, while pages go on."""

import logging
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from protoconch.algae.chain.present_plan import present_plan
from protoconch.errors import MissingInput, ProtoconchError
from protoconch.records.models import Site
from protoconch.records.queries.algae_room import (
    KeptRoom,
    keep_room,
    room_planned,
    room_question,
)
from protoconch.records.queries.answers import planned
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.words import say
from protoconch.work.cultures.schedule import worst_losses
from protoconch.work.cultures.there import present_cultures

LEAST_BETWEEN = timedelta(minutes=2)
"""Between two schedules of one room, so that a busy hour of entries is not planned entry by
entry."""
OUR_FAULT = say("The program made a mistake while it planned the room; what was logged is safe.")

_log = logging.getLogger(__name__)


def make_rooms(now: datetime) -> int:
    """Plan anew every room whose cultures, season or day have changed; how many were.

    now: with a zone.
    """
    return sum(make_room(site, now) for site in Site.objects.all())


def make_room(site: Site, now: datetime, *, at_once: bool = False) -> bool:
    """Plan a site's room anew where anything it follows from has changed; whether it was.

    at_once: though it was planned a moment ago.
    """
    try:
        here, there = hatchery(site), state(site)
        algae = planned(site).algae
    except MissingInput:
        return False
    local = now.astimezone(ZoneInfo(site.zone))
    today, room = local.date(), here.algae_room
    if room is None or algae is None or not there.cultures:
        return False
    before = room_planned(site, there, today)
    if before is not None and (before.current or (now - before.made < LEAST_BETWEEN
                                                  and not at_once)):  # fmt: skip
        return False
    asked = room_question(site, there, today)
    try:
        cultures, dirty = present_cultures(there, room, local)
        found = present_plan(algae, today, cultures, dirty=dirty,
                             temperature_c=room.temperature_c)  # fmt: skip
        kept = KeptRoom(today, found, worst_losses(algae, found))
    except ProtoconchError as fault:
        kept = KeptRoom(today, None, fault=str(fault))
    except Exception:  # noqa: BLE001 - the worker goes on, and the page says what happened
        _log.exception("The algae room of %s could not be planned.", site)
        kept = KeptRoom(today, None, fault=OUR_FAULT)
    keep_room(site, asked, kept)
    return True
