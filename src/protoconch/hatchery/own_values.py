"""A hatchery's own numbers that its log has taught it, told apart from those typed in by hand.

What a number was learned from stands in its `place`, in the file for everybody to read: the
seasons with their batches and the things seen of them, and the number that it replaced.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.sources.reading import load_table
from protoconch.sources.references import OWN
from protoconch.sources.values import SourcedValue

OF_COUNTING = ("count.clumping_k", "count.dead_seen_share")
"""Numbers of counting that a hatchery may have of its own, besides those of animals and season."""
_SEASON = re.compile(r"season of (\d{4}-\d{2}-\d{2}) \((\d+) batch(?:es)?, (\d+) things? seen\)")
_BEFORE = re.compile(r"; before: (.+)$")


@dataclass(frozen=True, slots=True)
class LoggedSeason:
    """A season behind a number. first_day: its day 0; batches, seen: what the log has of it."""

    first_day: date
    batches: int
    seen: int


def may_be_own(profile: Species) -> dict[str, SourcedValue]:
    """Every number in whose place a hatchery may have its own, by name."""
    counting = load_table("outlook")
    return {**load_table("season"), **{name: counting[name] for name in OF_COUNTING},
            **profile.values}  # fmt: skip


def place_of(seasons: Sequence[LoggedSeason], before: str) -> str:
    """The place of a number learned from these seasons. before: the number it replaced, written."""
    told = (
        f"season of {one.first_day} ({one.batches} batch{'es' if one.batches != 1 else ''}, "
        f"{one.seen} thing{'s' if one.seen != 1 else ''} seen)"
        for one in sorted(seasons, key=lambda one: one.first_day)
    )
    return f"{', '.join(told)}; before: {before}"


def learned_from(value: SourcedValue) -> tuple[LoggedSeason, ...]:
    """The seasons that taught a number; empty for one typed in by hand or published."""
    if value.source != OWN:
        return ()
    return tuple(LoggedSeason(date.fromisoformat(day), int(batches), int(seen))
                 for day, batches, seen in _SEASON.findall(value.place))  # fmt: skip


def before_of(value: SourcedValue) -> str:
    """What a learned number replaced, as written; empty where it was not learned."""
    found = _BEFORE.search(value.place)
    return found[1] if found and learned_from(value) else ""


def learned(own: Mapping[str, SourcedValue]) -> dict[str, SourcedValue]:
    """Those of a hatchery's own numbers that its log has taught it."""
    return {name: value for name, value in own.items() if learned_from(value)}


def without_learned(hatchery: Hatchery, since: date | None = None) -> Hatchery:
    """The hatchery without what its log has taught it.

    since: only what seasons from that day on have taught; None: all of it.
    """
    kept = {
        name: value for name, value in hatchery.own_values.items()
        if not any(since is None or one.first_day >= since for one in learned_from(value))
    }  # fmt: skip
    return hatchery if len(kept) == len(hatchery.own_values) else replace(hatchery, own_values=kept)
