"""What a person looks for in the log, as the form above it and the address tell."""

from collections.abc import Iterable
from datetime import datetime, time, timedelta
from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from protoconch.log.kinds import KINDS
from protoconch.records.models import Entry as Row
from protoconch.records.models import Site
from protoconch.records.queries.log import rows
from protoconch.web.shell.fields import Day, Words
from protoconch.words import say


class LookingFor(forms.Form):
    """Words, kind, place, batch, person and days; all may stay empty."""

    words = Words(120, label=_("Words"), required=False)
    kind = forms.ChoiceField(
        label=_("What"), required=False,
        choices=lambda: [("", _("anything")), *((name, str(say(name))) for name in KINDS)],
    )  # fmt: skip
    where = Words(label=_("Place"), required=False)
    batch = Words(label=_("Batch"), required=False)
    who = Words(label=_("Who"), required=False)
    since = Day(label=_("From"), required=False)
    until = Day(label=_("To"), required=False)

    use_required_attribute = False

    def rows(self, site: Site) -> QuerySet[Row]:
        """The rows looked for, the latest first; a field that is wrong asks for nothing."""
        asked: dict[str, Any] = getattr(self, "cleaned_data", {})
        found = rows(
            site,
            kind=asked.get("kind") or "",
            where=asked.get("where") or "",
            batch=asked.get("batch") or "",
            words=asked.get("words") or "",
            since=_start(asked.get("since"), 0),
            until=_start(asked.get("until"), 1),
        )
        return found.filter(who=asked["who"]) if asked.get("who") else found

    def any(self) -> bool:
        """Whether anything is looked for."""
        return any(getattr(self, "cleaned_data", {}).values())


def query(form: LookingFor, keys: Iterable[str] = ()) -> dict[str, str]:
    """What was typed, for the address of the next page."""
    return {key: form.data[key] for key in (*form.fields, *keys) if form.data.get(key)}


def _start(day: Any, later: int) -> datetime | None:
    """The moment at which a day, or the one after it, begins by the site's clock."""
    if day is None:
        return None
    begin = timezone.make_aware(datetime.combine(day + timedelta(days=later), time()))
    return begin - timedelta(microseconds=later)
