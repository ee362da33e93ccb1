"""Season: the answer, what limits it, and all batches on one time axis."""

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_POST

from protoconch.errors import MissingInput
from protoconch.operations.planning import make_plan
from protoconch.operations.what_if import kept
from protoconch.records.queries.answers import planned
from protoconch.records.queries.learning import offer
from protoconch.records.queries.log import state
from protoconch.records.queries.outlook import LookedAhead, looked_ahead
from protoconch.season.answer import SeasonPlan
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.season.forms import WhatIfForm
from protoconch.web.pages.season.outlook import Told, told
from protoconch.web.pages.season.saying import outlook_told, told_kept
from protoconch.web.pages.season.showing import Shown, food, shown


@allowed(Role.VIEWER)
def season(request: Request) -> HttpResponse:
    """Will we make it, and what limits it."""
    known = planned(request.site)
    making = {"making": known.making, "why": known.why}
    if known.plan is None:
        return render(request, "season/none.html", making)
    looking = looked_ahead(request.site)
    ahead, seen = _seen(request, known.plan, looking)
    form = WhatIfForm(known.plan) if known.plan.batches else None
    parts = {
        "plan": known.plan, "seen": seen, "form": form,
        "outlook": ahead.expected if ahead else outlook_told(known.plan, seen),
        "ahead": ahead, "begun": ahead is not None, "looking": looking,
        "learned": offer(request.site),
        "food": food(known.plan, known.algae),
        "kept": [told_kept(row) for row in kept(request.site)],
    }  # fmt: skip
    return render(request, "season/season.html", making | parts)


@allowed(Role.MANAGER)
@require_POST
def plan_now(request: Request) -> HttpResponse:
    """Ask for the plan of the hatchery as it is described now."""
    try:
        make_plan(request.site)
    except MissingInput:
        return redirect("site:site")
    return redirect("season:season")


@allowed(Role.VIEWER)
@cache_control(private=True, max_age=86400)
def ribbons(request: Request, version: str) -> HttpResponse:
    """All batches on one time axis, for a desk, as a file of its own."""
    known = planned(request.site)
    if known.plan is None:
        raise Http404
    _ahead, seen = _seen(request, known.plan, looked_ahead(request.site))
    if seen.version != version:
        return redirect("season:ribbons", seen.version)
    return HttpResponse(seen.desk.standalone(), content_type="image/svg+xml; charset=utf-8")


def _seen(
    request: Request, plan: SeasonPlan, looking: LookedAhead
) -> tuple[Told | None, Shown]:  # fmt: skip
    """The outlook, and what is shown of the plan as the outlook has it; as planned without one."""
    now, today = state(request.site), timezone.localdate()
    ahead = told(plan, looking, now, today)
    return ahead, shown(ahead.plan if ahead else plan, now, today, by_log=ahead is not None)
