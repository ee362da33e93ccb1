"""Looking at the season with something changed, and keeping or dropping what was looked at."""

from collections.abc import Callable, Hashable
from threading import Lock
from typing import Any, TypeVar

from protoconch.animals.profiles import species
from protoconch.errors import BadInput
from protoconch.pictures.season_words import as_in_log
from protoconch.records.models import Person, Site, WhatIf
from protoconch.season.answer import SeasonPlan
from protoconch.season.what_if import (
    CLOSE,
    QUICK,
    Change,
    Changed,
    Prepared,
    change_of,
    prepared,
    what_if,
)
from protoconch.sources.reading import load_table
from protoconch.words import say

Made = TypeVar("Made")
MOST_KEPT = 40


class ByPlan:
    """Things that follow from a plan, kept in memory while it is the plan in force."""

    def __init__(self, most: int) -> None:
        """So many at most; the oldest go first."""
        self._most, self._lock = most, Lock()
        self._kept: dict[Hashable, tuple[Any, Any]] = {}

    def of(self, plan: SeasonPlan, key: Hashable, make: Callable[[], Made], *also: object) -> Made:
        """What is kept under the key for that plan, made where it is not there yet.

        also: what else it follows from; kept with it, so that nothing else can pass for it.
        """
        owner = (plan.forecast, *also)
        place = (tuple(id(part) for part in owner), key)
        with self._lock:
            found = self._kept.get(place)
        if found is not None:
            return found[1]  # type: ignore[no-any-return]
        made = make()
        with self._lock:
            self._kept.pop(place, None)
            while len(self._kept) >= self._most:
                del self._kept[next(iter(self._kept))]
            self._kept[place] = owner, made
        return made


_ready = ByPlan(6)
_looked = ByPlan(200)


def _prepared(plan: SeasonPlan, draws: int) -> Prepared:
    def make() -> Prepared:
        named, snail = as_in_log(plan), species(plan.hatchery.species)
        return prepared(named, snail, load_table("season"), draws)

    return _ready.of(plan, draws, make)


def looked_at(plan: SeasonPlan, change: Change, *, closely: bool = False) -> Changed:
    """What becomes of the season with a change.

    closely: in more futures, for what is kept.
    Raises: BadInput, OutOfRange for a change that makes no sense.
    """
    draws = CLOSE if closely else QUICK
    key = (draws, repr(sorted(change.written().items())))
    return _looked.of(plan, key, lambda: what_if(_prepared(plan, draws), change))


def kept(site: Site) -> list[WhatIf]:
    """What was kept, the latest first."""
    return list(WhatIf.objects.filter(site=site).order_by("-id"))


def kept_one(site: Site, number: int) -> WhatIf | None:
    """One that was kept; None where it is gone."""
    return WhatIf.objects.filter(site=site, pk=number).first()


def keep(person: Person, name: str, plan: SeasonPlan, change: Change) -> WhatIf:
    """Keep a changed season under a name.

    Raises: BadInput, where nothing is changed, the name is empty or taken, or too many are kept.
    """
    name = name.strip()
    mine = WhatIf.objects.filter(site=person.site)
    if not name:
        raise BadInput(say("Give it a name by which you will know it again."))
    if mine.filter(name=name).exists():
        raise BadInput(
            say("There is one called {name} already; give this one another name.", name=name)
        )
    if mine.count() >= MOST_KEPT:
        raise BadInput(say("{number} are kept already; drop one first.", number=MOST_KEPT))
    seen = looked_at(plan, change, closely=True)
    if seen.change.is_none:
        raise BadInput(say("Nothing is changed, so there is nothing to keep."))
    return WhatIf.objects.create(
        site=person.site, name=name, by=person.name, change=seen.change.written(),
        answer={
            "odds": seen.odds.value, "by": seen.by, "error": seen.error, "draws": seen.draws,
            "expected": seen.expected, "p10": seen.p10, "p90": seen.p90,
            "sentence": seen.sentence, "told": list(seen.told), "gave": list(seen.gave),
        },
    )  # fmt: skip


def drop(person: Person, number: int) -> str:
    """Drop a changed season that was kept; returns its name, empty where it was gone already."""
    found = kept_one(person.site, number)
    if found is None:
        return ""
    found.delete()
    return found.name


def change_kept(row: WhatIf) -> Change:
    """The change of one that was kept. Raises: BadInput, where it was kept by another version."""
    return change_of(row.change)
