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
from protoconch.records.queries.log import state
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.season.forms import WhatIfForm
from protoconch.web.pages.season.saying import outlook_told, told_kept
from protoconch.web.pages.season.showing import food, shown


@allowed(Role.VIEWER)
def season(request: Request) -> HttpResponse:
    """Will we make it, and what limits it."""
    known = planned(request.site)
    told = {"making": known.making, "why": known.why}
    if known.plan is None:
        return render(request, "season/none.html", told)
    seen = shown(known.plan, state(request.site), timezone.localdate())
    form = WhatIfForm(known.plan) if known.plan.batches else None
    parts = {
        "plan": known.plan, "seen": seen, "form": form, "outlook": outlook_told(known.plan, seen),
        "food": food(known.plan, known.algae),
        "kept": [told_kept(row) for row in kept(request.site)],
    }  # fmt: skip
    return render(request, "season/season.html", told | parts)


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
    seen = shown(known.plan, state(request.site), timezone.localdate())
    if seen.version != version:
        return redirect("season:ribbons", seen.version)
    return HttpResponse(seen.desk.standalone(), content_type="image/svg+xml; charset=utf-8")
