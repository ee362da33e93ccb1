"""The places that labels lead to: a short name in an address for each vessel."""

from collections.abc import Mapping

from django.utils.text import slugify

from protoconch.hatchery.vessels import Vessel, vessels
from protoconch.records.models import Site
from protoconch.records.queries.site import hatchery


def by_slug(site: Site) -> Mapping[str, Vessel]:
    """All vessels and places by their name in an address."""
    found: dict[str, Vessel] = {}
    for vessel in vessels(hatchery(site)):
        own = slugify(vessel.name, allow_unicode=True) or "place"
        again = 2
        while own in found:
            own, again = f"{own}-{again}", again + 1
        found[own] = vessel
    return found


def slugs(site: Site) -> Mapping[str, str]:
    """The name in an address of each vessel, by its own name."""
    return {vessel.name: slug for slug, vessel in by_slug(site).items()}
