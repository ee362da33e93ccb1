"""The outlook is worked out in the background when the log has grown, and kept."""

from dataclasses import replace
from datetime import datetime, time, timedelta
from uuid import uuid4
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from protoconch.errors import BadInput
from protoconch.hatchery.reading import demo_hatchery
from protoconch.hatchery.vessels import vessels
from protoconch.log.entry import Entry
from protoconch.log.payloads.words import Confirmed
from protoconch.log.reading import read_entry
from protoconch.log.state import EMPTY, Doubt, Holding
from protoconch.operations import looking_ahead
from protoconch.operations import outlook as working
from protoconch.operations.recording import confirm, record
from protoconch.records.models import Answer
from protoconch.records.queries.answers import planned
from protoconch.records.queries.log import state
from protoconch.records.queries.outlook import OUTLOOK, looked_ahead
from protoconch.season.outlook.next_action import Choices
from tests.web.pages.season import planted as invented

pytestmark = pytest.mark.django_db
TODAY = invented.TODAY
NOW = datetime.combine(TODAY, time(18), ZoneInfo(invented.ZONE))
"""After all that was logged today, at whatever hour the tests run."""
NO_CHOICES = Choices(0.0, 0.0, (), np.zeros(0), ())


@pytest.fixture(autouse=True)
def nothing_remembered(monkeypatch):
    """Fewer particles than a hatchery gets, and no look for what would help: quick tests."""
    monkeypatch.setattr(looking_ahead, "PARTICLES", 200)
    monkeypatch.setattr(working, "what_helps", lambda _: (NO_CHOICES, ()))
    working.forget()
    yield
    working.forget()


@pytest.fixture
def season(db):
    return invented.planted(TODAY, compare=False)


@pytest.fixture
def no_past(monkeypatch):
    """Past days are left alone."""
    monkeypatch.setattr(working, "_days_wanted", lambda *_: [])


def made_until_done(now=NOW):
    rounds = 1
    while working.make_outlooks(now):
        rounds += 1
    return rounds


def counted(site, animals, *, sure=True):
    """Somebody counts the animals of one vessel again."""
    there = state(site)
    where = max(there.holdings.values(), key=lambda one: one.alive)
    person = invented.person(site, f"crew {uuid4().hex[:6]}")
    raw = {"id": str(uuid4()), "kind": "counted", "happened": NOW.isoformat(),
           "where": where.vessel, "payload": {"animals": int(animals(where.alive))}}  # fmt: skip
    return person, record(person, [raw], NOW, sure=sure)[0]


def test_nothing_is_looked_ahead_for_before_the_log_has_begun(db):
    site, _plan = invented.planted(TODAY, compare=False, logged=False)
    assert looked_ahead(site).making == "not asked"
    assert not working.make_outlooks(NOW)
    assert not Answer.objects.filter(name=OUTLOOK).exists()


def test_it_is_made_once_and_again_when_an_animal_is_counted(season, no_past, monkeypatch):
    site, _plan = season
    monkeypatch.setattr(working, "what_helps", looking_ahead.what_helps)
    before = looked_ahead(site)
    assert (before.outlook, before.making) == (None, "being made")
    working.make_outlooks(NOW)
    first = looked_ahead(site)
    assert first.making == "ready"
    assert first.outlook.as_of == TODAY
    assert first.outlook.entries_used > 20
    assert first.outlook.effective_sample > 100
    assert first.actions
    working.make_outlooks(NOW)
    assert looked_ahead(site).made == first.made
    counted(site, lambda alive: alive * 0.6)
    assert looked_ahead(site).making == "being made"
    assert looked_ahead(site).outlook is first.outlook, "the page never waits"
    working.make_outlooks(NOW)
    second = looked_ahead(site)
    assert second.making == "ready"
    assert second.outlook.entries_used == first.outlook.entries_used + 1
    assert second.outlook.expected != first.outlook.expected
    assert Answer.objects.filter(name=OUTLOOK).count() == 1


