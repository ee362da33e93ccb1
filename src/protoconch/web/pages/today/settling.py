"""A line of the day is settled: its entries are saved together, or the form comes back."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from django.contrib import messages
from django.http import HttpResponse, QueryDict
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone

from protoconch.errors import BadInput
from protoconch.operations.recording import Answer, record
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.log.adding import STATUS
from protoconch.web.pages.log.typed import moment
from protoconch.web.pages.today import days
from protoconch.web.pages.today.lines import line_id
from protoconch.web.pages.today.views import page
from protoconch.web.pages.today.way_forms import WayForm, payload_of, sent_form


@allowed(Role.CREW)
def settle(request: Request, on: date) -> HttpResponse:
    """Take what was typed at a line. Taken, it leads back to the line; else the form comes back."""
    there = reverse("today:day") if on == days.here_today() else reverse("today:on", args=[on])
    if request.method != "POST":
        return redirect(there)
    key = request.POST.get("task", "")
    try:
        form = sent_form(request.POST, line_id(key))
    except BadInput as fault:
        messages.error(request, str(fault))
        return redirect(there)
    form = _taken(request, form, key)
    if form.answer is None:
        return redirect(f"{there}#{line_id(key)}")
    return page(request, on, key=key, sent=form, status=STATUS[form.answer.outcome])


def _taken(request: Request, form: WayForm, key: str) -> WayForm:
    """The form with the answer that keeps it from being taken, None where it was."""
    now = timezone.now()
    try:
        raw = raw_entries(form, request.POST, key, now)
    except BadInput as fault:
        return replace(form, answer=Answer("refused", tuple(str(fault).splitlines())))
    answers = record(request.person, raw, now, sure="sure" in request.POST)
    for entry, answer in zip(form.entries, answers, strict=True):
        if answer.outcome == "refused":
            entry.form.tell(answer.sentences)
    return replace(form, answer=_worst(answers))


def raw_entries(form: WayForm, sent: QueryDict, key: str, now: datetime) -> list[dict[str, Any]]:
    """The entries of a form that was sent, for the line of that key.

    Raises: BadInput, after telling each fault at its field.
    """
    raw, faults = [], []
    for entry in form.entries:
        try:
            payload = payload_of(entry, sent)
        except BadInput as fault:
            entry.form.tell(str(fault).splitlines())
            faults += str(fault).splitlines()
            continue
        raw.append({
            "id": entry.id, "kind": entry.asked.kind, "where": entry.where, "task": key,
            "happened": moment(form.happened, now), "payload": payload,
        })  # fmt: skip
    if faults:
        raise BadInput("\n".join(faults))
    return raw


def _worst(answers: Sequence[Answer]) -> Answer | None:
    """The refused answer, else the unlikely one, with the sentences of all of its sort."""
    for outcome in STATUS:
        said = [answer.sentences for answer in answers if answer.outcome == outcome]
        if said:
            return Answer(outcome, tuple(dict.fromkeys(part for each in said for part in each)))
    return None
