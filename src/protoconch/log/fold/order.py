"""The order of the log as one whole number, so that hundreds of thousands sort at once."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
MICROSECOND = timedelta(microseconds=1)
LAST_ID = (1 << 128) - 1


def place(happened: datetime, identity: UUID) -> int:
    """Place in the log: the same order as `Entry.order`, by when it happened and then by id."""
    return (((happened - EPOCH) // MICROSECOND) << 128) | identity.int


def last_place(moment: datetime) -> int:
    """The last place that an entry at that moment can have."""
    return (((moment - EPOCH) // MICROSECOND) << 128) | LAST_ID
