"""Adding to the log from other programs."""

from typing import Any, cast

from django.http import HttpRequest
from django.utils import timezone

from protoconch.operations.recording import record
from protoconch.records.models import Role
from protoconch.web.pages.api.entrance import api, needs
from protoconch.web.pages.api.reading import REFUSED
from protoconch.web.pages.api.shapes import Answers, NewEntries


@api.post("/entries", response={200: Answers, **REFUSED}, summary="Add entries")
@needs(Role.CREW)
def add_entries(request: HttpRequest, sent: NewEntries) -> dict[str, Any]:
    """Add entries to the log, at most 500 at once; each is answered by itself, in order.

    An entry that was sent before is "there already", so that a program may send again whenever it
    does not know whether the first time arrived. What is "unlikely" is added when sent again with
    `sure`.
    """
    person = cast("Any", request).person
    answers = record(person, sent.entries, timezone.now(), sure=sent.sure)
    return {
        "answers": [
            {"id": str(raw.get("id", ""))[:80], "outcome": one.outcome,
             "sentences": list(one.sentences)}
            for raw, one in zip(sent.entries, answers, strict=True)
        ]
    }  # fmt: skip


__all__ = ["api"]
