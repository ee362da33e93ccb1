"""The invented hatchery as a place to live in: planned, half a season logged, its people known."""

from collections.abc import Callable
from datetime import datetime
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np
from django.db import transaction

from protoconch.animals.profiles import species
from protoconch.hatchery.reading import read_hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.reading import read_entry
from protoconch.operations.demo_season import demo_for
from protoconch.operations.people.codes import new_code
from protoconch.operations.people.invitations import new_person
from protoconch.operations.planning import season
from protoconch.operations.starting import start
from protoconch.records.models import Entry, Role
from protoconch.records.queries.answers import KeptAlgae, KeptPlan, keep, question
from protoconch.records.queries.states import keep_snapshots
from protoconch.records.rows import row_of
from protoconch.words import say
from protoconch.work.season_work import room_asked, season_algae

ZONE, MANAGER, SEED = "America/Nassau", "manager", 7
"""A zone of warm water; the place itself does not exist."""


class SignIn(NamedTuple):
    """How the first manager signs in; the password is kept nowhere."""

    name: str
    password: str


def begin_demonstration(now: datetime, tell: Callable[[str], None] = lambda _: None) -> SignIn:
    """The sign-in of the first manager of the invented hatchery, made with all that belongs to it.

    now: half a season was logged by then. tell: is told what is being done, in sentences.
    All is made together or nothing. Raises: BadInput, where somebody is known here already.
    """
    zone = ZoneInfo(ZONE)
    made_up = demo_for(
        now.astimezone(zone).date(), np.random.Generator(np.random.PCG64(SEED)), zone
    )
    here = read_hatchery(made_up.text, "demo.toml")
    tell(say("Planning the season of {name}, which is invented ...", name=here.name))
    plan = season(here, None)
    tell(say("Scheduling its algae ..."))
    room = room_asked(plan)
    algae = season_algae(plan, room) if room is not None else None
    tell(say("Logging half a season ..."))
    raw = made_up.entries(plan, species(here.species), algae)
    known = {vessel.name: vessel for vessel in vessels(here)}
    sign_in = SignIn(MANAGER, new_code())
    with transaction.atomic():
        site = start(made_up.text, ZONE, *sign_in).site
        for name in sorted({str(one["who"]) for one in raw} - {MANAGER}):
            new_person(site, name, None, Role.CREW)
        asked = question(site)
        keep(site, asked, KeptPlan(asked.description.pk, plan))
        keep(site, asked, KeptAlgae(asked.description.pk, algae))
        rows = [row_of(site, read_entry(one, known)) for one in raw]
        Entry.objects.bulk_create(rows, batch_size=500)
    keep_snapshots(site)
    return sign_in
