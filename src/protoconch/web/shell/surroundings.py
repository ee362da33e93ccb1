"""What the frame of every page shows besides the page."""

from typing import Any, NamedTuple

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils import timezone
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from protoconch.operations.people.roles import hands
from protoconch.records.models import Role


class Place(NamedTuple):
    """A page in the row of pages: its address name, its word, the least role that sees it."""

    address: str
    word: Promise
    role: str = Role.VIEWER

    @property
    def app(self) -> str:
        """The page that the address belongs to."""
        return self.address.partition(":")[0]


PLACES = (
    Place("today:day", _("Today")),
    Place("season:season", _("Season")),
    Place("batches:batches", _("Batches")),
    Place("algae:algae", _("Algae")),
    Place("water:water", _("Water")),
    Place("log:entries", _("Log")),
    Place("site:site", _("Site")),
    Place("reports:reports", _("Reports")),
)


def surroundings(request: HttpRequest) -> dict[str, Any]:
    """The row of pages, the person and the site."""
    person = getattr(request, "person", None)
    match = getattr(request, "resolver_match", None)
    here = match.app_name if match else ""
    return {
        "places": [
            place for place in PLACES if person and person.may(place.role) and _built(place)
        ],
        "here": here,
        "here_word": next((place.word for place in PLACES if place.app == here), ""),
        "may_enter": bool(person and person.may(Role.CREW)),
        "may_manage": bool(person and person.may(Role.MANAGER)),
        "person": person,
        "now_ms": round(timezone.now().timestamp() * 1000),
        "site": getattr(request, "site", None),
        "hands": hands(person.site) if person and getattr(person, "at_tablet", False) else (),
    }


def _built(place: Place) -> bool:
    try:
        reverse(place.address)
    except NoReverseMatch:
        return False
    return True
