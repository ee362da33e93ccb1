"""A made-up log of any length: animals, cultures, water, care, corrections; some of it contrary."""

from datetime import UTC, datetime, timedelta
from random import Random
from uuid import UUID

from protoconch.hatchery.vessels import vessels
from protoconch.log.reading import read_entry
from protoconch.records.models import Entry
from protoconch.records.queries.site import hatchery
from protoconch.records.rows import row_of

DAY_ONE = datetime(2027, 4, 12, 8, 0, tzinfo=UTC)
OFTEN = {"stocked": 6, "counted": 18, "fed": 20, "read": 20, "lost": 8, "moved": 6,
         "water changed": 6, "note": 10}  # fmt: skip
TANKS = ("large tank 1", "large tank 2", "large tank 3", "small tank 1")


def rolling(seed):
    """Dice that fall the same way for the same seed."""
    return Random(seed)  # noqa: S311 - nothing secret


def put(person, season, now):
    """These raw entries in the log, whatever judgement would say of them."""
    known = {one.name: one for one in vessels(hatchery(person.site))}
    whole = ({"task": "", "where": "", "who": person.name, "arrived": now} | raw for raw in season)
    rows = [row_of(person.site, read_entry(raw, known)) for raw in whole]
    Entry.objects.bulk_create(rows, batch_size=500)


def some_season(dice, count, days=120, start=DAY_ONE):
    """Raw entries in the order in which they happened; some correct or confirm earlier ones."""
    made = []
    for place in range(count):
        happened = start + timedelta(days=days * place / count, minutes=dice.randint(0, 20))
        one = {"id": str(UUID(int=dice.getrandbits(128))), "happened": happened.isoformat()}
        made.append(one | _content(dice, made, happened))
    return made


def _content(dice, made, happened):
    tank = dice.choice(TANKS)
    if dice.random() < 0.06 and made:
        return _pointing(dice, made, happened)
    kind = dice.choices(list(OFTEN), weights=list(OFTEN.values()))[0]
    task = f"{happened.date()}/feed/{tank}/27A" if kind == "fed" else ""
    return {"kind": kind, "where": tank, "task": task, "payload": _payload(kind, dice)}


def _payload(kind, dice):
    code = dice.choice("ABC")
    return {
        "stocked": {"batch": f"27{code}", "animals": dice.randint(2000, 20000), "litres": 400},
        "counted": {
            "aliquots": [dice.randint(5, 40) for _ in range(5)], "aliquot_ml": 500, "litres": 400,
        },
        "fed": {"foods": [{"food": "T-Iso", "litres": dice.randint(1, 20)}]},
        "read": {"quantity": "temperature", "value": dice.randint(26, 30)},
        "lost": {"animals": dice.randint(1, 300)},
        "moved": {"to": [dice.choice(TANKS)]},
        "water changed": {"share": 1.0},
        "note": {"text": f"note {dice.randint(1, 99)}"},
    }[kind]  # fmt: skip


def _pointing(dice, made, happened):
    of = dice.choice(made)
    if dice.random() < 0.3:
        return {"kind": "confirmed", "payload": {"of": of["id"], "stands": dice.random() < 0.8}}
    payload = {"of": of["id"]}
    if dice.random() < 0.4 or of["kind"] in ("correction", "confirmed"):
        payload["withdraw"] = True
    elif dice.random() < 0.5:
        moved = datetime.fromisoformat(of["happened"]) + timedelta(days=dice.uniform(-9, 9))
        payload["happened"] = min(moved, happened).isoformat()
    else:
        payload["where"] = dice.choice(TANKS)
    return {"kind": "correction", "payload": payload}
