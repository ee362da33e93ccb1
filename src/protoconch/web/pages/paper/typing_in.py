"""A sheet of paper is typed in on one screen."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from protoconch.errors import BadInput
from protoconch.hatchery.vessels import vessels
from protoconch.records.queries import answers
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.paper.blank_sheets import SHEETS, Blank, in_use
from protoconch.web.pages.paper.printed import on_paper, when
from protoconch.web.pages.paper.taking import names_here, status_of, take
from protoconch.web.pages.paper.typed_lines import TypedLine, line_of, row_of
from protoconch.web.pages.today import days
from protoconch.web.pages.today.days import in_words
from protoconch.web.pages.today.lines import ROUND_WORDS
from protoconch.work.entries.asked import Asked, blank

SPARE_ROWS, MOST_ROWS = 4, 60
MOST_DAYS_BACK = 400


@allowed(Role.CREW)
def typed(request: Request, on: date) -> HttpResponse:
    """All lines of a day's sheet as one form."""
    told = request.POST.get("p") or request.GET.get("p", "")
    printed = when(told)
    fresh = [*_lines(request, on, told), _seen_besides()]
    known: dict[str, Any] = {
        "title": _("Type in the sheet of %(day)s") % {"day": in_words(on)}, "on": on,
        "printed": printed, "told": told, "back": "today:on", "to_come": on > days.here_today(),
    }  # fmt: skip
    return _answered(request, on, fresh, known)


@allowed(Role.CREW)
def typed_blank(request: Request, slug: str) -> HttpResponse:
    """The rows of a blank sheet as one form."""
    sheet = SHEETS.get(slug)
    if sheet is None:
        raise Http404
    on = _day(request)
    here, present = vessels(hatchery(request.site)), state(request.site)
    places = in_use(sheet, here, present)
    rows = _number(request.GET.get("rows", ""), len(places) + SPARE_ROWS)
    known: dict[str, Any] = {
        "title": _("Type in: %(sheet)s") % {"sheet": sheet.name}, "on": on, "sheet": sheet,
        "more": min(rows + 8, MOST_ROWS), "choose_day": True, "to_come": on > days.here_today(),
        "row_places": {sheet.letter: [v.name for v in here if sheet.suits(v)]},
    }  # fmt: skip
    return _answered(request, on, rows_of(sheet, places, rows), known)


def rows_of(sheet: Blank, places: Sequence[str], rows: int) -> list[TypedLine]:
    """The rows of a blank sheet, the first ones with their places."""
    made = []
    for number in range(1, max(rows, len(places)) + 1):
        place = places[number - 1] if number <= len(places) else ""
        made.append(row_of(number, sheet.letter, "", sheet.asked(), place))
    return made


def answer_to(request: Request, on: date, fresh: Sequence[TypedLine], told: dict[str, Any],
              template: str, back: str) -> HttpResponse:  # fmt: skip
    """The page with its form; sent, what became of it: all taken, it leads on."""
    lines, status = list(fresh), 200
    if request.method == "POST":
        try:
            sent = take(request.person, request.POST, on)
        except BadInput as fault:
            messages.error(request, str(fault))
            return redirect(back)
        saved = sum(line.outcome in ("added", "there already") for line in sent)
        status = status_of(sent)
        if status == 200 and not any(line.outcome == "other" for line in sent):
            _say(request, saved)
            return redirect(back)
        lines, told["saved"] = _together(lines, sent), saved
        told["left"] = sum(line.outcome in ("refused", "unlikely") for line in sent)
    shown = {
        **told, "lines": lines, "rounds": _rounds(lines), "names": names_here(request.person),
        "who": request.POST.get("written", ""), "letters": ",".join(
            line.prefix for line in lines if line.open),
    }  # fmt: skip
    return render(request, template, shown, status=status)


def _answered(
    request: Request, on: date, fresh: Sequence[TypedLine], told: dict[str, Any]
) -> HttpResponse:
    return answer_to(request, on, fresh, told, "paper/typed.html", request.get_full_path())


def _lines(request: Request, on: date, told: str) -> list[TypedLine]:
    if on > days.here_today():
        return []
    planned = answers.planned(request.site)
    present = state(request.site)
    lines = on_paper(request.site, planned, on, when(told))
    return [line_of(line, present.settled.get(line.task.key)) for line in lines]


def _seen_besides() -> TypedLine:
    """What was written at the end of a sheet."""
    text = blank("note", "text", sort="text", needed=False, words=_("seen besides"))
    return row_of(1, "n", _("Seen besides"), (Asked("note", "", {}, (text,)),), "")


def _say(request: Request, saved: int) -> None:
    if saved:
        words = ngettext("%(n)s line is saved.", "%(n)s lines are saved.", saved) % {"n": saved}
        messages.success(request, words)
    else:
        messages.warning(request, _("Nothing was ticked or typed, so nothing was saved."))


def _together(fresh: Iterable[TypedLine], sent: Iterable[TypedLine]) -> list[TypedLine]:
    """The lines with those that were sent in their places; what is no longer asked for, last."""
    by_name = {(line.prefix, line.key): line for line in sent}
    found = [by_name.pop((line.prefix, line.key), line) for line in fresh]
    return [*found, *by_name.values()]


def _rounds(lines: Sequence[TypedLine]) -> list[tuple[str, list[TypedLine]]]:
    """The lines by round as on paper; those of no round under no heading."""
    found: dict[str, list[TypedLine]] = {}
    for line in lines:
        found.setdefault(line.kept["round"], []).append(line)
    return [(str(ROUND_WORDS.get(name, "")), own) for name, own in found.items()]


def _day(request: Request) -> date:
    """The day that is asked for, else today."""
    try:
        return date.fromisoformat(request.POST.get("day") or request.GET.get("day", ""))
    except ValueError:
        return days.here_today()


def _number(told: str, usual: int) -> int:
    return min(int(told), MOST_ROWS) if told.isascii() and told.isdigit() else usual
