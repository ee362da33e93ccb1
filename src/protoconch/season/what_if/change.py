"""What can be changed in a planned season to see what becomes of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from datetime import date
from typing import Any

from protoconch.errors import BadInput, OutOfRange
from protoconch.season.answer import SeasonPlan
from protoconch.words import say

DYING = ("egg", "veliger", "settling", "post-larva", "juvenile")
"""Where a belief of survival can be changed, in the order of a life."""
SLOWEST, FASTEST = 0.1, 10.0
MOST_TANKS = 6
WARMER_C = 4.0
"""Degrees by which the water may be otherwise than the hatchery's months [°C]."""


@dataclass(frozen=True, slots=True)
class Change:
    """What is other than planned; None, 0 and nothing mean as planned.

    animals, size_mm, by: the target. tanks, trays: how many of a kind the room has, by name;
    more_tanks: larval tanks that each batch gets beyond the plan, or fewer. algae_g: dry algae to
    be had on a day [g]; nursery_m2: floor of the nursery [m²]; egg_masses: what the permit allows.
    without: codes of batches that are left out. dying: how many times as fast animals die, by a
    name in DYING (2 = twice as fast); growing: how many times as fast they grow. warmer_c: how much
    warmer the water is all season [°C].
    """

    animals: int | None = None
    size_mm: float | None = None
    by: date | None = None
    tanks: Mapping[str, int] = field(default_factory=dict)
    trays: Mapping[str, int] = field(default_factory=dict)
    more_tanks: int = 0
    algae_g: float | None = None
    nursery_m2: float | None = None
    egg_masses: int | None = None
    dying: Mapping[str, float] = field(default_factory=dict)
    growing: float | None = None
    warmer_c: float | None = None
    without: tuple[str, ...] = ()

    @property
    def is_none(self) -> bool:
        """Whether nothing is changed."""
        return not self.written()

    @property
    def moves_animals(self) -> bool:
        """Whether the animals fare otherwise, not only what is asked of them."""
        return bool(self.written().keys() - {"animals"})

    def written(self) -> dict[str, Any]:
        """Only what is changed, as plain values that a file of text can hold."""
        found: dict[str, Any] = {}
        for part in fields(self):
            value = getattr(self, part.name)
            if value is None or (value in ({}, 0, ()) and part.name in (
                    "tanks", "trays", "dying", "more_tanks", "without")):  # fmt: skip
                continue
            if isinstance(value, tuple):
                value = list(value)
            if isinstance(value, Mapping):
                value = dict(value)
            found[part.name] = value.isoformat() if isinstance(value, date) else value
        return found


def change_of(written: Mapping[str, Any]) -> Change:
    """A change from what `Change.written` gave. Raises: BadInput where it is none."""
    known = {part.name for part in fields(Change)}
    if unknown := sorted(set(written) - known):
        raise BadInput(say("A season cannot be changed in {parts}.", parts=", ".join(unknown)))
    parts = dict(written)
    if isinstance(parts.get("by"), str):
        parts["by"] = date.fromisoformat(parts["by"])
    parts["without"] = tuple(parts.get("without", ()))
    return Change(**parts)


def bare(change: Change, plan: SeasonPlan) -> Change:
    """The same change without the parts that are as planned already."""
    hatchery, target = plan.hatchery, plan.target

    def other(value: Any, planned: Any) -> Any:
        return None if value == planned else value

    rooms = {tank.name: tank.count for tank in hatchery.larval_tanks}
    trays = {tray.name: tray.count for tray in hatchery.trays}
    return Change(
        animals=other(change.animals, target.animals),
        size_mm=other(change.size_mm, target.size_mm),
        by=other(change.by, target.by),
        tanks={name: n for name, n in change.tanks.items() if rooms.get(name) != n},
        trays={name: n for name, n in change.trays.items() if trays.get(name) != n},
        more_tanks=change.more_tanks,
        algae_g=other(change.algae_g, hatchery.algae_dry_g_per_day),
        nursery_m2=other(change.nursery_m2, hatchery.nursery_area_m2),
        egg_masses=other(change.egg_masses, hatchery.permit.egg_masses),
        dying={name: times for name, times in change.dying.items() if times != 1.0},
        growing=other(change.growing, 1.0),
        warmer_c=other(change.warmer_c, 0.0),
        without=change.without,
    )


def checked(change: Change, plan: SeasonPlan, low_mm: float, days_beyond: int) -> None:
    """Refuse a change that makes no sense.

    low_mm: length at which animals enter the nursery. days_beyond: how much later a date may be.
    Raises: OutOfRange, BadInput; each says what would be right.
    """
    first, last = plan.forecast.first_day, plan.target.by.toordinal() + days_beyond
    if change.by is not None and not first.toordinal() < change.by.toordinal() <= last:
        raise BadInput(
            say(
                "The date {day} cannot be looked at: give one after {first} and up to {last}.",
                day=change.by,
                first=first,
                last=date.fromordinal(last),
            )
        )
    _within(say("the target"), change.animals, 1, 10_000_000, "animals")
    _within(say("the size"), change.size_mm, low_mm, 300, "mm")
    _within(say("the algae"), change.algae_g, 0, 1e6, "g")
    _within(say("the nursery floor"), change.nursery_m2, 0, 1e6, "m²")
    _within(say("the egg masses"), change.egg_masses, 0, 1000, "")
    _within(say("the tanks more for each batch"), change.more_tanks, -MOST_TANKS, MOST_TANKS, "")
    _named(say("larval tank"), change.tanks, [tank.name for tank in plan.hatchery.larval_tanks])
    _named(say("tray"), change.trays, [tray.name for tray in plan.hatchery.trays])
    _named(say("stage"), change.dying, DYING)
    _named(say("batch"), dict.fromkeys(change.without, 1), [b.code for b in plan.batches])
    _within(say("the times as fast that animals grow"), change.growing, 0.5, 2.0, "")
    _within(say("the warming of the water"), change.warmer_c, -WARMER_C, WARMER_C, "°C")
    for name, times in change.dying.items():
        _within(say("the times as fast that {name} die", name=name), times, SLOWEST, FASTEST, "")


def _within(what: str, value: float | None, low: float, high: float, unit: str) -> None:
    if value is not None and not low <= value <= high:
        raise OutOfRange(what, value, low, high, unit)


def _named(what: str, given: Mapping[str, float], known: list[str] | tuple[str, ...]) -> None:
    for name, number in given.items():
        if name not in known:
            raise BadInput(
                say(
                    "There is no {what} called {name}; there are {known}.",
                    what=what,
                    name=name,
                    known=", ".join(known),
                )
            )
        if not 0 <= number <= 1000:
            raise OutOfRange(say("the number of {name}", name=name), number, 0, 1000, "")
