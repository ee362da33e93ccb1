"""Reports: the season as planned, its work, its account, and the numbers behind it."""

from datetime import date
from typing import Any

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from protoconch.records.queries.answers import Planned, planned
from protoconch.records.queries.log import state
from protoconch.sheets.season_report import answer_written
from protoconch.sheets.season_report.account import (
    account_written,
    permit_written,
    season_account,
)
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.reports import made


@allowed(Role.VIEWER)
def reports(request: Request) -> HttpResponse:
    """What reports there are."""
    plan = planned(request.site).plan
    told: dict[str, Any] = {"plan": plan}
    if plan is not None:
        account = season_account(plan, state(request.site))
        told["answer"] = answer_written(plan)
        told["account"] = account_written(account, plan, timezone.localdate())
    return render(request, "reports/reports.html", told)


@allowed(Role.VIEWER)
def report(request: Request) -> HttpResponse:
    """The season as planned."""
    known = planned(request.site)
    if known.plan is None:
        return _none(request, known)
    told = {"title": answer_written(known.plan), "parts": made.parts(known.plan),
            "plan": known.plan}  # fmt: skip
    return render(request, "reports/season.html", told)


@allowed(Role.VIEWER)
def whole(request: Request) -> HttpResponse:
    """The season report as one file, to be sent or printed."""
    known = planned(request.site)
    if known.plan is None:
        return _none(request, known)
    made_now = made.whole_report(known.plan, known.algae, timezone.localdate())
    answer = HttpResponse(made_now)
    if "save" in request.GET:
        answer["Content-Disposition"] = 'attachment; filename="season-report.html"'
    return answer


@allowed(Role.VIEWER)
def calendar(request: Request) -> HttpResponse:
    """The work of the season: two weeks, and each month."""
    known = planned(request.site)
    if known.plan is None:
        return _none(request, known)
    months = made.months(known.plan, known.algae)
    asked = request.GET.get("month", "")
    month = next((one for one in months if f"{one:%Y-%m}" == asked), None)
    told: dict[str, Any] = {"months": months, "month": month, "title_month": month}
    told["work"] = (
        made.two_weeks(known.plan, known.algae, timezone.localdate())
        if month is None
        else made.one_month(known.plan, known.algae, month)
    )
    return render(request, "reports/calendar.html", told)


@allowed(Role.VIEWER)
def account(request: Request) -> HttpResponse:
    """What was collected, hatched, stocked, settled and released, by batch and by egg mass."""
    known = planned(request.site)
    if known.plan is None:
        return _none(request, known)
    found = season_account(known.plan, state(request.site))
    today: date = timezone.localdate()
    told = {
        "account": found, "plan": known.plan, "permit": permit_written(found.permit),
        "title": account_written(found, known.plan, today), "today": today,
    }  # fmt: skip
    return render(request, "reports/account.html", told)


@allowed(Role.VIEWER)
def numbers(request: Request) -> HttpResponse:
    """Every number that the plan rests on, with its source."""
    known = planned(request.site)
    if known.plan is None:
        return _none(request, known)
    return render(request, "reports/numbers.html", {"numbers": made.assumptions(known.plan)})


def _none(request: Request, known: Planned) -> HttpResponse:
    """There is nothing to report on yet."""
    if known.making == "being made":
        return redirect("season:season")
    return render(request, "reports/reports.html", {"plan": None})
