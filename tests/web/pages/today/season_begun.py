"""A season that has begun: two batches in their tanks, by entries that an invented crew made."""

from datetime import datetime
from uuid import uuid4

from protoconch.operations.recording import record

ZONE = "-04:00"
DAY = "2027-05-20"
NOON = datetime.fromisoformat(f"{DAY}T11:00{ZONE}")


def stop_the_clock(monkeypatch, moment=NOON):
    """It is that moment, whenever somebody looks."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: moment)


def entry(kind, where, payload, day, hour="09:00", task="", year=2027):
    return {
        "id": str(uuid4()), "kind": kind, "where": where, "task": task, "payload": payload,
        "happened": f"{year}-{day}T{hour}{ZONE}",
    }  # fmt: skip


def begun():
    """Entries of the weeks before: collected, hatched, stocked, counted, measured."""
    made = []
    batches = (
        ("27C", "C1", "05-03", "05-08", "large tank 3", "incubator 1", 32_000),
        ("27D", "D1", "05-10", "05-15", "large tank 1", "incubator 2", 38_000),
    )
    for code, mass, collected, hatched, tank, incubator, larvae in batches:
        made += [
            entry("egg mass collected", "", {"mass": mass, "eggs": 200_000}, collected),
            entry(
                "incubator loaded", incubator, {"batch": code, "masses": [mass]}, collected, "12:00"
            ),
            entry("hatched", incubator, {"batch": code}, hatched, "07:00"),
            entry(
                "stocked", tank, {"batch": code, "animals": larvae, "litres": 400}, hatched, "10:00"
            ),
        ]
    aliquots = {"aliquots": [20, 17, 23, 19, 18], "aliquot_ml": 850, "litres": 400}
    return [
        *made,
        entry("counted", "large tank 3", aliquots, "05-18"),
        entry("measured", "large tank 3", {"mean_mm": 0.71, "animals": 30}, "05-18", "12:00"),
        entry("read", "reservoir", {"quantity": "temperature", "value": 28.4}, "05-19"),
    ]


def logged(person, entries=None, now=NOON):
    """Those entries in the log; gives them back as they were sent."""
    entries = begun() if entries is None else entries
    for answer in record(person, entries, now, sure=True):
        assert answer.outcome == "added", answer
    return entries
