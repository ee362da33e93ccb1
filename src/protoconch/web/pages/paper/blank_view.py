"""Blank sheets as PDF, for a day without power."""

from collections.abc import Iterator
from dataclasses import replace

from django.http import Http404, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _

from protoconch.hatchery.vessels import vessels
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.sheets.paper.blank_sheet import BlankSheet, Column, blank_pdf
from protoconch.sheets.paper.page import Box
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.paper.blank_sheets import SHEETS, Blank, in_use
from protoconch.web.pages.paper.leading import as_pdf, foot, leads, paper_of, words
from protoconch.web.pages.paper.printed import box_of
from protoconch.web.pages.paper.typed_lines import row_of
from protoconch.web.pages.paper.typing_in import SPARE_ROWS

LEAST_ROWS = 8


@allowed(Role.VIEWER)
def blank_sheet(request: Request, slug: str) -> HttpResponse:
    """One of the blank sheets as PDF."""
    sheet = SHEETS.get(slug)
    if sheet is None:
        raise Http404
    places = in_use(sheet, vessels(hatchery(request.site)), state(request.site))
    page = BlankSheet(
        site=request.site.name, title=str(sheet.name), under=str(sheet.under),
        address=leads(request, reverse("paper:typed-blank", args=[slug])),
        place=_("Place"), columns=tuple(_columns(sheet)), places=places,
        rows=max(LEAST_ROWS, len(places) + SPARE_ROWS), day=_("Day"),
        cautions=(_("Mains and seawater can kill, and power may come back at any moment: unplug"
                    " before reaching into water."),),
        words=replace(words(_("Scan to type this sheet in")), time=_("Time"), by=_("By")),
        foot=foot(request),
    )  # fmt: skip
    return as_pdf(blank_pdf(page, paper_of(request)), f"blank-{slug}")


def boxes_of_row(sheet: Blank) -> Iterator[Box]:
    """The boxes of a row: those of the screen on which it is typed in."""
    row = row_of(1, sheet.letter, "", sheet.asked(), "")
    for _entry, front, _more in row.asked:
        yield from map(box_of, front)


def _columns(sheet: Blank) -> Iterator[Column]:
    for box, share in zip(boxes_of_row(sheet), sheet.shares, strict=True):
        yield Column(box.label, box.unit, box.count, "" if box.count > 1 else box.hint, share)
