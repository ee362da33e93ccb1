"""Changing what the hatchery is described as: each change is a new row, none is overwritten."""

from zoneinfo import available_timezones

from django.db import transaction

from protoconch.errors import UnknownName
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.reading import read_hatchery
from protoconch.records.models import Description, Person, Site
from protoconch.words import say


def describe(person: Person, text: str) -> Hatchery:
    """The hatchery as newly described.

    text: TOML. Raises: BadFile, with every fault and its line; nothing is changed then.
    """
    site = person.site
    hatchery = read_hatchery(text, f"{site.name}.toml")
    with transaction.atomic():
        last = site.descriptions.last()
        if last is None or last.text != text:
            Description.objects.create(site=site, text=text, by=person.name)
        if site.name != hatchery.name:
            Site.objects.filter(pk=site.pk).update(name=hatchery.name)
            site.name = hatchery.name
    return hatchery


def go_back(person: Person, number: int) -> Hatchery:
    """The hatchery as an earlier description had it, written as a new row.

    number: of the description. Raises: UnknownName, where this hatchery has none of that number.
    """
    found = person.site.descriptions.filter(pk=number).first()
    if found is None:
        raise UnknownName(say("There is no such description of this hatchery."))
    return describe(person, found.text)


def put_in_zone(person: Person, zone: str) -> None:
    """Set the clock of the site. Raises: UnknownName, where there is no such zone."""
    if zone not in available_timezones():
        raise UnknownName(say("There is no time zone {zone}.", zone=zone[:40]))
    Site.objects.filter(pk=person.site.pk).update(zone=zone)
    person.site.zone = zone
