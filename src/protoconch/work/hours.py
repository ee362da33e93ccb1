"""Hours of work that a lot needs: one larval tank and all that comes of it.

A plan keeps these hours free; the list of a day may be shorter, never longer. To keep the two
close, long chores take turns: a larval tank is changed on one day and counted or measured on the
next, a sample from the trays is measured ten animals a lot and day, and in the nursery one batch
is measured on a day.
"""

from collections.abc import Mapping

from protoconch.errors import OutOfRange, UnknownName
from protoconch.sources.values import SourcedValue
from protoconch.words import say
from protoconch.work.parameters import table_values

STAGES = ("egg", "veliger", "post-larva", "juvenile")
EVENTS = ("collect", "stock", "thin", "induce", "split", "move", "grade", "release")
SAMPLE = 30
SAMPLE_OF_LOT = 10
"""Animals that a batch gives to a measuring every two weeks; and of them, while they are on the
trays, from one lot on one day."""

Minutes = Mapping[str, SourcedValue]


def daily_hours(
    stage: str,
    litres: float,
    trays: int,
    nursery_m2: float,
    *,
    masses: float = 1.0,
    minutes: Minutes | None = None,
) -> float:
    """Hours of work to keep free for a lot on each day that it spends in a stage [h].

    stage: "egg" (collecting to the day before hatch), "veliger" (hatch to the day before the
        inducer), "post-larva" (trays) or "juvenile" (nursery).
    litres: water of its larval tank [L]; the table's minutes hold for any tank so far.
    trays: number of its trays.
    nursery_m2: nursery floor in use on that day [m²]; give the floor of all lots together, since
        the time for measuring is kept once for the whole nursery.
    masses: pieces of egg masses in the incubator that belong to the lot; a batch of several lots
        divides its pieces among them.
    minutes: the work table [min], by default that of the sources.
    Raises: UnknownName for another stage; OutOfRange for a number below 0 or no number.
    Source: common practice, by the work table.
    """
    _sound(litres=litres, trays=trays, nursery_m2=nursery_m2, masses=masses)
    table = table_values("work") if minutes is None else minutes
    if stage == "egg":
        return table["incubator.mass"].number * masses / 60
    if stage == "veliger":
        return veliger_minutes(table) / 60
    if stage == "post-larva":
        of_sample = SAMPLE_OF_LOT / SAMPLE * table["measure.sample"].number
        return (table["tray.day"].number * trays + of_sample) / 60
    if stage == "juvenile":
        per_m2 = table["siphon.m2"].number + table["pellets.m2"].number
        return (per_m2 * nursery_m2 + table["measure.sample"].number) / 60
    raise UnknownName(
        say(
            "No work is known for the stage {stage!r}; write one of {stages}.",
            stage=stage,
            stages=list(STAGES),
        )
    )


def event_hours(
    kind: str, litres: float, trays: int, animals: float, *, minutes: Minutes | None = None
) -> float:
    """Hours of work that an event of a lot adds to its day [h].

    kind: "collect" (one trip, for all lots of a batch), "stock", "thin", "induce" (with the move
        to the trays), "split" (trays), "move" (to the nursery), "grade" or "release".
    litres: water of its larval tank [L]; the table's minutes hold for any tank so far.
    trays: trays split or emptied. animals: number graded or released.
    minutes: the work table [min], by default that of the sources.
    Raises: UnknownName for another event; OutOfRange for a number below 0 or no number.
    Source: common practice, by the work table.
    """
    _sound(litres=litres, trays=trays, animals=animals)
    table = table_values("work") if minutes is None else minutes
    rows = {
        "collect": ("collect.trip", 1.0),
        "stock": ("stock.tank", 1.0),
        "thin": ("thin.tank", 1.0),
        "induce": ("induce.tank", 1.0),
        "split": ("tray.split", float(trays)),
        "move": ("move.tray", float(trays)),
        "grade": ("grade.per_100", animals / 100),
        "release": ("release.per_100", animals / 100),
    }
    if kind not in rows:
        raise UnknownName(
            say(
                "No work is known for the event {kind!r}; write one of {events}.",
                kind=kind,
                events=list(EVENTS),
            )
        )
    name, times = rows[kind]
    return table[name].number * times / 60


def veliger_minutes(minutes: Minutes) -> float:
    """Minutes to keep free on each day for one larval tank [min].

    Feeding, and the longest of the chores that take turns on its days.
    """
    turns = ("water_change.tank", "count.tank", "measure.sample", "induce.test")
    return minutes["feed.tank"].number + max(minutes[name].number for name in turns)


def _sound(**numbers: float) -> None:
    for name, value in numbers.items():
        if not 0.0 <= value < float("inf"):
            raise OutOfRange(name.replace("_", " "), value, 0.0, float("inf"))
