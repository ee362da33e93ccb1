"""What the invented crew reads, pumps, changes and stores besides the work list."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from protoconch.hatchery.vessels import vessels
from protoconch.operations.demo.crew import Crew

CARTRIDGE_DROP_KPA = (22.0, 5.5)
"""Of a fresh 5 µm cartridge, and what each day adds; invented."""


@dataclass(slots=True)
class Waterside:
    """What the waterside keeps from day to day. changed: day of the last cartridge."""

    changed: date
    lamp: date


def water_of_the_day(crew: Crew, keep: Waterside, day: date) -> None:
    """Readings, filling, cartridges and the lamp of one day, by the manager."""
    writing, rng = crew.writing, crew.truth.rng
    writing.turn_to(day, "morning", "manager")
    _probes(crew, day, 0.0)
    if day.toordinal() % 3 == 0:
        _read(crew, _reservoir(crew), "salinity", round(35.6 + float(rng.normal(0, 0.3)), 1))
    if day.toordinal() % 7 == 0 and "tray loop" in writing.known:
        _read(crew, "tray loop", "ammonia as nitrogen", round(float(rng.gamma(4, 0.008)), 3))
        _read(crew, "tray loop", "pH", round(8.05 + float(rng.normal(0, 0.05)), 2))
    _cartridge(crew, keep, day)
    _fill(crew, day)
    if day == keep.lamp and "UV unit" in writing.known:
        writing.write("lamp changed", "UV unit", {"hours_of_old": 8900})


def evening_readings(crew: Crew, day: date) -> None:
    """The probes once more in the evening, when tanks are warmest."""
    crew.writing.turn_to(day, "evening", "crew A")
    _probes(crew, day, 0.6)


def _probes(crew: Crew, day: date, warmer: float) -> None:
    """Temperature and oxygen of what is in use; of the reservoir the temperature."""
    rng = crew.truth.rng
    month_c = crew.hatchery.temperature_c[day.month - 1] + warmer
    _read(crew, _reservoir(crew), "temperature", round(month_c + float(rng.normal(0, 0.2)), 1))
    for vessel in _in_use(crew):
        _read(crew, vessel, "temperature", round(month_c + 0.3 + float(rng.normal(0, 0.3)), 1))
        _read(crew, vessel, "oxygen", round(6.1 - warmer / 3 + float(rng.normal(0, 0.2)), 1))
    if "tray loop" in crew.writing.known:
        _read(crew, "tray loop", "temperature", round(month_c + float(rng.normal(0, 0.2)), 1))
        _read(crew, "tray loop", "salinity", round(35.7 + float(rng.normal(0, 0.2)), 1))


def _in_use(crew: Crew) -> Iterator[str]:
    """Tanks with animals, and one tray and one nursery tank for all of them."""
    kinds: set[str] = set()
    for name in sorted(crew.writing.state.holdings):
        kind = crew.writing.known[name].kind
        if kind == "larval tank" or (kind in ("tray", "nursery tank") and kind not in kinds):
            kinds.add(kind)
            yield name


def _read(crew: Crew, where: str, quantity: str, value: float) -> None:
    crew.writing.write("read", where, {"quantity": quantity, "value": value}, minutes=0.4)


def _reservoir(crew: Crew) -> str:
    return next(v.name for v in vessels(crew.hatchery) if v.kind == "reservoir")


def _cartridge(crew: Crew, keep: Waterside, day: date) -> None:
    place, days = "5 µm stage", (day - keep.changed).days
    if place not in crew.writing.known or day.toordinal() % 2:
        return
    fresh, more = CARTRIDGE_DROP_KPA
    drop = fresh + more * days + float(crew.truth.rng.normal(0, 2))
    before = 180 + float(crew.truth.rng.normal(0, 3))
    _read(crew, place, "pressure before", round(before, 1))
    _read(crew, place, "pressure after", round(before - drop, 1))
    if drop > 103:
        crew.writing.write("cartridge changed", place, {"rating_um": 5})
        keep.changed = day


def _fill(crew: Crew, day: date) -> None:
    """A level every third day, and a filling where there is room and the sea allows it."""
    place, known = _reservoir(crew), crew.writing.known
    level, rng = crew.writing.state.levels.get(place), crew.truth.rng
    full = known[place].size or 18_000.0
    if level is None:
        _read(crew, place, "level", round(0.65 * full, -2))
    elif day.toordinal() % 3 == 0:
        seen = level.litres * float(rng.normal(1.0, 0.01))
        _read(crew, place, "level", min(round(seen, -1), full))
    now = crew.writing.state.levels[place].litres
    if now < 0.6 * full and rng.random() < 0.6:
        litres = round(0.9 * full - now, -2)
        told = {"litres": litres, "source": "sea", "minutes": round(litres / 90)}
        crew.writing.write("pumped", place, told, minutes=20)


def stores_and_words(crew: Crew, first: date, until: date, day: date) -> None:
    """Jars that come in and are used, losses, notes; on the days that are told below."""
    writing, since, left = crew.writing, (day - first).days, (until - day).days
    writing.turn_to(day, "evening", "manager")
    if since == 1:
        soon = until + timedelta(days=9)
        writing.write("received", "", {"item": "hydrogen peroxide 3 %", "amount": 1000,
                                       "unit": "mL", "expires": soon.isoformat()})  # fmt: skip
        later = until + timedelta(days=200)
        writing.write("received", "", {"item": "nitrate stock", "amount": 1000, "unit": "mL",
                                       "expires": later.isoformat()})  # fmt: skip
        writing.write("received", "", {"item": "pellets", "amount": 5000, "unit": "g",
                                       "lot": "invented 1"})  # fmt: skip
    if since > 1 and since % 7 == 2:
        writing.write("used", "", {"item": "nitrate stock", "amount": 25, "unit": "mL"})
    if since == 12:
        writing.write("note", "", {"text": "Squalls from the south-east. No filling tomorrow."})
    if since == 30:
        writing.write("note", "", {"text": "Visitors from the school. They held the large shells."})
    if left == 6:
        writing.write("cleaned", "5 µm stage", {"with_what": "fresh water"})
    if left == 4:
        _graded(crew)
    _losses(crew)


def _losses(crew: Crew) -> None:
    """Now and then a few dead shells on a tray."""
    state, rng = crew.writing.state, crew.truth.rng
    for name in sorted(state.holdings):
        there = state.holdings[name]
        if crew.writing.known[name].kind != "tray" or there.alive < 100 or rng.random() > 0.03:
            continue
        dead = int(rng.integers(3, 20))
        crew.writing.write("lost", name, {"animals": dead, "cause": "empty shells"})
        crew.truth.animals[name] = max(0.0, crew.truth.animals.get(name, 0.0) - dead)


def _graded(crew: Crew) -> None:
    """The first animals of the nursery sorted into two heaps that stay where they are."""
    state = crew.writing.state
    first = next((name for name in sorted(state.holdings)
                  if crew.writing.known[name].kind == "nursery tank"), None)  # fmt: skip
    if first is None:
        return
    alive = round(crew.truth.animals.get(first, 0.0))
    small = round(0.4 * alive)
    crew.writing.write("graded", first, {"classes": [
        {"from_mm": 4.0, "to_mm": 7.0, "animals": small},
        {"from_mm": 7.0, "to_mm": 12.0, "animals": alive - small}]})  # fmt: skip
