"""The invented hatchery in the middle of its season, with its outlook kept."""

from dataclasses import replace
from datetime import UTC, datetime

from protoconch.operations import looking_ahead
from protoconch.operations import outlook as working
from protoconch.records.queries.answers import question
from protoconch.records.queries.outlook import (
    keep_days,
    keep_outlook,
    kept_days,
    last_outlook,
)
from protoconch.records.queries.reading import last_arrived
from tests.web.pages.season import planted as invented

PARTICLES = 300
"""Fewer than a hatchery gets, so that the tests are quick."""


_made = {}


def looked_ahead_from(today):
    """A hatchery with its plan, its log and its outlook; returns site and plan."""
    site, plan = invented.planted(today)
    if today not in _made:
        _make(site)
        _made[today] = last_outlook(site), kept_days(site, question(site).key)
    outlook, days = _made[today]
    keep_outlook(site, replace(outlook, number=last_arrived(site).number))
    keep_days(site, days)
    return site, plan


def _make(site):
    usual = looking_ahead.PARTICLES, working.RECENT, working.EVERY
    looking_ahead.PARTICLES, working.RECENT, working.EVERY = PARTICLES, 8, 15
    working.forget()
    try:
        while working.make_outlooks(datetime.now(UTC)):
            pass
    finally:
        looking_ahead.PARTICLES, working.RECENT, working.EVERY = usual
        working.forget()
