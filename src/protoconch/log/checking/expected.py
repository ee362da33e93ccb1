"""What a field is likely to hold, to show beside it while it is typed."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.vessels import Vessel, vessel
from protoconch.log.checking.usual import density_of, length_range_mm, peak_per_ml, read_range
from protoconch.log.fields import field_of
from protoconch.log.numbers import bound
from protoconch.log.payloads.water import QUANTITIES
from protoconch.log.state import State
from protoconch.units import ends, text
from protoconch.words import joined, say


@dataclass(frozen=True, slots=True)
class Expected:
    """What a field had last and usually has.

    last: the last value. low, high: what is usual. unit: of them. None where nothing says.
    """

    last: float | None
    low: float | None
    high: float | None
    unit: str

    @property
    def sentence(self) -> str:
        """In words: "last 12.3 mm, usual 10 to 15 mm", or less, or nothing."""
        unit = self.unit or "1"
        said = [] if self.last is None else [say("last {last}", last=text(self.last, unit, 3))]
        if self.low is not None and self.high is not None:
            low, high = ends(self.low, self.high, unit, 3)
            said.append(say("usual {low} to {high}", low=low, high=high))
        return joined(said, ", ")


@dataclass(frozen=True, slots=True)
class _Asked:
    vessel: Vessel
    state: State
    hatchery: Hatchery
    species: Species
    when: datetime


Found = tuple[float | None, float | None, float | None]
NOTHING: Found = (None, None, None)


def expected_range(
    kind: str, field: str, where: str, state: State, *,
    hatchery: Hatchery, species: Species, when: datetime,
) -> Expected:  # fmt: skip
    """The last value and the usual range of a field in a place.

    kind: of the entry. field: of its payload; for a reading, the quantity that is read.
    where: the vessel. when: the moment for which it is asked.
    Raises: UnknownName, where there is no such vessel.
    """
    if kind == "read":
        return _reading(field, where, state, hatchery, when)
    asked = _Asked(vessel(hatchery, where), state, hatchery, species, when)
    rule = _RULES.get((kind, field))
    last, low, high = rule(asked) if rule is not None else NOTHING
    return Expected(last, low, high, field_of(kind, field).shown_unit)


def _reading(
    quantity: str, where: str, state: State, hatchery: Hatchery, when: datetime
) -> Expected:
    unit = QUANTITIES[quantity][0] if quantity in QUANTITIES else ""
    last = state.readings.get((where, quantity))
    usual = read_range(quantity, hatchery.temperature_c[when.month - 1])
    low, high = usual if usual is not None else (None, None)
    return Expected(last.value if last else None, low, high, "" if unit == "1" else unit)


def _animals(asked: _Asked) -> Found:
    """Up to what the ledger has, and no less than a tenth of it."""
    holding = asked.state.holdings.get(asked.vessel.name)
    if holding is None:
        return NOTHING
    return holding.alive, holding.alive / bound("ledger.far_off_times"), holding.alive


def _removable(asked: _Asked) -> Found:
    holding = asked.state.holdings.get(asked.vessel.name)
    return NOTHING if holding is None else (holding.alive, 0, holding.alive)


def _length(asked: _Asked) -> Found:
    holding = asked.state.holdings.get(asked.vessel.name)
    if holding is None:
        return NOTHING
    low, high = length_range_mm(asked.species, holding.stage) or (None, None)
    return holding.length_mm, low, high


def _larvae(asked: _Asked) -> Found:
    steps = asked.species.steps("veliger.density")
    if not steps or asked.vessel.unit != "L":
        return NOTHING
    value = steps[0][1]
    if value.low is None or value.high is None:
        return NOTHING
    return None, value.low * asked.vessel.size, value.high * asked.vessel.size


def _water(asked: _Asked) -> Found:
    holding = asked.state.holdings.get(asked.vessel.name)
    size = asked.vessel.size if asked.vessel.unit == "L" else None
    last = holding.litres if holding is not None else None
    return last, 0.0 if size else None, size or None


def _cells(asked: _Asked) -> Found:
    culture = asked.state.cultures.get(asked.vessel.name)
    if culture is None:
        return NOTHING
    peak = peak_per_ml(culture.species, asked.vessel.group)
    return density_of(culture), 0.0 if peak else None, peak[1] if peak else None


def _culture_litres(asked: _Asked) -> Found:
    culture = asked.state.cultures.get(asked.vessel.name)
    return NOTHING if culture is None else (culture.litres, 0.0, culture.litres)


def _vessel_litres(asked: _Asked) -> Found:
    return (None, 0.0, asked.vessel.size) if asked.vessel.size else NOTHING


def _room(asked: _Asked) -> Found:
    level = asked.state.levels.get(asked.vessel.name)
    held = level.litres if level is not None else 0.0
    return None, 0.0, max(0.0, asked.vessel.size - held) if asked.vessel.size else None


def _held(asked: _Asked) -> Found:
    level = asked.state.levels.get(asked.vessel.name)
    return NOTHING if level is None else (None, 0.0, level.litres)


_RULES: dict[tuple[str, str], Callable[[_Asked], Found]] = {
    ("counted", "animals"): _animals,
    ("counted", "litres"): _water,
    ("settled", "animals"): _animals,
    ("measured", "mean_mm"): _length,
    ("measured", "lengths_mm"): _length,
    ("stocked", "animals"): _larvae,
    ("stocked", "litres"): _water,
    ("thinned", "kept"): _removable,
    ("thinned", "removed"): _removable,
    ("moved", "animals"): _removable,
    ("lost", "animals"): _removable,
    ("released", "animals"): _removable,
    ("culture counted", "cells_per_ml"): _cells,
    ("harvested", "litres"): _culture_litres,
    ("inoculated", "litres"): _vessel_litres,
    ("pumped", "litres"): _room,
    ("drawn", "litres"): _held,
}
