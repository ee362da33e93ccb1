"""A table is taken into the log: chosen, its columns put right, looked at, and taken in whole."""

from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from protoconch.errors import BadInput
from protoconch.hatchery.vessels import vessels
from protoconch.log.kinds import KINDS
from protoconch.log.sentences import sentence
from protoconch.operations.exchange.columns import READINGS, Meaning, targets
from protoconch.operations.exchange.raw_rows import Rows, entry_rows, reading_rows
from protoconch.operations.exchange.table_found import ORDERS, Table
from protoconch.operations.exchange.taking_in import Outcome, taken_in, tried
from protoconch.records.queries.site import hatchery
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.exchange.sent import EVERY, WORDS, Sent, column_faults, sent

SHOWN, PROBLEMS_SHOWN, VALUES_SHOWN = 12, 200, 3
SIGNS = ((",", _("comma")), (";", _("semicolon")), ("tab", _("tab")), ("|", _("upright stroke")))


class Column(NamedTuple):
    """A column as the form shows it."""

    number: int
    heading: str
    values: tuple[str, ...]
    meaning: Meaning


@allowed(Role.CREW)
def bring(request: Request) -> HttpResponse:
    """The import: a table is sent, its columns are put right, it is looked at and taken in."""
    if request.method != "POST":
        return render(request, "exchange/import.html", _start(request, "", ""))
    got: Sent | None = None
    try:
        got = sent(request)
        table = got.table() if got.text.strip() else None
    except BadInput as fault:
        return _refused(request, got, str(fault))
    if table is None:
        return _refused(request, got, _("Choose a file, or paste a table."))
    return _looked_at(request, got, table)


def _looked_at(request: Request, got: Sent, table: Table) -> HttpResponse:
    """The page after the table is read: its columns, what it would do, or that it is in."""
    found = got.meanings(table)
    if got.action not in ("check", "take") or len(got.columns) != len(table.headings):
        return _page(request, got, table, found)
    faults = column_faults(found, got.what, table.headings)
    if faults:
        return _page(request, got, table, found, faults=faults, status=422)
    rows, now = _rows(request, got, table, found), timezone.now()
    if got.action == "check":
        outcome = tried(request.person, rows, now)
        return _page(request, got, table, found, outcome, status=422 if outcome.problems else 200)
    outcome = taken_in(request.person, rows, now, sure=got.sure)
    if not outcome.taken:
        return _page(request, got, table, found, outcome, status=422 if outcome.problems else 409)
    messages.success(request, _taken_words(len(outcome.fresh), outcome.there))
    return redirect("log:entries")


def _rows(request: Request, got: Sent, table: Table, found: tuple[Meaning, ...]) -> Rows:
    zone, site = ZoneInfo(request.site.zone), f"{request.site.pk} {request.site.made.isoformat()}"
    if got.what == READINGS:
        return reading_rows(
            table, found, zone, site, where=got.where, instrument=got.instrument,
            every_min=got.every_min,
        )  # fmt: skip
    here = hatchery(request.site)
    return entry_rows(table, found, here, zone, site, timezone.now(), got.kind)


def _start(request: Request, text: str, fault: str, got: Sent | None = None) -> dict[str, Any]:
    return {
        "text": text, "fault": fault, "what": got.what if got else request.GET.get("what", ""),
        "title": _("The table could not be read") if fault else _("Which table shall be taken in?"),
    }  # fmt: skip


def _refused(request: Request, got: Sent | None, fault: str) -> HttpResponse:
    told = _start(request, got.text if got else "", fault, got)
    return render(request, "exchange/import.html", told, status=422)


def _page(
    request: Request, got: Sent, table: Table, found: tuple[Meaning, ...],
    outcome: Outcome | None = None, *, faults: list[str] | None = None, status: int = 200,
) -> HttpResponse:  # fmt: skip
    """The columns, and once it was looked at, what would be taken in and what is wrong."""
    readings = got.what == READINGS
    told: dict[str, Any] = {
        "got": got, "table": table, "readings": readings, "outcome": outcome, "faults": faults,
        "columns": [
            Column(n, heading, table.column(n)[:VALUES_SHOWN], found[n])
            for n, heading in enumerate(table.headings)
        ],
        "targets": [(name, WORDS.get(name, name)) for name in ("", *targets(got.what))],
        "signs": SIGNS, "sign": {"\t": "tab"}.get(table.delimiter, table.delimiter),
        "orders": [(order, _(order.replace("-", ", "))) for order in ORDERS], "every": EVERY,
        "vessels": [one.name for one in vessels(hatchery(request.site))] if readings else [],
        "kinds": [] if readings or "kind" in {one.target for one in found} else list(KINDS),
        "title": _title(table, outcome, faults), "text": got.text,
    }  # fmt: skip
    if outcome is not None:
        told["problems"] = outcome.problems[:PROBLEMS_SHOWN]
        told["more_problems"] = max(0, len(outcome.problems) - PROBLEMS_SHOWN)
        told["unlikely"] = outcome.unlikely[:PROBLEMS_SHOWN]
        told["preview"] = [(line, one, sentence(one)) for line, one in outcome.fresh[:SHOWN]]
        told["more"] = max(0, len(outcome.fresh) - SHOWN)
        told["lines"] = len({problem.line for problem in outcome.problems})
    return render(request, "exchange/import.html", told, status=status)


def _title(table: Table, outcome: Outcome | None, faults: list[str] | None) -> str:
    if faults:
        return _("Some columns are not clear yet")
    if outcome is None:
        said = ngettext("%(n)s row: what are its columns?", "%(n)s rows: what are their columns?",
                        len(table.rows))  # fmt: skip
        return said % {"n": f"{len(table.rows):,}"}
    if outcome.problems:
        said = ngettext("%(n)s thing is wrong; nothing was taken in",
                        "%(n)s things are wrong; nothing was taken in",
                        len(outcome.problems))  # fmt: skip
        return said % {"n": f"{len(outcome.problems):,}"}
    if not outcome.fresh:
        return _("All of it is in the log already")
    said = ngettext("%(n)s entry can be taken in", "%(n)s entries can be taken in",
                    len(outcome.fresh))  # fmt: skip
    return said % {"n": f"{len(outcome.fresh):,}"}


def _taken_words(fresh: int, there: int) -> str:
    said = ngettext("%(n)s entry was taken in.", "%(n)s entries were taken in.", fresh)
    told = said % {"n": f"{fresh:,}"}
    if there:
        again = ngettext("%(n)s was there already.", "%(n)s were there already.", there)
        told = f"{told} {again % {'n': f'{there:,}'}}"
    return told
