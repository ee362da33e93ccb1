"""A week's work as a sheet of paper."""

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import groupby

from django.http import HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _

from protoconch.records.queries import answers
from protoconch.sheets.paper.week import Day, Kind, Week, week_pdf
from protoconch.sheets.work_list import hours_text
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.paper.day_sheet import place_words
from protoconch.web.pages.paper.leading import as_pdf, foot, leads, paper_of, words
from protoconch.web.pages.today.days import in_words
from protoconch.web.pages.today.lines import Line
from protoconch.web.pages.today.work_of_day import work_of
from protoconch.work.task import Task

DAYS = 7


@allowed(Role.VIEWER)
def week(request: Request, on: date) -> HttpResponse:
    """The seven days from that one, as PDF."""
    days = tuple(_days(request, on))
    last = in_words(on + timedelta(days=DAYS - 1))
    number = sum(len(kind.places) for day in days for kind in day.kinds)
    page = Week(
        site=request.site.name,
        title=_("%(first)s to %(last)s") % {"first": in_words(on), "last": last},
        under=_("%(number)s lines of work as far as is known now; amounts follow the last counts.")
        % {"number": number},
        address=leads(request, reverse("today:on", args=[on])),
        days=days,
        who=_("who"),
        words=words(_("Scan to open the first day")),
        foot=foot(request),
    )
    return as_pdf(week_pdf(page, paper_of(request)), f"{on.isoformat()}-7")


def _days(request: Request, on: date) -> Iterator[Day]:
    planned = answers.planned(request.site)
    for day in (on + timedelta(days=ahead) for ahead in range(DAYS)):
        tasks = work_of(request.site, planned, day)
        minutes = sum(task.minutes for task in tasks)
        under = _("About %(time)s of work.") % {"time": hours_text(minutes)} if minutes else _(
            "No work is planned."
        )  # fmt: skip
        kinds = tuple(_kinds(tasks))
        yield Day(in_words(day), under, kinds, leads(request, reverse("today:on", args=[day])))


def _kinds(tasks: tuple[Task, ...]) -> Iterator[Kind]:
    for what, own in groupby(tasks, key=lambda task: task.what):
        yield Kind(what, tuple((place_words(t.where, t.batch), _short(t)) for t in own))


def _short(task: Task) -> str:
    """The first part of an amount; the rest stands on the sheet of its day."""
    return Line(task, "", None).large
