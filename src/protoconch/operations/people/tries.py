"""Who fails to prove who they are waits, each time longer; kept in the database."""

import hashlib
from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db import transaction

from protoconch.errors import BadInput
from protoconch.records.models import Tries
from protoconch.words import say

FREE_OF_WAITING = {"account": 3, "address": 12}
"""Failures that cost nothing: of one account; from one address, behind which a crew may sit."""

FIRST_WAIT = timedelta(seconds=5)
LONGEST_WAIT = timedelta(minutes=15)
FORGOTTEN_AFTER = timedelta(days=1)


class TooSoon(BadInput):
    """Tried again before the wait was over. seconds: still to wait."""

    def __init__(self, seconds: int) -> None:
        """Say how long."""
        self.seconds = seconds
        super().__init__(
            say("Too many tries. Wait {seconds} seconds, then try once more.", seconds=seconds)
        )


def count_try(account: str, address: str, now: datetime) -> None:
    """Count a try as failed before it is judged, so that many at once are all counted.

    account: whom somebody claims to be, whether or not there is such a person.
    address: of the machine that asks. Raises: TooSoon, and then nothing is counted.
    """
    keys = _keys(account, address)
    with transaction.atomic():
        for key in sorted(keys):
            Tries.objects.get_or_create(key=key, defaults={"last": now})
        rows = list(Tries.objects.select_for_update().filter(key__in=keys).order_by("key"))
        left = max(_wait_left(row, keys[row.key], now) for row in rows)
        if left > timedelta(0):
            raise TooSoon(int(left.total_seconds()) + 1)
        for row in rows:
            row.failed = 1 if _forgotten(row, now) else row.failed + 1
            row.last = now
            row.save()


def forget_tries(account: str) -> None:
    """The account has proved itself; the address goes on counting."""
    Tries.objects.filter(key=_key("account", account)).delete()


def sweep_tries(now: datetime) -> None:
    """Drop what has been forgotten."""
    Tries.objects.filter(last__lt=now - FORGOTTEN_AFTER).delete()


def _keys(account: str, address: str) -> dict[str, str]:
    pairs: Iterable[tuple[str, str]] = (("account", account), ("address", address))
    return {_key(kind, name): kind for kind, name in pairs}


def _key(kind: str, name: str) -> str:
    return hashlib.sha256(f"{kind}\n{name}".encode()).hexdigest()


def _wait_left(row: Tries, kind: str, now: datetime) -> timedelta:
    beyond = row.failed - FREE_OF_WAITING[kind]
    if beyond < 0 or _forgotten(row, now):
        return timedelta(0)
    wait = min(LONGEST_WAIT, FIRST_WAIT * 2 ** min(beyond, 20))
    left: timedelta = row.last + wait - now
    return left


def _forgotten(row: Tries, now: datetime) -> bool:
    return row.failed == 0 or now - row.last > FORGOTTEN_AFTER
