"""Readings put in their order."""

from datetime import UTC, datetime, timedelta
from uuid import uuid4

from protoconch.log.entry import Entry
from protoconch.log.payloads.water import Pumped, Read
from protoconch.work.waterside.readings import Seen, nearest, readings_of, since

NOON = datetime(2027, 7, 1, 12, tzinfo=UTC)


def read(value, hours=0.0, where="tray loop", quantity="temperature"):
    when = NOON + timedelta(hours=hours)
    told = Read(quantity=quantity, value=value)
    return Entry(uuid4(), "read", when, when, "crew A", where, told)


def test_readings_stand_in_their_order_whatever_the_order_of_arrival():
    pumped = Entry(uuid4(), "pumped", NOON, NOON, "crew A", "reservoir", Pumped(litres=10))
    found = readings_of([read(28.0, 5), pumped, read(27.0), read(35, where="sea")])
    assert [one.value for one in found["tray loop", "temperature"]] == [27.0, 28.0]
    assert set(found) == {("tray loop", "temperature"), ("sea", "temperature")}


def test_readings_within_an_hour_belong_together_and_the_nearest_is_taken():
    seen = tuple(Seen(uuid4(), NOON + timedelta(minutes=m), float(m), "crew A") for m in (0, 50))
    assert nearest(seen, NOON + timedelta(minutes=30)).value == 50
    assert nearest(seen, NOON + timedelta(minutes=20)).value == 0
    assert nearest(seen, NOON - timedelta(minutes=61)) is None


def test_only_what_was_read_since_a_change_counts():
    seen = tuple(Seen(uuid4(), NOON + timedelta(hours=h), float(h), "crew A") for h in range(3))
    assert [one.value for one in since(seen, NOON + timedelta(hours=1))] == [1, 2]
    assert since(seen, None) == seen
