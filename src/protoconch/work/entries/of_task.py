"""The ways in which each line of the work list can be settled."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from protoconch.algae.chain.answer import AlgaeAnswer
from protoconch.hatchery.description import Hatchery
from protoconch.log.state import State
from protoconch.work.entries import algae as room
from protoconch.work.entries import larvae, settled
from protoconch.work.entries.asked import Way, just_done, skipped
from protoconch.work.entries.line import Line
from protoconch.work.task import Task

WAYS: Mapping[str, Callable[[Line], tuple[Way, ...]]] = {
    "collect": larvae.collect,
    "incubate": larvae.incubate,
    "stock": larvae.stock,
    "count": larvae.count,
    "thin": larvae.thin,
    "change water": larvae.change_water,
    "feed": larvae.feed,
    "measure": larvae.measure,
    "test competence": larvae.competence,
    "settle": settled.settle,
    "induce": settled.induce,
    "tray care": settled.tray_care,
    "split trays": settled.split,
    "move to nursery": settled.move,
    "feed pellets": settled.feed_pellets,
    "siphon": settled.siphon,
    "grade": settled.grade,
    "weigh and measure": settled.weigh_and_measure,
    "release": settled.release,
    "look at cultures": room.look_at_cultures,
    "make medium": room.make_medium,
    "inoculate": room.inoculate,
    "harvest": room.harvest,
    "empty a vessel": room.empty_a_vessel,
}
"""By kind of task; all others are done or not done."""


def ways(
    task: Task, state: State, hatchery: Hatchery, algae: AlgaeAnswer | None = None
) -> tuple[Way, ...]:
    """How the line can be settled, the usual way first, "not done" last.

    task: of `present_tasks`. state: now. Every entry of the way that is chosen carries task.key.
    Its kind, place and payload are sound for `log.reading.entries.read_entry` once the blanks are
    filled by `asked.filled`.
    """
    told, line = WAYS.get(task.kind), Line(task, state, hatchery, algae)
    found = told(line) if told else ()
    usual = found or (just_done(task.kind, task.where),)
    return tuple(_in_vessels(way, line) for way in (*usual, skipped(task.kind, task.where)))


def _in_vessels(way: Way, line: Line) -> Way:
    """The way with places that are vessels; "trays" or "algae room" are none."""
    asked = (
        entry if entry.where in line.known else replace(entry, where="") for entry in way.asked
    )
    return replace(way, asked=tuple(asked))
