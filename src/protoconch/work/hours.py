"""Hours of work that a lot needs: one larval tank and all that comes of it.

A day's list may be lighter than the hours reserved for it, never heavier. The longer chores take
turns: a larval tank is changed and counted on one day and measured on the next, so the heavier of
the two days is what the plan must find hands for.
"""

from collections.abc import Mapping

from protoconch.errors import UnknownName
from protoconch.sources.values import SourcedValue
from protoconch.work.parameters import work_values

DAILY_STAGES = ("egg", "veliger", "post-larva", "juvenile")
EVENTS = ("collect", "stock", "thin", "induce", "move", "grade", "release")


def daily_hours(
    stage: str,
    litres: float,
    trays: int,
    nursery_m2: float,
    *,
    masses: float = 1,
    values: Mapping[str, SourcedValue] | None = None,
) -> float:
    """Hours of work to keep on any one day for a lot in that stage [h].

    stage: "egg" (incubator), "veliger" (larval tank), "post-larva" (trays) or "juvenile"
        (nursery); any other, such as "" for a day without animals, is refused.
    litres: water of its larval tank [L]. trays: number of its trays.
    nursery_m2: nursery floor it covers on that day [m²].
    masses: pieces of egg masses in the incubator that belong to the lot; a batch of several lots
        gives each its part.
    values: the work table, by default the one of the sources.
    Raises: UnknownName.
    """
    table = work_values() if values is None else values
    if stage == "egg":
        return _minutes(table, "incubator.mass") * masses / 60
    if stage == "veliger":
        return veliger_minutes(table) / 60
    if stage == "post-larva":
        return post_larva_minutes(trays, table) / 60
    if stage == "juvenile":
        return juvenile_minutes(nursery_m2, table) / 60
    raise UnknownName(f"No work is known for the stage {stage!r}; it is one of {DAILY_STAGES}.")


def event_hours(
    kind: str,
    litres: float,
    trays: int,
    animals: float,
    *,
    values: Mapping[str, SourcedValue] | None = None,
) -> float:
    """Hours that a single event of a lot adds to its day [h].

    kind: "collect" (one trip, whatever the number of lots it serves), "stock", "thin", "induce"
        (with the move to trays), "move" (to the nursery), "grade" or "release".
    litres: water of its larval tank [L]. trays: number of its trays.
    animals: number handled, where the work goes with it (grade, release).
    values: the work table, by default the one of the sources.
    Raises: UnknownName.
    """
    table = work_values() if values is None else values
    if kind not in EVENTS:
        raise UnknownName(f"No work is known for the event {kind!r}; it is one of {EVENTS}.")
    minutes = {
        "collect": lambda: _minutes(table, "collect.trip"),
        "stock": lambda: _minutes(table, "stock.tank"),
        "thin": lambda: _minutes(table, "thin.tank"),
        "induce": lambda: _minutes(table, "induce.tank"),
        "move": lambda: _minutes(table, "move.tray") * trays,
        "grade": lambda: _minutes(table, "grade.per_100") * animals / 100,
        "release": lambda: _minutes(table, "release.per_100") * animals / 100,
    }[kind]()
    return minutes / 60


def veliger_minutes(values: Mapping[str, SourcedValue]) -> float:
    """Minutes to keep on any day for one larval tank [min]."""
    changing = _minutes(values, "water_change.tank") + _minutes(values, "count.tank")
    return _minutes(values, "feed.tank") + max(changing, _minutes(values, "measure.sample"))


def post_larva_minutes(trays: int, values: Mapping[str, SourcedValue]) -> float:
    """Minutes to keep on any day for the trays of one lot [min]."""
    return _minutes(values, "tray.day") * trays + _minutes(values, "measure.sample")


def juvenile_minutes(nursery_m2: float, values: Mapping[str, SourcedValue]) -> float:
    """Minutes to keep on any day for the nursery floor of one lot [min]."""
    siphon = _minutes(values, "siphon.m2") * nursery_m2
    pellets = _minutes(values, "pellets.m2") * nursery_m2
    return pellets + max(siphon, _minutes(values, "measure.sample"))


def _minutes(values: Mapping[str, SourcedValue], name: str) -> float:
    return values[name].number
