"""What a phone says of its own clock, as it comes with a form that was kept."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

from protoconch.operations.phone_clock import Noted

EARLIEST = datetime(1970, 1, 1, tzinfo=UTC)
LONGEST_MS = 4e12
"""Some hundred years; no clock says more."""


def noted(sent: Mapping[str, str]) -> tuple[Noted, datetime]:
    """When it was typed and when it was sent, by the phone.

    sent: carried.at, carried.sent and carried.seen [ms since 1970], carried.ahead [ms] and
    carried.steady.
    Raises: ValueError, where the first two are missing or one of them is no moment.
    """
    at, now = _moment(sent["carried.at"]), _moment(sent["carried.sent"])
    seen, ahead = sent.get("carried.seen", ""), sent.get("carried.ahead", "")
    return Noted(
        at, timedelta(milliseconds=_ms(ahead)) if ahead else None,
        _moment(seen) if seen else None, sent.get("carried.steady") == "yes",
    ), now  # fmt: skip


def _moment(text: str) -> datetime:
    return EARLIEST + timedelta(milliseconds=_ms(text))


def _ms(text: str) -> float:
    value = float(text)
    if not abs(value) <= LONGEST_MS:
        raise ValueError(text)
    return value
