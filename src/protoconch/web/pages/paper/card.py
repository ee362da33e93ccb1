"""A batch's card: where it is from, when it does what, where it is, and a table to write in."""

from collections.abc import Iterator
from datetime import timedelta

from django.http import Http404, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from protoconch.log.state import State
from protoconch.pictures.counted import expected
from protoconch.pictures.words import about
from protoconch.records.queries.answers import planned
from protoconch.records.queries.log import state
from protoconch.records.queries.outlook import looked_ahead
from protoconch.records.queries.site import hatchery
from protoconch.season.answer import SeasonPlan
from protoconch.sheets.paper.page import Card, Fact, card_pdf
from protoconch.units import text
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.batches.lines import Known, known, line
from protoconch.web.pages.batches.story import CountLine, story
from protoconch.web.pages.paper.leading import as_pdf, foot, leads, paper_of, words
from protoconch.work.names import name_of

ROWS, SHOWN = 9, 4
"""Empty rows of the table, and counts of the log that stand above them."""
WEEKS = 4


@allowed(Role.VIEWER)
def card(request: Request, code: str) -> HttpResponse:
    """The card of one batch as PDF."""
    plan, now = planned(request.site).plan, state(request.site)
    batches = known(plan, now, looked_ahead(request.site))
    one = next((found for found in batches if found.code == code), None)
    if one is None:
        raise Http404
    told = line(one, plan, now, hatchery(request.site))
    its = story(request.site, one, plan, now, timezone.localdate())
    place = "paper:batch" if one.state is not None else "batches:batch"
    rows = tuple(_row(count) for count in reversed(its.counts[:SHOWN]))
    page = Card(
        site=request.site.name,
        title=_("Batch %(code)s") % {"code": code},
        under=", ".join(str(part) for part in (told.stage, told.where) if part),
        address=leads(request, reverse(place, args=[code])),
        facts=tuple(Fact(name, value) for name, value in _facts(one, now, plan) if value),
        heads=(_("Day"), _("Tank"), _("Alive"), _("Expected"), _("Dead"), _("Length"), _("By")),
        rows=rows,
        blank_rows=ROWS - len(rows),
        words=words(_("Scan to enter something of this batch")),
        under_table=_("The counts of the log stand above the empty rows.") if rows else "",
        foot=foot(request),
    )  # fmt: skip
    return as_pdf(card_pdf(page, paper_of(request)), f"card-{code}")


def _row(count: CountLine) -> tuple[str, ...]:
    return (date_format(count.day, _("j M")), "", count.value, count.expected, "", "", "")


def _facts(one: Known, now: State, plan: SeasonPlan | None) -> Iterator[tuple[str, str]]:
    yield from _origin(one, now)
    yield from _dates(one)
    if one.state is not None:
        yield _("Where"), ", ".join(one.state.vessels)
        if one.state.account.stocked:
            yield _("Alive by the ledger"), text(one.state.account.alive)
    yield _("Expected alive"), _expected(one, plan)
    if one.planned is not None:
        if one.planned.tanks and one.state is None:
            yield _("Tanks"), ", ".join(name_of(tank) for tank in one.planned.tanks)
        spread = one.planned.released
        if plan is not None:
            yield _("Expected at the end"), _("%(low)s to %(high)s, by the plan") % {
                "low": text(round(spread.p10), "1", 2), "high": text(round(spread.p90), "1", 2),
            }  # fmt: skip


def _expected(one: Known, plan: SeasonPlan | None) -> str:
    """What is expected of it in the weeks to come, as far as it is there then."""
    daily, today = one.line, timezone.localdate()
    if daily is None or plan is None or one.planned is None:
        return ""
    first = max(today, one.planned.dates.hatch)
    told = []
    for week in range(1, WEEKS + 1):
        day = first + timedelta(days=7 * week)
        hoped = expected(daily, plan.forecast.first_day, day)
        if day < one.planned.dates.release and hoped.high > 0:
            told.append(_("%(day)s: %(low)s to %(high)s") % {
                "day": date_format(day, _("j M")), "low": about(hoped.low),
                "high": about(hoped.high),
            })  # fmt: skip
    return "; ".join(map(str, told))


def _origin(one: Known, now: State) -> Iterator[tuple[str, str]]:
    if one.state is not None and one.state.masses:
        yield _("Egg masses"), ", ".join(one.state.masses)
        for name in one.state.masses:
            mass = now.masses.get(name)
            if mass is not None:
                where = mass.site or _("place not told")
                permit = _(", permit %(permit)s") % {"permit": mass.permit} if mass.permit else ""
                taken = date_format(timezone.localtime(mass.collected), _("j F Y"))
                yield name, f"{taken}, {where}{permit}"
    elif one.planned is not None:
        number = one.planned.egg_masses
        said = ngettext("a piece of %(n)s mass", "pieces of %(n)s masses", number)
        yield _("Egg masses"), said % {"n": number}


def _dates(one: Known) -> Iterator[tuple[str, str]]:
    """When it comes to each stage: as it was where the log knows, else as planned."""
    seen = one.state
    if seen is not None and seen.hatched is not None:
        yield _("Hatched"), date_format(timezone.localtime(seen.hatched), _("j F Y"))
    if seen is not None and seen.settled is not None:
        yield _("Settled"), date_format(timezone.localtime(seen.settled), _("j F Y"))
    if one.planned is None:
        return
    dates = one.planned.dates
    named = (
        (_("Collect"), dates.collect, seen is None), (_("Hatch"), dates.hatch, seen is None or
         seen.hatched is None), (_("Settle"), dates.induce, seen is None or seen.settled is None),
        (_("To the nursery"), dates.to_nursery, True), (_("Release"), dates.release, True),
    )  # fmt: skip
    for name, day, ahead in named:
        if ahead:
            yield name, _("%(day)s, planned") % {"day": date_format(day, _("j F Y"))}
