"""Labels for tanks, trays and cultures."""

from collections.abc import Iterator, Mapping

from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.functional import Promise
from django.utils.translation import get_language, gettext_lazy
from django.utils.translation import gettext as _

from protoconch.hatchery.vessels import Vessel, vessels
from protoconch.log.state import State
from protoconch.records.queries.log import state
from protoconch.records.queries.site import hatchery
from protoconch.sheets.paper.labels import FIRST, STOCKS, Label, labels_pdf
from protoconch.units import text
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.paper.leading import as_pdf, leads
from protoconch.web.pages.paper.places import slugs
from protoconch.web.pages.today.lines import unit_of

OF: Mapping[str, tuple[Promise, tuple[str, ...]]] = {
    "tanks": (gettext_lazy("Tanks and incubators"), ("incubator", "larval tank", "nursery tank")),
    "trays": (gettext_lazy("Trays"), ("tray",)),
    "cultures": (gettext_lazy("Cultures there are now"), ("algae vessel",)),
    "vessels": (gettext_lazy("Vessels of the algae room"), ("algae vessel",)),
    "water": (gettext_lazy("Reservoir, loops, cartridges and lamps"),
              ("reservoir", "loop", "cartridge", "UV lamp")),
}  # fmt: skip
"""What labels can be printed for: its name, and the kinds of vessel."""
SIZES: Mapping[str, Promise] = {
    "letter-10": gettext_lazy("Letter, 10 labels of 4 × 2 in"),
    "letter-6": gettext_lazy("Letter, 6 labels of 4 × 3⅓ in"),
    "a4-14": gettext_lazy("A4, 14 labels of 99 × 38 mm"),
    "a4-8": gettext_lazy("A4, 8 labels of 99 × 68 mm"),
}


@allowed(Role.VIEWER)
def labels(request: Request) -> HttpResponse:
    """The labels that are asked for, as PDF."""
    asked = request.GET.get("of", "")
    of = asked if asked in OF else next(iter(OF))
    stock = request.GET.get("size", "")
    used = request.GET.get("used", "")
    pdf = labels_pdf(
        tuple(_labels(request, of)), get_language() or "en", stock if stock in STOCKS else FIRST,
        int(used) if used.isascii() and used.isdigit() and len(used) < 3 else 0,
        str(OF[of][0]),
    )  # fmt: skip
    return as_pdf(pdf, f"labels-{of}")


def _labels(request: Request, of: str) -> Iterator[Label]:
    present, here = state(request.site), vessels(hatchery(request.site))
    own, kinds = slugs(request.site), OF[of][1]
    for vessel in here:
        if vessel.kind in kinds and (of != "cultures" or vessel.name in present.cultures):
            address = leads(request, reverse("paper:place", args=[own[vessel.name]]))
            under, more = _words(vessel, present, of)
            yield Label(vessel.name, under, more, address)


def _words(vessel: Vessel, present: State, of: str) -> tuple[str, str]:
    """What stands on a label under its name: of a culture what grows there, else its size."""
    culture = present.cultures.get(vessel.name)
    if of == "cultures" and culture is not None:
        started = date_format(timezone.localtime(culture.started), _("j F Y"))
        return culture.species, _("started %(day)s") % {"day": started}
    size = text(vessel.size, unit_of(vessel.unit)) if vessel.size else ""
    return size, ""
