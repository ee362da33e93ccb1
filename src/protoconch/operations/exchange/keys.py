"""Keys by which a person's own programs come in: shown once, kept as a hash, ended at any time."""

import hashlib
import secrets
from datetime import datetime, timedelta

from protoconch.errors import BadInput
from protoconch.records.models import Key, Person
from protoconch.words import say

API, CALENDAR = "api", "calendar"
PURPOSES = (API, CALENDAR)
MOST_KEYS = 20
NOTED_AGAIN_AFTER = timedelta(hours=1)


def make_key(person: Person, purpose: str, words: str, now: datetime) -> str:
    """A new key, told this once; it may what the person may, as long as the person may.

    purpose: one of PURPOSES. words: what it is for. Raises: BadInput.
    """
    if purpose not in PURPOSES:
        raise BadInput(say("A key is for the API or for the calendar; choose one of them."))
    if person.tablet:
        raise BadInput(say("The tablet of the room has no keys; make one on a device of your own."))
    if person.keys.count() >= MOST_KEYS:
        raise BadInput(
            say("There are {most} keys already; end one that is no longer used.", most=MOST_KEYS)
        )
    secret = secrets.token_urlsafe(32)
    Key.objects.create(
        person=person, purpose=purpose, words=words.strip()[:80], made=now,
        secret_hash=_hash(secret),
    )  # fmt: skip
    return secret


def key_of(secret: str, purpose: str, now: datetime) -> Key | None:
    """The key with that secret, None where there is none, or its person is no longer active."""
    if not secret.isascii() or len(secret) > 200:
        return None
    found = (
        Key.objects.select_related("person__site")
        .filter(secret_hash=_hash(secret), purpose=purpose, person__active=True)
        .first()
    )
    if found and (found.used is None or now - found.used > NOTED_AGAIN_AFTER):
        Key.objects.filter(pk=found.pk).update(used=now)
    return found


def end_key(person: Person, number: int) -> bool:
    """End a key of that person's; False where there is none of that number."""
    ended, _ = Key.objects.filter(person=person, pk=number).delete()
    return bool(ended)


def _hash(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()
