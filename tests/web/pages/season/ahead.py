"""The invented hatchery in the middle of its season, with its outlook kept."""

from dataclasses import replace
from datetime import UTC, datetime
from functools import cache, partial
from pathlib import Path

from protoconch.operations import looking_ahead
from protoconch.operations import outlook as working
from protoconch.records.queries.answers import question
from protoconch.records.queries.outlook import (
    KeptDays,
    KeptOutlook,
    keep_days,
    keep_outlook,
    kept_days,
    last_outlook,
)
from protoconch.records.queries.reading import last_arrived
from tests.fixtures.kept import kept
from tests.web.pages.season import planted as invented

PARTICLES = 300
RECENT, EVERY = 8, 15
"""Fewer particles and days than a hatchery gets, so that the tests are quick."""


def looked_ahead_from(today):
    """A hatchery with its plan, its log and its outlook; returns site and plan."""
    site, plan = invented.planted(today)
    outlook, days = _made(site, today)
    keep_outlook(site, replace(outlook, number=last_arrived(site).number))
    keep_days(site, days)
    return site, plan


@cache
def _made(site, today):
    """The last outlook and those of past days; the same for every site so planted."""
    worked_out = []

    def made(which):
        if not worked_out:
            worked_out.extend(_work_out(site))
        return worked_out[which]

    log = Path(invented.__file__).read_text("utf-8")
    asked = f"{question(site).key} {today} {PARTICLES} {RECENT} {EVERY} {log}"
    return (
        kept(KeptOutlook, asked, partial(made, 0)),
        kept(KeptDays, asked, partial(made, 1)),
    )


def _work_out(site):
    usual = looking_ahead.PARTICLES, working.RECENT, working.EVERY
    looking_ahead.PARTICLES, working.RECENT, working.EVERY = PARTICLES, RECENT, EVERY
    working.forget()
    try:
        while working.make_outlooks(datetime.now(UTC)):
            pass
    finally:
        looking_ahead.PARTICLES, working.RECENT, working.EVERY = usual
        working.forget()
    return last_outlook(site), kept_days(site, question(site).key)
