"""Ways in for new people: a code that a manager shows, good once and for a week."""

from datetime import datetime, timedelta
from typing import NamedTuple

from django.db import IntegrityError, transaction

from protoconch.errors import BadInput, UnknownName
from protoconch.operations.people.codes import code_hash, new_code, plain
from protoconch.records.models import Invitation, Person, Role, Site
from protoconch.words import say

GOOD_FOR = timedelta(days=7)
LONGEST_NAME = 80


class Invited(NamedTuple):
    """An invitation and its code, which is told this once and kept nowhere."""

    invitation: Invitation
    code: str


def invite(site: Site, role: str, name: str, now: datetime) -> Invited:
    """A new way in. role: a Role. name: of whom it is meant for, may be empty."""
    if role not in Role.values:
        raise UnknownName(
            say("{role} is no role; there are {roles}.", role=role, roles=", ".join(Role.values))
        )
    code = new_code()
    made = Invitation.objects.create(
        site=site, code_hash=code_hash(code), role=role, name=name.strip(), until=now + GOOD_FOR
    )
    return Invited(made, code)


def invitation_of(code: str, now: datetime) -> Invitation:
    """The invitation that a code opens. Raises: UnknownName, where it opens none (any more)."""
    found = Invitation.objects.filter(
        code_hash=code_hash(code), used__isnull=True, until__gt=now
    ).first()
    if found is None:
        raise UnknownName(
            say(
                "This code opens nothing: it may be mistyped, used already or older than a week. "
                "Ask your manager for a new one."
            )
        )
    return found


def join(code: str, name: str, password: str, now: datetime) -> Person:
    """The new person. Raises: UnknownName for the code; BadInput, where the name is taken."""
    with transaction.atomic():
        invitation = invitation_of(code, now)
        taken = Invitation.objects.filter(pk=invitation.pk, used__isnull=True).update(used=now)
        if not taken:
            raise UnknownName(
                say("This code was used a moment ago; ask your manager for a new one.")
            )
        return new_person(invitation.site, name, password, invitation.role)


def new_person(site: Site, name: str, password: str | None, role: str) -> Person:
    """A person of the site who signs in by that name.

    Raises: BadInput, where the name is empty, too long or taken.
    """
    shown = " ".join(name.split())
    if not shown or len(shown) > LONGEST_NAME:
        raise BadInput(say("Give a name of 1 to {most} letters.", most=LONGEST_NAME))
    try:
        with transaction.atomic():
            return Person.objects.create_user(
                plain(shown), password, site=site, name=shown, role=role
            )
    except IntegrityError:
        raise BadInput(
            say("The name {name} is taken; add a letter of the family name.", name=shown)
        ) from None


def withdraw(site: Site, number: int) -> None:
    """Make an invitation that nobody has used open nothing."""
    Invitation.objects.filter(site=site, pk=number, used__isnull=True).delete()
