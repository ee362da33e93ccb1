"""The how-to cards: all of them, one, and one on paper."""

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import get_language

from protoconch.animals.profiles import species
from protoconch.animals.species import Species
from protoconch.errors import MissingInput, UnknownName
from protoconch.records.models import Site
from protoconch.records.queries.site import hatchery
from protoconch.sheets.how_to_card import ShownCard, listed_cards, shown_card
from protoconch.sheets.paper.how_to import how_to_pdf
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.log.choices import choice
from protoconch.web.pages.paper.leading import as_pdf, leads, paper_of

USUAL = "queen-conch"
"""Whose numbers are told before the hatchery is described."""
ON_PAPER = {"ink": "#000", "paper": "#fff"}


@allowed(Role.VIEWER)
def cards(request: Request) -> HttpResponse:
    """All cards, by part of the hatchery."""
    return render(request, "how_to/cards.html", {"areas": listed_cards()})


@allowed(Role.VIEWER)
def card(request: Request, slug: str) -> HttpResponse:
    """A card with its drawings."""
    shown = _shown(slug, request.site)
    writes = [choice(kind) for kind in shown.writes]
    return render(request, "how_to/card.html", {"card": shown, "writes": writes})


@allowed(Role.VIEWER)
def on_paper(request: Request, slug: str) -> HttpResponse:
    """A card as PDF on half a sheet."""
    shown = _shown(slug, request.site, **ON_PAPER)
    address = leads(request, reverse("how_to:card", args=[slug]))
    pdf = how_to_pdf(shown, request.site.name, address, get_language() or "en", paper_of(request))
    return as_pdf(pdf, slug)


def _shown(slug: str, site: Site, **colours: str) -> ShownCard:
    try:
        return shown_card(slug, _species(site), **colours)
    except UnknownName as fault:
        raise Http404(str(fault)) from fault


def _species(site: Site) -> Species:
    try:
        return species(hatchery(site).species)
    except MissingInput:
        return species(USUAL)
