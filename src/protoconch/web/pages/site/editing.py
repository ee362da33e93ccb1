"""Plain forms for the parts of the description; nothing is saved unless all of it is sound."""

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from django import forms as django_forms
from django.contrib import messages
from django.forms import BaseFormSet, formset_factory
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from protoconch.animals.profiles import species
from protoconch.errors import BadFile, BadInput
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.own_values import may_be_own
from protoconch.hatchery.writing import hatchery_text
from protoconch.operations.describing import describe, put_in_zone
from protoconch.records.queries.site import hatchery as hatchery_of
from protoconch.sources.references import OWN
from protoconch.sources.values import SourcedValue
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.site.forms import OwnValue
from protoconch.web.pages.site.parts import Part, Rows, part_of

if TYPE_CHECKING:
    Forms = BaseFormSet[Any]
else:
    Forms = BaseFormSet  # the class takes no brackets when it runs


class TakenOut(Forms):
    """Rows of which each can be taken out."""

    def add_fields(self, form: django_forms.Form, index: int | None) -> None:
        """Say so in our own word."""
        super().add_fields(form, index)
        form.fields["DELETE"].label = _("Take out")


MOST_ROWS, EMPTY_ROWS = 60, 2
KEY = re.compile(r"\s*([\w-]+)\s*=")
FIELD_OF = {"by": "by", "first_day": "first_day", "last_day": "last_day", "months": "months",
            "regime": "regime", "species": "species"}  # fmt: skip
"""Keys of the file whose faults can be told beside a field of the form."""


@allowed(Role.MANAGER)
def change(request: Request, key: str) -> HttpResponse:
    """Change one part."""
    part = part_of(key)
    if part is None:
        raise Http404
    now = hatchery_of(request.site)
    form, rows = _asked(request, part, now)
    if request.method == "POST" and _sound(form, rows):
        listed = {name: _rows_of(formset) for name, formset in rows.items()}
        changed = part.changed(now, form.cleaned_data if form else {}, listed)
        if _described(request, changed, form):
            if form and "zone" in form.cleaned_data:
                put_in_zone(request.person, form.cleaned_data["zone"])
            messages.success(request, _("The description is changed."))
            return redirect("site:site")
    lists = [(kind, rows[kind.key]) for kind in part.rows]
    return render(request, "site/change.html", {"part": part, "form": form, "lists": lists})


@allowed(Role.MANAGER)
def own_values(request: Request) -> HttpResponse:
    """The hatchery's own numbers in place of the profile's."""
    now = hatchery_of(request.site)
    known = may_be_own(species(now.species))
    formset = _formset(OwnValue)
    begin = [{"name": own.name, "value": own.value, "low": own.low, "high": own.high,
              "conditions": own.conditions} for own in now.own_values.values()]  # fmt: skip
    rows = formset(request.POST or None, initial=begin, prefix="own")
    choices = [("", "–"), *((name, f"{name} [{known[name].unit}]") for name in sorted(known))]
    for form in rows:
        form.fields["name"].choices = choices
    head = django_forms.Form(request.POST or None)
    if request.method == "POST" and head.is_valid() and rows.is_valid():
        own = {
            row["name"]: _own(row, known[row["name"]], now.own_values.get(row["name"]))
            for row in _rows_of(rows)
        }
        if _described(request, _with_own(now, own), head):
            messages.success(request, _("Your own numbers are saved."))
            return redirect("site:site")
    said = {"rows": rows, "head": head, "known": known, "hatchery": now}
    return render(request, "site/own_values.html", said)


def _own(
    row: dict[str, Any], known: SourcedValue, before: SourcedValue | None
) -> SourcedValue:  # fmt: skip
    """A number of the hatchery's own; one that nobody has changed stays as it was in all of it."""
    if before is not None and all(
        getattr(before, name) == row[name] for name in ("value", "low", "high", "conditions")
    ):
        return before
    return SourcedValue(
        row["name"],
        row["value"],
        known.unit,
        OWN,
        "own",
        row["low"],
        row["high"],
        row["conditions"],
        shape="fixed" if row["low"] is None else "pert",
    )


def _with_own(now: Hatchery, own: dict[str, SourcedValue]) -> Hatchery:
    return replace(now, own_values=own)


def _asked(
    request: Request, part: Part, now: Hatchery
) -> tuple[django_forms.Form | None, dict[str, Forms]]:
    sent = request.POST if request.method == "POST" else None
    form = part.form(sent, initial=part.begin(now, request.site)) if part.form else None
    return form, {kind.key: _rows(sent, kind, now) for kind in part.rows}


def _rows(sent: Any, kind: Rows, now: Hatchery) -> Forms:
    return _formset(kind.form)(sent, initial=kind.begin(now), prefix=kind.key)


def _formset(form: type[django_forms.Form]) -> type[Forms]:
    return formset_factory(form, TakenOut, extra=EMPTY_ROWS, can_delete=True, max_num=MOST_ROWS,
                           absolute_max=MOST_ROWS, validate_max=True)  # fmt: skip


def _sound(form: django_forms.Form | None, rows: dict[str, Forms]) -> bool:
    """Whether all of it is; every form is looked at, so that all faults are told together."""
    return all(
        [form is None or form.is_valid(), *(formset.is_valid() for formset in rows.values())]
    )


def _rows_of(formset: Forms) -> list[dict[str, Any]]:
    """The rows that were filled in and not taken out."""
    return [
        {key: value for key, value in row.items() if key != "DELETE"}
        for row in formset.cleaned_data
        if row and not row.get("DELETE")
    ]


def _described(request: Request, changed: Hatchery, form: django_forms.Form | None) -> bool:
    """Whether the description could be changed; else its faults stand in the form."""
    text = hatchery_text(changed)
    try:
        describe(request.person, text)
    except BadFile as faults:
        lines = text.splitlines()
        for problem in faults.problems:
            found = KEY.match(lines[problem.line - 1]) if problem.line <= len(lines) else None
            name = FIELD_OF.get(found[1]) if found else None
            if form is not None:
                form.add_error(name if name in form.fields else None, problem.sentence)
        return False
    except BadInput as fault:
        if form is not None:
            form.add_error(None, str(fault))
        return False
    return True
