"""When something happened, by a phone whose clock may be wrong or may have been changed."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from protoconch.words import counted, day_text, joined, say

CLOSE = timedelta(minutes=2)
"""Two clocks that are no further apart are taken to agree; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Noted:
    """What a phone noted when something was typed, by its own clock.

    at: when it was typed. ahead: how far the phone was ahead of the server when they last met
    before that, None where it does not know. seen: when that was, by the server. steady: the page
    ran from then until it was typed, and its own count of seconds agrees with the phone's clock.
    """

    at: datetime
    ahead: timedelta | None = None
    seen: datetime | None = None
    steady: bool = False


@dataclass(frozen=True, slots=True)
class Moment:
    """When it happened, and what was put right for that, in a sentence; empty where nothing was."""

    happened: datetime
    sentence: str = ""


@dataclass(frozen=True, slots=True)
class Unclear:
    """Nobody but a person can say when it happened. choices: what it may have been, at most two."""

    sentence: str
    choices: tuple[datetime, ...]


def when(noted: Noted, sent: datetime, now: datetime, zone: ZoneInfo) -> Moment | Unclear:
    """The moment that a phone means.

    sent: when it sends, by its clock; now: the same moment by the server's. zone: for the words.
    A clock that was as wrong when it was typed as it is now is put right by that much. One that was
    changed in between leaves two moments; what lies before the last meeting of phone and server or
    after now cannot be, and where two are left, or none, a person is asked.
    """
    ahead_now = sent - now
    ahead_then = noted.ahead
    if ahead_then is None or abs(ahead_then - ahead_now) <= CLOSE:
        meant = [ahead_now]
    elif noted.steady:
        meant = [ahead_then]
    else:
        meant = [ahead_now, ahead_then]
    found = {
        noted.at - ahead: ahead for ahead in meant if _can_be(noted.at - ahead, noted.seen, now)
    }
    if len(found) != 1:
        return Unclear(_asked(noted, zone), tuple(sorted(min(one, now) for one in found)))
    ((happened, ahead),) = found.items()
    if abs(ahead) <= CLOSE:
        happened = noted.at if noted.at <= now else happened
        return Moment(min(happened, now))
    return Moment(min(happened, now), _put_right(ahead, happened.astimezone(zone)))


def _can_be(happened: datetime, seen: datetime | None, now: datetime) -> bool:
    return happened <= now + CLOSE and (seen is None or happened >= seen - CLOSE)


def _put_right(ahead: timedelta, happened: datetime) -> str:
    told = {"day": day_text(happened, "%A %d %B"), "clock": day_text(happened, "%H:%M")}
    if ahead > timedelta(0):
        return say(
            "The clock of this phone was {long} ahead; the time was put right to {day}, {clock}.",
            long=_long(ahead), **told,
        )  # fmt: skip
    return say(
        "The clock of this phone was {long} behind; the time was put right to {day}, {clock}.",
        long=_long(-ahead), **told,
    )  # fmt: skip


def _asked(noted: Noted, zone: ZoneInfo) -> str:
    at = noted.at.astimezone(zone)
    return say(
        "The clock of this phone was changed while it was away from the network; it said {day},"
        " {clock}. Say when it happened.",
        day=day_text(at, "%A %d %B"), clock=day_text(at, "%H:%M"),
    )  # fmt: skip


def _long(time: timedelta) -> str:
    """A length of time in words, by its two largest parts."""
    minutes = round(time.total_seconds() / 60)
    days, hours = divmod(minutes, 60 * 24)
    hours, minutes = divmod(hours, 60)
    parts = [
        counted(days, "{number} day", "{number} days"),
        counted(hours, "{number} hour", "{number} hours"),
        counted(minutes, "{number} minute", "{number} minutes"),
    ]
    held = [part for part, number in zip(parts, (days, hours, minutes), strict=True) if number]
    return joined(held[:2])
