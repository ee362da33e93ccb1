"""A day's work as a sheet of paper, with room to write and a code that leads back here."""

from collections.abc import Iterable, Iterator
from datetime import date

from django.http import HttpResponse
from django.urls import reverse
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from protoconch.records.queries import answers
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.sheets.paper.page import Box, Line, Part, Sheet, Words, sheet_pdf
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.today import days
from protoconch.web.pages.today.days import in_words
from protoconch.web.pages.today.lines import Line as OnPage
from protoconch.web.pages.today.lines import lines_of, rounds_of
from protoconch.web.pages.today.titles import title_of
from protoconch.web.pages.today.work_of_day import work_of
from protoconch.work.entries.asked import Asked
from protoconch.work.entries.of_task import ways
from protoconch.work.task import Task

MOST_BOXES = 12
"""Boxes of one line that a sheet has room for; more are written on the back."""


@allowed(Role.VIEWER)
def sheet(request: Request, on: date) -> HttpResponse:
    """The sheet of a day as PDF."""
    planned = answers.planned(request.site)
    present = state(request.site)
    lines = lines_of(work_of(request.site, planned, on), present)
    described = hatchery(request.site)
    numbers = {line.id: number for number, line in enumerate(lines, start=1)}

    def written(line: OnPage) -> Line:
        found = ways(line.task, present, described, planned.algae)
        boxes = tuple(_boxes(found[0].asked)) if found else ()
        return _line(numbers[line.id], line.task, boxes)

    page = Sheet(
        site=request.site.name,
        title=f"{in_words(on)} {on.year}",
        under=title_of(lines, on, days.here_today(), planned),
        address=request.build_absolute_uri(reverse("today:on", args=[on])),
        parts=tuple(
            Part(str(one.words), tuple(written(line) for group in one.groups
                                       for line in group.lines if line.settled is None))
            for one in rounds_of(lines)
        ),
        cautions=_cautions(line.task for line in lines if line.settled is None),
        words=Words(get_language() or "en", _("Done by"), _("at"), _("Seen besides"),
                    _("Scan to enter it"), _("Care first"), _("Page")),
    )  # fmt: skip
    answer = HttpResponse(sheet_pdf(page), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{on.isoformat()}.pdf"'
    return answer


def _line(number: int, task: Task, boxes: tuple[Box, ...]) -> Line:
    where = f"{task.where}, {task.batch}" if task.batch not in ("", "algae") else task.where
    return Line(number, task.what, where, task.amount, boxes=boxes)


def _boxes(asked: Iterable[Asked]) -> Iterator[Box]:
    for entry in asked:
        for blank in entry.fields:
            if blank.needed and blank.sort != "choice":
                count = min(blank.times or 5, MOST_BOXES)
                unit = "" if blank.unit == "1" else blank.unit.replace("um", "µm")
                yield Box(blank.words, unit, count, blank.last)


def _cautions(tasks: Iterable[Task]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(caution for task in tasks for caution in task.cautions))
