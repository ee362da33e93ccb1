"""The first start: a hatchery, its description and its first manager, made once and together."""

import hmac
from zoneinfo import available_timezones

from django.conf import settings
from django.db import connection, transaction

from protoconch.errors import BadInput, UnknownName
from protoconch.hatchery.reading import read_hatchery
from protoconch.operations.people.codes import code_from, plain
from protoconch.operations.people.invitations import new_person
from protoconch.records.models import Description, Person, Role, Site
from protoconch.words import say


def started() -> bool:
    """Whether anybody is known here yet."""
    return Person.objects.exists()


def first_code() -> str:
    """The code that lets the first manager in over the network; it opens nothing afterwards.

    It follows from the secret of this installation, so that a restart does not change it.
    """
    return code_from(settings.SECRET_KEY, "first start")


def first_code_fits(typed: str) -> bool:
    """Whether that is the code, compared in a time that tells nothing of it."""
    return hmac.compare_digest(plain(typed).encode(), plain(first_code()).encode())


def start(description: str, zone: str, manager: str, password: str) -> Person:
    """The first manager of a new hatchery.

    description: TOML. zone: as in "America/Nassau". manager: name. password: as typed.
    Raises: BadInput, where somebody is known already or the name will not do; UnknownName for
    the zone; BadFile, with every fault of the description.
    """
    if zone not in available_timezones():
        raise UnknownName(say("There is no time zone {zone}.", zone=zone[:40]))
    hatchery = read_hatchery(description, "hatchery.toml")
    with transaction.atomic():
        _alone()
        if started():
            raise BadInput(say("This hatchery has its people already; sign in."))
        site = Site.objects.create(name=hatchery.name, zone=zone)
        person = new_person(site, manager, password, Role.MANAGER)
        Description.objects.create(site=site, text=description, by=person.name)
    return person


def _alone() -> None:
    """Let no second first start run beside this one; SQLite lets none by itself."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("LOCK TABLE records_site IN SHARE ROW EXCLUSIVE MODE")
