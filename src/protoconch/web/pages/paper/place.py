"""The place that a label leads to: what is there, what is due, and what can be entered now."""

from collections.abc import Iterator, Sequence
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _

from protoconch.hatchery.vessels import Vessel, vessels
from protoconch.log.kinds import KINDS
from protoconch.log.payloads.water import QUANTITIES
from protoconch.log.state import Culture, Holding, State
from protoconch.records.queries import answers
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.units import text
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.batches.lines import STAGES
from protoconch.web.pages.log.choices import GROUPS, choice
from protoconch.web.pages.paper.blank_sheets import SHEETS
from protoconch.web.pages.paper.places import by_slug
from protoconch.web.pages.paper.printed import OnPaper, on_paper
from protoconch.web.pages.paper.typed_lines import TypedLine, line_of
from protoconch.web.pages.paper.typing_in import answer_to, rows_of
from protoconch.web.pages.today import days
from protoconch.web.pages.today.lines import unit_of
from protoconch.web.shell.words import day as day_words


@allowed(Role.VIEWER)
def place(request: Request, slug: str) -> HttpResponse:
    """One vessel or place."""
    vessel = by_slug(request.site).get(slug)
    if vessel is None:
        raise Http404
    present = state(request.site)
    told = {
        "title": _title(vessel, present), "facts": list(_facts(vessel, present)),
        "holding": present.holdings.get(vessel.name),
        "culture": present.cultures.get(vessel.name), "vessel": vessel,
        "kinds": _kinds((vessel,)),
    }  # fmt: skip
    return _shown(request, (vessel,), told)


@allowed(Role.VIEWER)
def batch(request: Request, code: str) -> HttpResponse:
    """All vessels that hold a batch."""
    present = state(request.site)
    one = present.batches.get(code)
    if one is None:
        raise Http404
    held = tuple(v for v in vessels(hatchery(request.site)) if v.name in one.vessels)
    facts = [(name, _holding_words(present, name)) for name in one.vessels]
    told = {"title": _("Batch %(code)s") % {"code": code}, "facts": facts, "batch": code,
            "kinds": _kinds(held)}  # fmt: skip
    return _shown(request, held, told, code)


def _shown(
    request: Request, here: Sequence[Vessel], told: dict[str, Any], batch_code: str = ""
) -> HttpResponse:
    """The page with today's lines of these vessels, and rows for what else is seen of them."""
    today = days.here_today()
    names = [vessel.name for vessel in here]
    if request.method == "POST" and not request.person.may(Role.CREW):
        raise PermissionDenied
    due = list(_due(request, set(names), batch_code))
    rows = {
        sheet.letter: rows_of(sheet, names if len(names) < 2 else (), 1)
        for sheet in SHEETS.values() if any(sheet.suits(vessel) for vessel in here)
    }  # fmt: skip
    told |= {
        "due": due, "on": today,
        "quick": [(sheet.name, sheet.letter) for sheet in SHEETS.values() if sheet.letter in rows],
        "row_places": {
            sheet.letter: [v.name for v in here if sheet.suits(v)] for sheet in SHEETS.values()
        },
    }  # fmt: skip
    fresh = [*due, *(row for own in rows.values() for row in own)]
    return answer_to(request, today, fresh, told, "paper/place.html", request.get_full_path())


def _due(request: Request, names: set[str], batch_code: str) -> Iterator[TypedLine]:
    """Today's lines that are done in these vessels."""
    planned, present = answers.planned(request.site), state(request.site)
    for line in on_paper(request.site, planned, days.here_today(), None):
        if names & _places(line) or (batch_code and line.task.batch == batch_code):
            yield line_of(line, present.settled.get(line.task.key))


def _places(line: OnPaper) -> set[str]:
    asked = [entry for way in line.ways for entry in way.asked]
    return {line.task.where, *(e.where for e in asked), *(p for e in asked for p in e.places)}


def _title(vessel: Vessel, present: State) -> str:
    held, culture = present.holdings.get(vessel.name), present.cultures.get(vessel.name)
    named = {"place": vessel.name[:1].upper() + vessel.name[1:]}
    if held is not None:
        return _("%(place)s: %(what)s") % {**named, "what": _holding_words(present, vessel.name)}
    if culture is not None:
        return _("%(place)s: %(what)s") % {**named, "what": culture.species}
    if vessel.kind in ("larval tank", "tray", "nursery tank", "incubator", "algae vessel"):
        if vessel.name in present.dirty:
            return _("%(place)s is empty and to be cleaned") % named
        return _("%(place)s is empty") % named
    return named["place"]


def _holding_words(present: State, name: str) -> str:
    held = present.holdings.get(name)
    if held is None:
        return ""
    named = {"batch": held.batch, "stage": STAGES.get(held.stage, held.stage),
             "n": text(held.alive)}  # fmt: skip
    return (
        _("%(n)s %(stage)s of %(batch)s") if held.alive else _("%(stage)s of %(batch)s")
    ) % named


def _facts(vessel: Vessel, present: State) -> Iterator[tuple[str, str]]:
    if vessel.size:
        yield _("Size"), text(vessel.size, unit_of(vessel.unit))
    held, culture = present.holdings.get(vessel.name), present.cultures.get(vessel.name)
    if held is not None:
        yield from _facts_of_animals(held)
    if culture is not None:
        yield from _facts_of_culture(culture)
    level = present.levels.get(vessel.name)
    if level is not None:
        yield _("Water in it"), text(level.litres, "L", 4)
    for (where, quantity), seen in present.readings.items():
        if where == vessel.name:
            yield quantity, text(seen.value, QUANTITIES[quantity][0])


def _facts_of_animals(held: Holding) -> Iterator[tuple[str, str]]:
    yield _("Number last known"), day_words(held.alive_seen)
    if held.length_mm is not None:
        yield _("Mean shell length"), text(held.length_mm, "mm", 3)
    if held.last_fed is not None:
        yield _("Last fed"), day_words(held.last_fed)
    if held.last_change is not None:
        yield _("Last change of water"), day_words(held.last_change)


def _facts_of_culture(culture: Culture) -> Iterator[tuple[str, str]]:
    yield _("Started"), day_words(culture.started)
    yield _("In it"), text(culture.litres, "L", 3)
    if culture.counts:
        last = culture.counts[-1]
        yield _("Cells"), _("%(n)s million/mL on %(day)s") % {
            "n": text(last.cells_per_ml / 1e6, "1", 3), "day": day_words(last.when),
        }  # fmt: skip


def _kinds(here: Sequence[Vessel]) -> list[tuple[str, str]]:
    """Kinds of entries that can be made of these places, each with the address of its form."""
    kinds = {vessel.kind for vessel in here}
    found = []
    for _group, names in GROUPS:
        for name in names:
            if kinds & set(KINDS[name].places):
                one = choice(name)
                where = here[0].name if len(here) == 1 else ""
                found.append((name, f"{reverse('log:add', args=[one.slug])}?where={where}"))
    return found
