"""Putting an entry right: corrected, taken back, confirmed. Each is an entry of its own."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from protoconch.log.kinds import KINDS
from protoconch.operations import recording
from protoconch.operations.recording import Answer
from protoconch.records.queries.log import state
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.log.adding import STATUS
from protoconch.web.pages.log.choices import known_names, places_of
from protoconch.web.pages.log.forms import EntryForm, entry_form
from protoconch.web.pages.log.reading import Told, one
from protoconch.web.pages.log.typed import moment, payload


@allowed(Role.CREW)
def correct(request: Request, uuid: UUID) -> HttpResponse:
    """The form of an entry as it reads now; sent, it adds a correction."""
    told = _entry(request, uuid)
    if told.points:
        return redirect("log:entry", uuid)
    if request.method != "POST":
        return _form(request, told, str(uuid4()))
    changes = _changes(told, request.POST)
    if not changes:
        messages.info(request, _("Nothing was changed."))
        return redirect("log:entry", uuid)
    answer = recording.correct(
        request.person, uuid, timezone.now(), why=_why(request), sure="sure" in request.POST,
        id=_own_id(request), **changes,
    )  # fmt: skip
    if answer.outcome in STATUS:
        return _form(request, told, request.POST.get("id", ""), answer)
    messages.success(request, _("Put right. The log keeps both, and counts with the new one."))
    return redirect("log:entry", uuid)


@allowed(Role.CREW)
def take_back(request: Request, uuid: UUID) -> HttpResponse:
    """An entry, or a correction, no longer counts. It stays in the log."""
    told = _entry(request, uuid)
    if request.method == "POST":
        answer = recording.withdraw(
            request.person, uuid, timezone.now(), why=_why(request), sure=True, id=_own_id(request)
        )
        taken = _("Undone.") if told.points else _("Taken back. The log counts without it.")
        _tell(request, answer, taken)
    return redirect("log:entry", getattr(told.first.payload, "of", uuid) if told.points else uuid)


@allowed(Role.CREW)
def settle(request: Request, uuid: UUID) -> HttpResponse:
    """A doubt about an entry is settled: it stands, or it does not."""
    _entry(request, uuid)
    if request.method == "POST":
        stands = request.POST.get("stands") != "no"
        answer = recording.confirm(
            request.person, uuid, timezone.now(), stands=stands, id=_own_id(request)
        )
        _tell(request, answer, _("Settled. The log counts with what you said."))
    return redirect("log:entries")


def _entry(request: Request, uuid: UUID) -> Told:
    found = one(request.site, uuid)
    if found is None:
        raise Http404
    return found


def _why(request: Request) -> str:
    return request.POST.get("why", "").strip()[:400]


def _own_id(request: Request) -> UUID:
    """The number that the form carries, so that pressing twice adds once."""
    try:
        return UUID(request.POST.get("id", ""))
    except ValueError:
        return uuid4()


def _tell(request: Request, answer: Answer, taken: str) -> None:
    """Say on the next page what became of it."""
    if answer.outcome in STATUS:
        for sentence in answer.sentences:
            messages.error(request, sentence)
    else:
        messages.success(request, taken)


def _changes(told: Told, sent: Mapping[str, str]) -> dict[str, Any]:
    """The parts that read otherwise now, as a correction holds them."""
    found: dict[str, Any] = {}
    form = entry_form(told.entry.kind, _content(told))
    typed = payload(sent)
    if typed != payload({name: str(field.initial or "") for name, field in form.fields.items()}):
        found["payload"] = typed
    where = sent.get("where", "").strip()
    if where != told.entry.where:
        found["where"] = where
    happened = sent.get("happened", "").strip()
    if happened and happened != local(told.entry.happened):
        found["happened"] = datetime.fromisoformat(moment(happened, told.entry.happened))
    return found


def _content(told: Told) -> dict[str, Any]:
    content: dict[str, Any] = told.entry.payload.model_dump(mode="json", exclude_defaults=True)
    return content


def local(at: datetime) -> str:
    """A moment by the site's clock, as the field for it has it."""
    return timezone.localtime(at).replace(tzinfo=None).isoformat(timespec="minutes")


def _form(request: Request, told: Told, own: str, answer: Answer | None = None) -> HttpResponse:
    kind = KINDS[told.entry.kind]
    sent = request.POST if answer else None
    form: EntryForm = entry_form(
        kind.name, _content(told), sent=sent, known=known_names(state(request.site))
    )
    if answer and answer.outcome == "refused":
        form.tell(answer.sentences)
    shown = {
        "told": told,
        "form": form,
        "answer": answer,
        "own": own,
        "raw": {"where": request.POST.get("where", told.entry.where)},
        "vessels": places_of(request.site, kind),
        "needs_place": bool(kind.places),
        "happened": request.POST.get("happened", local(told.entry.happened)),
        "why": request.POST.get("why", ""),
    }
    status = STATUS.get(answer.outcome, 200) if answer else 200
    return render(request, "log/correct.html", shown, status=status)