def test_a_word_about_a_shelf_does_not_ask_for_another(season, no_past):
    site, _plan = season
    working.make_outlooks(NOW)
    made = looked_ahead(site).made
    person = invented.person(site, "crew B")
    raw = {"id": str(uuid4()), "kind": "note", "happened": NOW.isoformat(),
           "payload": {"text": "The shelf is painted."}}  # fmt: skip
    assert record(person, [raw], NOW)[0].outcome == "added"
    assert looked_ahead(site).making == "ready"
    working.make_outlooks(NOW)
    assert looked_ahead(site).made == made


def test_a_new_day_asks_for_another(season, no_past):
    site, _plan = season
    working.make_outlooks(NOW)
    working.make_outlooks(NOW + timedelta(days=1))
    assert looked_ahead(site).outlook.as_of == TODAY + timedelta(days=1)


def test_a_count_that_cannot_be_true_moves_nothing_until_a_person_stands_by_it(season, no_past):
    site, _plan = season
    working.make_outlooks(NOW)
    first = looked_ahead(site).outlook
    person, said = counted(site, lambda alive: alive * 10)
    assert said.outcome == "added"
    doubts = state(site).doubts
    working.make_outlooks(NOW)
    wild = looked_ahead(site).outlook
    assert any(said.entry.id in doubt.entries for doubt in doubts) or said.entry.id in {
        identity for identity, _ in wild.doubted
    }
    assert wild.expected == pytest.approx(first.expected, rel=0.01)
    confirm(person, said.entry.id, NOW)
    working.make_outlooks(NOW)
    believed = looked_ahead(site).outlook
    assert said.entry.id not in {identity for identity, _ in believed.doubted}
    assert believed.entries_used == wild.entries_used + 1 == first.entries_used + 1


def test_a_restart_changes_nothing_but_the_noise(season, no_past):
    site, _plan = season
    working.make_outlooks(NOW)
    counted(site, lambda alive: alive)
    working.make_outlooks(NOW)
    went_on = looked_ahead(site).outlook
    working.forget()
    Answer.objects.filter(name=OUTLOOK).delete()
    working.make_outlooks(NOW)
    afresh = looked_ahead(site).outlook
    assert afresh.odds.value == pytest.approx(went_on.odds.value, abs=0.1)
    assert afresh.expected == pytest.approx(went_on.expected, rel=0.1)


def test_a_fault_is_told_and_not_tried_again_until_something_changes(season, monkeypatch):
    site, _plan = season
    faults = iter((BadInput("The plan has no water."), ZeroDivisionError()))

    def broken(*_):
        raise next(faults)

    monkeypatch.setattr(working, "looked_from", broken)
    for said in ("The plan has no water.", working.OUR_FAULT):
        Answer.objects.filter(name=OUTLOOK).delete()
        assert not working.make_outlooks(NOW)
        known = looked_ahead(site)
        assert (known.outlook, known.making, known.why) == (None, "failed", said)
    assert not working.make_outlooks(NOW), "it is not tried again"


def test_another_target_takes_the_outlook_of_the_old_one_away(season, no_past):
    site, _plan = season
    working.make_outlooks(NOW)
    text = site.descriptions.last().text.replace("animals = 1200", "animals = 900", 1)
    site.descriptions.create(text=text, by="the test")
    assert looked_ahead(site).outlook is None
    assert not working.make_outlooks(NOW), "there is no plan for it yet"
    assert planned(site).making == "not asked"


def test_the_temperatures_of_culture_vessels_and_cold_places_are_not_the_animals_water(season):
    _site, plan = season
    zone = ZoneInfo(invented.ZONE)
    known = {vessel.name: vessel for vessel in vessels(plan.hatchery)}
    tank = next(name for name, one in known.items() if one.kind == "larval tank")
    bottle = next(name for name, one in known.items() if one.kind == "algae vessel")
    read = [
        read_entry({"id": str(uuid4()), "kind": "read", "who": "crew A", "where": where,
                    "happened": NOW.astimezone(zone).isoformat(), "arrived": NOW,
                    "payload": {"quantity": "temperature", "value": 20.0}}, known)
        for where in (tank, bottle, "pantry fridge")
    ]  # fmt: skip
    assert [entry.where for entry in looking_ahead.bearing_on(read, plan.hatchery)] == [tank]


