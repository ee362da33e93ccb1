"""Today: what to do now, how much, and the place to say what was seen."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from django.http import HttpResponse
from django.shortcuts import redirect, render

from protoconch.errors import MissingInput
from protoconch.hatchery.description import Hatchery
from protoconch.log.state import State
from protoconch.records.models import Site
from protoconch.records.queries import answers
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.today import days
from protoconch.web.pages.today.days import hour_of, in_words, neighbours
from protoconch.web.pages.today.lines import (
    Line,
    line_id,
    lines_of,
    opened,
    rounds_of,
    sources_of,
    time_left,
)  # fmt: skip
from protoconch.web.pages.today.titles import title_of
from protoconch.web.pages.today.way_forms import WayForm, way_form
from protoconch.web.pages.today.work_of_day import missed_before, warned_of, work_of
from protoconch.work.entries.of_task import ways
from protoconch.work.task import Task


@allowed(Role.VIEWER)
def day(request: Request, on: date | None = None) -> HttpResponse:
    """The work of a day; today's without one."""
    return page(request, on or days.here_today())


def page(
    request: Request, on: date, *, key: str = "", sent: WayForm | None = None, status: int = 200
) -> HttpResponse:
    """The page of a day.

    key, sent: the line whose form was sent and not taken, and that form.
    """
    try:
        described = hatchery(request.site)
    except MissingInput as missing:
        return render(request, "today/first.html", {"why": str(missing)})
    planned = answers.planned(request.site)
    present = state(request.site)
    tasks = work_of(request.site, planned, on)
    may_enter = request.person.may(Role.CREW) and on <= days.here_today()
    lines = lines_of(tasks, present)
    if may_enter:
        lines = tuple(
            _with_ways(line, present, described, planned, most=None if line.task.key == key else 1)
            for line in lines
        )
    if sent is not None:
        lines = opened(lines, key, sent)
    before, after = neighbours(on)
    shown = {
        "on": on,
        "words": in_words(on),
        "today": days.here_today(),
        "title": title_of(lines, on, days.here_today(), planned),
        "planned": planned,
        "rounds": rounds_of(lines),
        "minutes": time_left(lines) if on >= days.here_today() else "",
        "before": before,
        "after": after,
        "may_add": may_enter,
        "sources": sources_of(lines),
        **_around(request.site, planned, described, present, on, tasks),
    }
    return render(request, "today/day.html", shown, status=status)


@allowed(Role.VIEWER)
def ways_of_day(request: Request, on: date, line: str = "") -> HttpResponse:
    """The other ways to settle the lines of a day, and how their amounts were worked out.

    line: the id of one of them; all of them without one. Today has the usual way of each line in
    it, and fetches all of these behind it.
    """
    try:
        described = hatchery(request.site)
    except MissingInput:
        return redirect("today:day")
    planned, present = answers.planned(request.site), state(request.site)
    lines = lines_of(work_of(request.site, planned, on), present)
    if line:
        lines = tuple(one for one in lines if one.id == line)
    may_enter = request.person.may(Role.CREW) and on <= days.here_today()
    if may_enter:
        lines = tuple(_with_ways(one, present, described, planned) for one in lines)
    shown = {"on": on, "today": days.here_today(), "words": in_words(on), "lines": lines,
             "may_add": may_enter}  # fmt: skip
    return render(request, "today/ways.html", shown)


def _with_ways(
    line: Line, present: State, described: Hatchery, planned: answers.Planned,
    most: int | None = None,
) -> Line:  # fmt: skip
    """The line with its forms, unless it is settled. most: so many of them, the usual first."""
    if line.settled is not None:
        return line
    found = ways(line.task, present, described, planned.algae)[:most]
    past = line.task.day < days.here_today()
    happened = hour_of(line.task.day, line.task.round) if past else ""
    forms = (way_form(number, way, line.id) for number, way in enumerate(found))
    return replace(line, ways=tuple(replace(form, happened=happened) for form in forms))


def _around(
    site: Site, planned: answers.Planned, described: Hatchery, present: State, on: date,
    tasks: Sequence[Task],
) -> dict[str, Any]:  # fmt: skip
    """What was missed, and what the log warns of; only on the day it is."""
    if on != days.here_today():
        return {}
    missed = missed_before(site, planned, present, on, tasks)
    return {
        "still_due": sum(one.still_due for one in missed),
        "missed": [
            (one, line_id(one.task.key))
            for one in sorted(missed, key=lambda one: not one.still_due)
        ],
        "warnings": warned_of(planned, described, present, on),
    }
