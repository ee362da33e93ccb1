"""A day's work as a sheet of paper, with room to write and a code that leads to typing it in."""

from collections.abc import Iterable, Iterator
from datetime import date
from itertools import groupby

from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from protoconch.records.queries import answers
from protoconch.records.queries.log import state
from protoconch.sheets.paper.page import Line, Part, Sheet, sheet_pdf
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.paper.leading import as_pdf, foot, leads, paper_of, words
from protoconch.web.pages.paper.printed import OnPaper, boxes, on_paper, told
from protoconch.web.pages.today import days
from protoconch.web.pages.today.days import in_words
from protoconch.web.pages.today.lines import ROUND_WORDS, lines_of
from protoconch.web.pages.today.titles import title_of


@allowed(Role.VIEWER)
def sheet(request: Request, on: date) -> HttpResponse:
    """The sheet of a day as PDF: the lines that are open now."""
    planned = answers.planned(request.site)
    now = timezone.now().replace(microsecond=0)
    lines = on_paper(request.site, planned, on, now)
    tasks = lines_of([line.task for line in lines], state(request.site))
    page = Sheet(
        site=request.site.name,
        title=f"{in_words(on)} {on.year}",
        under=title_of(tasks, on, days.here_today(), planned),
        address=leads(request, f"{reverse('paper:typed', args=[on])}?p={told(now)}"),
        parts=tuple(_parts(lines)),
        cautions=tuple(dict.fromkeys(c for line in lines for c in line.task.cautions)),
        words=words(_("Scan to type this sheet in")),
        foot=foot(request),
    )
    return as_pdf(sheet_pdf(page, paper_of(request)), on.isoformat())


def place_words(where: str, batch: str) -> str:
    """A place with the batch that is in it."""
    return f"{where}, {batch}" if batch not in ("", "algae") else str(where)


def _parts(lines: Iterable[OnPaper]) -> Iterator[Part]:
    for name, own in groupby(lines, key=lambda line: line.task.round):
        yield Part(str(ROUND_WORDS[name]), tuple(_line(line) for line in own))


def _line(line: OnPaper) -> Line:
    task = line.task
    where = place_words(task.where, task.batch)
    return Line(line.number, task.what, where, task.amount, boxes=boxes(line.ways[0]))