def test_past_days_are_worked_out_a_few_at_a_time_and_then_one_a_day(season, monkeypatch):
    site, _plan = season
    monkeypatch.setattr(working, "RECENT", 2)
    monkeypatch.setattr(working, "EVERY", 24)
    assert made_until_done() > 1
    days = looked_ahead(site).days
    told = [day.told.as_of for day in days]
    assert told == sorted(told)
    assert told[-2:] == [TODAY - timedelta(days=2), TODAY - timedelta(days=1)]
    assert all(day.toordinal() % 24 == 0 for day in told[:-2])
    assert [day.told.observations for day in days] == sorted(day.told.observations for day in days)
    assert days[-1].told.observations > days[0].told.observations
    assert days[-1].batches[0].soon.shape == (3, working.SOON)
    kept = looked_ahead(site)
    code = days[-1].batches[0].code
    low, middle, high = kept.expected_on(code, TODAY)
    assert 0 < low <= middle <= high
    assert kept.expected_on(code, told[0]) is None
    asked = []
    one_day = working._day

    def seen(memory, *parts):
        asked.append(parts[-1])
        return one_day(memory, *parts)

    monkeypatch.setattr(working, "_day", seen)
    assert made_until_done(NOW + timedelta(days=1)) == 1
    assert asked == [TODAY]


def test_what_the_log_counts_in_spite_of_a_doubt_is_counted_here_as_well():
    wild, odd, later = uuid4(), uuid4(), uuid4()
    there = replace(EMPTY, doubts=(
        Doubt((wild, uuid4()), "tray 1", NOW, "It is ten times too high."),
        Doubt((odd, uuid4()), "tray 2", NOW, "It is odd, and counted.", counted=True),
    ))  # fmt: skip
    assert looking_ahead.doubted(there) == {wild}
    said = Entry(uuid4(), "confirmed", NOW, NOW, "manager", "", Confirmed(of=later, by_whom="M"))
    assert looking_ahead.doubted(there, [said], NOW.date()) == {wild}
    before = NOW.date() - timedelta(days=1)
    assert looking_ahead.doubted(there, [said], before) == {wild, later}, "nobody had confirmed it"


def test_animals_of_an_earlier_season_are_not_this_seasons():
    hatchery = demo_hatchery()
    known = {vessel.name: vessel for vessel in vessels(hatchery)}
    zone = ZoneInfo(invented.ZONE)

    def told(hour, kind, where, **payload):
        when = datetime(2027, 5, 1, hour, tzinfo=zone)
        return read_entry({"id": str(uuid4()), "kind": kind, "who": "crew A", "where": where,
                           "happened": when, "arrived": when, "payload": payload},
                          known)  # fmt: skip

    old = Holding("raceway 1", "26A", "juvenile", NOW, 500, NOW)
    before = replace(EMPTY, holdings={"raceway 1": old})
    log = [
        told(8, "counted", "raceway 1", animals=480),
        told(9, "moved", "raceway 1", to=["tray 1"]),
        told(10, "counted", "tray 1", animals=470),
        told(11, "stocked", "large tank 1", batch="27A", animals=30000, litres=400),
        told(12, "read", "raceway 1", quantity="temperature", value=27.0),
        told(13, "moved", "large tank 1", to=["tray 1"]),
        told(14, "counted", "tray 1", animals=900),
        told(15, "released", "raceway 1", animals=480, purpose="release"),
    ]
    kept = looking_ahead.bearing_on(log[::-1], hatchery, before)
    assert kept == [log[n] for n in (3, 4, 5, 6)]
    assert looking_ahead.bearing_on(log, hatchery) == log
