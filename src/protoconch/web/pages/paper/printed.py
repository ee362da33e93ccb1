"""The lines of a day as they stood when its sheet was printed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import chain

from django.utils import timezone

from protoconch.animals.profiles import species
from protoconch.log.state import State
from protoconch.records.models import Site
from protoconch.records.queries.answers import Planned
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.sheets.paper.page import Box
from protoconch.web.pages.today.lines import Line, lines_of, rounds_of
from protoconch.web.pages.today.way_forms import EntryBlanks, Part, way_form
from protoconch.web.pages.today.work_of_day import work_of
from protoconch.work.entries.asked import Way
from protoconch.work.entries.of_task import ways
from protoconch.work.present import present_tasks
from protoconch.work.task import Task

FORM = "%Y%m%dT%H%M%S"
MOST_BOXES, BOXES_OF_A_LIST = 12, 5
"""Boxes of one blank that a sheet has room for; more are written on the back."""


@dataclass(frozen=True, slots=True)
class OnPaper:
    """A line of a sheet. number: on that sheet. ways: by which it is settled, the usual first."""

    number: int
    task: Task
    ways: tuple[Way, ...]


def told(printed: datetime) -> str:
    """When a sheet was printed, as its code says it: by the site's clock."""
    return timezone.localtime(printed).strftime(FORM)


def when(told: str) -> datetime | None:
    """The moment that a code says; None where it says none.

    told: also as a browser has it that asks for day and time.
    """
    for form in (FORM, "%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S"):
        try:
            return timezone.make_aware(datetime.strptime(told.strip(), form))  # noqa: DTZ007
        except ValueError:
            continue
    return None


def on_paper(
    site: Site, planned: Planned, on: date, printed: datetime | None
) -> tuple[OnPaper, ...]:
    """The lines of a day's sheet in its order: those open when it was printed.

    printed: None for a sheet of which nobody knows when; then what is settled now has its line too.
    """
    then = state(site, printed)
    lines = lines_of(_tasks(site, planned, on, then, printed), then)
    in_order = chain.from_iterable(
        group.lines for part in rounds_of(lines) for group in part.groups
    )
    shown = [line for line in in_order if printed is None or line.settled is None]
    return _numbered(shown, then, site, planned)


def boxes(way: Way) -> tuple[Box, ...]:
    """The boxes to write in: the same that the screen has on which they are typed in."""
    form = way_form(0, way, "line")
    return tuple(box_of(part) for entry in form.entries for part in front(entry))


def front(entry: EntryBlanks) -> tuple[Part, ...]:
    """The blanks that are asked for on paper and first on the screen."""
    return () if entry.asked.kind == "done" else entry.front


def box_of(part: Part) -> Box:
    """The boxes of one blank."""
    first = part.bounds[0]
    label, unit = part.heading or str(first.label), str(getattr(first.field, "unit", ""))
    hint = part.hint or str(first.field.help_text)
    attrs = first.field.widget.attrs
    if "data-numbers" in attrs:
        return Box(label, unit, BOXES_OF_A_LIST, hint)
    is_number = "inputmode" in attrs
    standing = first.initial
    if isinstance(standing, list):
        standing = ", ".join(map(str, standing))
    said = str(standing or "")
    expected = "; ".join(str(part) for part in (said, hint) if part)
    return Box(label, unit, min(len(part.bounds), MOST_BOXES), expected, wide=not is_number)


def _tasks(
    site: Site, planned: Planned, on: date, then: State, printed: datetime | None
) -> Sequence[Task]:
    if planned.plan is None:
        return ()
    if printed is None:
        return work_of(site, planned, on)
    animals = species(planned.plan.hatchery.species)
    return present_tasks(then, planned.plan, animals, on, planned.algae)


def _numbered(
    lines: Sequence[Line], then: State, site: Site, planned: Planned
) -> tuple[OnPaper, ...]:
    here = hatchery(site)
    return tuple(
        OnPaper(number, line.task, ways(line.task, then, here, planned.algae))
        for number, line in enumerate(lines, start=1)
    )
