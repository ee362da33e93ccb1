"""A made-up log of any length: animals, cultures, water, care, corrections; some of it contrary."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

DAY_ONE = datetime(2027, 4, 12, 8, 0, tzinfo=UTC)
TANKS = ("large tank 1", "large tank 2", "large tank 3", "small tank 1")


def some_season(dice, count, days=120, start=DAY_ONE):
    """Raw entries in the order in which they happened; some correct or confirm earlier ones."""
    made = []
    for place in range(count):
        happened = start + timedelta(days=days * place / count, minutes=dice.randint(0, 20))
        one = {"id": str(UUID(int=dice.getrandbits(128))), "happened": happened.isoformat()}
        made.append(one | _content(dice, made, happened))
    return made


def _content(dice, made, happened):
    roll = dice.random()
    tank = dice.choice(TANKS)
    if roll < 0.06 and made:
        return _pointing(dice, made, happened)
    if roll < 0.12:
        code = dice.choice("ABC")
        payload = {"batch": f"27{code}", "animals": dice.randint(2000, 20000), "litres": 400}
        return {"kind": "stocked", "where": tank, "payload": payload}
    if roll < 0.3:
        counts = [dice.randint(5, 40) for _ in range(5)]
        payload = {"aliquots": counts, "aliquot_ml": 500, "litres": 400}
        return {"kind": "counted", "where": tank, "payload": payload}
    if roll < 0.5:
        task = f"{happened.date()}/feed/{tank}/27A"
        payload = {"foods": [{"food": "T-Iso", "litres": dice.randint(1, 20)}]}
        return {"kind": "fed", "where": tank, "task": task, "payload": payload}
    if roll < 0.7:
        payload = {"quantity": "temperature", "value": dice.randint(26, 30)}
        return {"kind": "read", "where": tank, "payload": payload}
    if roll < 0.78:
        return {"kind": "lost", "where": tank, "payload": {"animals": dice.randint(1, 300)}}
    if roll < 0.84:
        return {"kind": "moved", "where": tank, "payload": {"to": [dice.choice(TANKS)]}}
    if roll < 0.9:
        return {"kind": "water changed", "where": tank, "payload": {"share": 1.0}}
    return {"kind": "note", "where": tank, "payload": {"text": f"note {dice.randint(1, 99)}"}}


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
