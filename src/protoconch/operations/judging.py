"""What is said of an entry before it is added: what cannot be, and what is unlikely."""

from datetime import datetime

from protoconch.hatchery.description import Hatchery
from protoconch.log.entry import Entry
from protoconch.records.models import Site


def judged(
    site: Site, hatchery: Hatchery, entry: Entry, now: datetime
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Why the entry cannot be, and what is unlikely in it, each in sentences."""
    return (), ()
