"""The log and the state folded from it."""

from collections.abc import Iterable
from datetime import datetime

from django.db.models import QuerySet

from protoconch.log.entry import Entry
from protoconch.log.state import EMPTY, State
from protoconch.records.models import Entry as Row
from protoconch.records.models import Site


def rows(
    site: Site, *, kind: str = "", where: str = "", batch: str = "",
    since: datetime | None = None, until: datetime | None = None, words: str = "",
) -> QuerySet[Row]:  # fmt: skip
    """Rows of the log, the latest first."""
    raise NotImplementedError


def entries(found: Iterable[Row]) -> tuple[Entry, ...]:
    """Rows as entries of the log."""
    raise NotImplementedError


def state(site: Site, at: datetime | None = None) -> State:  # noqa: ARG001
    """The state now, or as of a moment."""
    return EMPTY
