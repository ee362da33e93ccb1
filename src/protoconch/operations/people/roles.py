"""What people may do, whether they may come in, and the number they type at the shared tablet."""

import re

from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction

from protoconch.errors import BadInput, UnknownName
from protoconch.operations.people.invitations import new_person
from protoconch.records.models import Person, Role, Site
from protoconch.words import say

PIN = re.compile(r"\d{4,8}")


def person_of(site: Site, number: int) -> Person:
    """The person of that number. Raises: UnknownName, where the site has none."""
    found = Person.objects.filter(site=site, pk=number).first()
    if found is None:
        raise UnknownName(say("There is no such person in this hatchery."))
    return found


def change_role(site: Site, number: int, role: str) -> Person:
    """The person in a new role. Raises: BadInput, where no manager would be left."""
    if role not in Role.values:
        raise UnknownName(
            say("{role} is no role; there are {roles}.", role=role, roles=", ".join(Role.values))
        )
    with transaction.atomic():
        person = person_of(site, number)
        if person.tablet and role != Role.CREW:
            raise BadInput(say("The tablet of the room stays in the role of the crew."))
        person.role = role
        person.save(update_fields=["role"])
        _keep_a_manager(site)
    return person


def let_in(site: Site, number: int, *, active: bool) -> Person:
    """The person with or without a way in; what they entered stays in the log.

    Raises: BadInput, where no manager would be left.
    """
    with transaction.atomic():
        person = person_of(site, number)
        person.active = active
        person.save(update_fields=["active"])
        _keep_a_manager(site)
    return person


def set_pin(person: Person, typed: str) -> None:
    """The number asked at the shared tablet; an empty one asks for none."""
    if typed and not PIN.fullmatch(typed):
        raise BadInput(say("The number for the tablet has 4 to 8 digits, or is left empty."))
    person.pin = make_password(typed) if typed else ""
    person.save(update_fields=["pin"])


def pin_fits(person: Person, typed: str) -> bool:
    """Whether the number is the person's; anyone's will do where none is asked."""
    return not person.pin or check_password(typed, person.pin)


def new_tablet(site: Site, name: str) -> Person:
    """The tablet of the room, as somebody who can never sign in by a password."""
    tablet = new_person(site, name, None, Role.CREW)
    tablet.tablet = True
    tablet.save(update_fields=["tablet"])
    return tablet


def hands(site: Site) -> list[Person]:
    """Who may enter at the shared tablet: all active crew and managers, by name."""
    return list(
        Person.objects.filter(
            site=site, active=True, tablet=False, role__in=(Role.CREW, Role.MANAGER)
        ).order_by("name")
    )


def _keep_a_manager(site: Site) -> None:
    # every change of a role takes the site's row first, so that two managers cannot both leave
    Site.objects.select_for_update().get(pk=site.pk)
    if not Person.objects.filter(site=site, role=Role.MANAGER, active=True).exists():
        raise BadInput(say("A hatchery needs one manager who can come in; make another one first."))
