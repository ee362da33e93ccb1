"""Entries in batches, as a page's script sends them: each answered by itself."""

import json
from typing import Any

from django.http import HttpResponse, JsonResponse
from django.utils import timezone
from django.utils.translation import gettext as _

from protoconch.operations.recording import Answer, record
from protoconch.web.access import Request, Role, allowed

MOST_AT_ONCE = 500


@allowed(Role.CREW)
def send(request: Request) -> HttpResponse:
    """Add the entries of {"entries": [...], "sure": false}; one outcome for each, in order.

    An entry that was sent before is "there already", so that a phone may send again whenever it
    does not know whether the first time arrived.
    """
    if request.method != "POST":
        return _refused(_("Entries are sent by POST, as JSON."), 405)
    try:
        sent = json.loads(request.body)
    except (ValueError, RecursionError):
        return _refused(_("This is not JSON."), 400)
    entries = sent.get("entries") if isinstance(sent, dict) else None
    if not isinstance(entries, list) or not all(isinstance(raw, dict) for raw in entries):
        return _refused(_('Send {"entries": [...]}, each entry with its fields by name.'), 400)
    if len(entries) > MOST_AT_ONCE:
        said = _("At most %(most)s entries at once; send the rest afterwards.")
        return _refused(said % {"most": MOST_AT_ONCE}, 413)
    answers = record(request.person, entries, timezone.now(), sure=sent.get("sure") is True)
    told = [_told(raw, answer) for raw, answer in zip(entries, answers, strict=True)]
    return JsonResponse({"answers": told})


def _told(raw: dict[str, Any], answer: Answer) -> dict[str, Any]:
    return {
        "id": str(raw.get("id", "")), "outcome": answer.outcome, "sentences": list(answer.sentences)
    }  # fmt: skip


def _refused(sentence: str, status: int) -> HttpResponse:
    return JsonResponse({"sentences": [sentence]}, status=status)
