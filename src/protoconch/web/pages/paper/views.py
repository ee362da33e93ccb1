"""Paper: all that can be printed, and where it is typed in."""

from datetime import date, timedelta

from django.http import HttpResponse
from django.shortcuts import render

from protoconch.errors import MissingInput
from protoconch.log.state import State
from protoconch.records.queries.answers import planned
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.sheets.paper.labels import STOCKS
from protoconch.sheets.paper.press import PAPERS
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.batches.lines import known
from protoconch.web.pages.paper.blank_sheets import SHEETS
from protoconch.web.pages.paper.labels import OF, SIZES
from protoconch.web.pages.paper.leading import address, only_here, paper_of
from protoconch.web.pages.today import days


@allowed(Role.VIEWER)
def paper(request: Request) -> HttpResponse:
    """The page of all that is on paper."""
    today = days.here_today()
    try:
        hatchery(request.site)
    except MissingInput as missing:
        return render(request, "today/first.html", {"why": str(missing)})
    plan, now = planned(request.site).plan, state(request.site)
    batches = [one for one in known(plan, now) if not one.begun or _lives(one.code, now)]
    on = _day(request.GET.get("day", ""), today)
    told = {
        "on": on, "today": today, "tomorrow": today + timedelta(days=1),
        "begun": [one.code for one in batches if one.begun],
        "planned": [one.code for one in batches if not one.begun],
        "blanks": SHEETS.values(), "labels": [(key, name) for key, (name, _kinds) in OF.items()],
        "sizes": [(key, SIZES[key]) for key in STOCKS], "papers": PAPERS,
        "paper": paper_of(request), "address": address(request), "only_here": only_here(request),
    }  # fmt: skip
    return render(request, "paper/paper.html", told)


def _lives(code: str, now: State) -> bool:
    return bool(now.batches[code].vessels)


def _day(told: str, usual: date) -> date:
    try:
        return date.fromisoformat(told)
    except ValueError:
        return usual
