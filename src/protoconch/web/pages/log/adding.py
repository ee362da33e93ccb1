"""Something else happened: a kind is chosen, its form filled, and an entry added."""

from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from protoconch.log.kinds import Kind
from protoconch.operations.recording import Answer, record
from protoconch.records.queries.log import state
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.log.choices import choice, grouped, kind_of, known_names, places_of
from protoconch.web.pages.log.forms import entry_form
from protoconch.web.pages.log.typed import raw_entry

STATUS = {"refused": 422, "unlikely": 409}
"""What a form that was not taken is answered with."""


@allowed(Role.CREW)
def kinds(request: Request) -> HttpResponse:
    """The kinds of entries to choose from."""
    return render(request, "log/kinds.html", {"groups": grouped(), "where": _where(request)})


@allowed(Role.CREW)
def add(request: Request, slug: str) -> HttpResponse:
    """The form of one kind; sent, it adds an entry."""
    kind = kind_of(slug)
    if kind is None:
        raise Http404
    if request.method != "POST":
        raw = {"id": str(uuid4()), "kind": kind.name, "where": _where(request), "payload": {}}
        return _form(request, kind, raw)
    raw = raw_entry(request.POST, timezone.now()) | {"kind": kind.name}
    (answer,) = record(request.person, [raw], timezone.now(), sure="sure" in request.POST)
    if answer.outcome in STATUS:
        return _form(request, kind, raw, answer)
    messages.success(request, _("Saved."))
    return redirect("log:entry", raw["id"])


def _form(
    request: Request, kind: Kind, raw: dict[str, Any], answer: Answer | None = None
) -> HttpResponse:
    sent = request.POST if answer else None
    form = entry_form(kind.name, {}, sent=sent, known=known_names(state(request.site)))
    if answer and answer.outcome == "refused":
        form.tell(answer.sentences)
    shown = {
        "kind": choice(kind.name),
        "raw": raw,
        "form": form,
        "answer": answer,
        "vessels": places_of(request.site, kind),
        "needs_place": bool(kind.places),
        "happened": request.POST.get("happened", ""),
    }
    return render(request, "log/add.html", shown, status=_status(answer))


def _status(answer: Answer | None) -> int:
    return STATUS.get(answer.outcome, 200) if answer else 200


def _where(request: Request) -> str:
    return request.GET.get("where", "").strip()[:80]
