"""What if: looking at the season with something changed, keeping, dropping, comparing."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from protoconch.errors import BadInput
from protoconch.operations import what_if as seasons
from protoconch.pictures.changed import changed_ribbons
from protoconch.pictures.drawing import Picture
from protoconch.pictures.season_words import as_in_log
from protoconch.pictures.words import percent
from protoconch.records.models import WhatIf
from protoconch.records.queries.answers import planned
from protoconch.records.queries.outlook import looked_ahead
from protoconch.season.answer import SeasonPlan
from protoconch.season.what_if import Changed
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.season.forms import NameForm, WhatIfForm
from protoconch.web.pages.season.saying import told_changed, told_kept

PART = "part"
"""Asked for with it, only the answer comes, without the page around it."""


@allowed(Role.VIEWER)
def what_if(request: Request) -> HttpResponse:
    """The season with what the address says changed."""
    plan = planned(request.site).plan
    if plan is None or not plan.batches:
        return redirect("season:season")
    form, told = _looked(plan, request.GET)
    told |= {"form": form, "plan": plan, "name_form": NameForm(), "sent": _sent(request.GET),
             "begun": looked_ahead(request.site).outlook is not None}  # fmt: skip
    alone = PART in request.GET
    return render(request, "season/changed.html" if alone else "season/what_if.html", told)


@allowed(Role.CREW)
@require_POST
def keep(request: Request) -> HttpResponse:
    """Keep it under a name."""
    plan = planned(request.site).plan
    if plan is None or not plan.batches:
        return redirect("season:season")
    typed = QueryDict(request.POST.get("sent", ""))
    name, (form, told) = NameForm(request.POST), _looked(plan, typed)
    if name.is_valid() and "changed" in told:
        try:
            row = seasons.keep(request.person, name.cleaned_data["name"], plan, form.change())
        except BadInput as fault:
            name.add_error("name", str(fault))
        else:
            messages.success(request, _("%(name)s is kept.") % {"name": row.name})
            return redirect("season:season")
    told |= {"form": form, "plan": plan, "name_form": name, "sent": _sent(typed),
             "begun": looked_ahead(request.site).outlook is not None}  # fmt: skip
    return render(request, "season/what_if.html", told, status=422)


@allowed(Role.CREW)
@require_POST
def drop(request: Request, number: int) -> HttpResponse:
    """Drop one that was kept."""
    name = seasons.drop(request.person, number)
    if name:
        messages.success(request, _("%(name)s is dropped.") % {"name": name})
    return redirect("season:season")


@allowed(Role.VIEWER)
def compare(request: Request) -> HttpResponse:
    """Two of them side by side; the plan stands for one that is not chosen."""
    plan = planned(request.site).plan
    if plan is None or not plan.batches:
        return redirect("season:season")
    chosen = request.GET.getlist("one")[:2]
    rows = [found for number in chosen if number.isdecimal() and len(number) < 18
            and (found := seasons.kept_one(request.site, int(number)))]  # fmt: skip
    if not rows:
        messages.warning(request, _("Choose one or two of those that are kept."))
        return redirect("season:season")
    sides = [_side(plan, row, number) for number, row in enumerate(rows)]
    told = {"odds": percent(plan.odds.value), "sides": sides}
    return render(request, "season/compare.html", told)


def _looked(plan: SeasonPlan, typed: QueryDict) -> tuple[WhatIfForm, dict[str, Any]]:
    """The form with what was typed, and the changed season where it makes sense."""
    asked = {name: typed.get(name) for name in typed if name != PART}
    whole = WhatIfForm(plan).as_typed() | asked
    form = WhatIfForm(plan, whole if asked else None)
    if not asked:
        return form, {}
    if not form.is_valid():
        return form, {}
    try:
        changed = seasons.looked_at(plan, form.change())
    except BadInput as fault:
        form.add_error(None, str(fault))
        return form, {}
    return form, {
        "changed": told_changed(changed, plan), "ribbons": _ribbons(plan, changed, "changed"),
    }  # fmt: skip


def _ribbons(plan: SeasonPlan, changed: Changed, name: str) -> Picture:
    by = changed.change.by or plan.target.by
    return changed_ribbons(as_in_log(plan), changed.batches, changed.released, by, name)


def _side(plan: SeasonPlan, row: WhatIf, number: int) -> dict[str, Any]:
    """One of those compared: what was kept, and its ribbons beside the plan in force."""
    try:
        changed = seasons.looked_at(plan, seasons.change_kept(row))
    except BadInput as fault:
        return {"row": told_kept(row), "fault": str(fault)}
    return {"row": told_kept(row), "ribbons": _ribbons(plan, changed, f"side-{number}")}


def _sent(typed: QueryDict) -> str:
    """What was typed, to be sent again with the name."""
    kept = typed.copy()
    kept.pop(PART, None)
    return kept.urlencode()
