"""Form fields for the numbers of a hatchery's file, with the limits that the file has."""

from typing import Any
from zoneinfo import available_timezones

from django.utils.translation import gettext_lazy as _

from protoconch.animals.profiles import known_species, species
from protoconch.hatchery.section import sensible
from protoconch.pictures.words import MONTHS
from protoconch.web.shell.fields import Measure, Whole
from protoconch.words import say

MONTH_CHOICES = [(str(number), _(name)) for number, name in enumerate(MONTHS, start=1)]


def count(name: str, label: Any, **parts: Any) -> Whole:
    """A field for a whole number. name: as in the hatchery's limits, "trays.count"."""
    return Whole(label=label, **_limits(name), **parts)


def measure(name: str, label: Any, **parts: Any) -> Measure:
    """A field for a measure, in its unit. name: as in the hatchery's limits, "trays.area"."""
    return Measure(sensible()[name].unit, label=label, **_limits(name), **parts)


def zone_choices() -> list[tuple[str, str]]:
    """The time zones, by continent and town."""
    zones = sorted(zone for zone in available_timezones() if "/" in zone or zone == "UTC")
    return [(zone, zone.replace("_", " ")) for zone in zones]


def species_choices() -> list[tuple[str, str]]:
    """The animals of which there is a profile."""
    return [(key, str(say(species(key).common_name))) for key in known_species()]


def _limits(name: str) -> dict[str, Any]:
    known = sensible()[name]
    return {"low": known.low, "high": known.high}
