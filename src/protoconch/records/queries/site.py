"""The hatchery as described, and its vessels."""

from functools import lru_cache

from protoconch.errors import MissingInput
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.reading import read_hatchery
from protoconch.records.models import Description, Site


def description(site: Site) -> Description:
    """The description in force. Raises: MissingInput, where the site has none yet."""
    last = site.descriptions.last()
    if last is None:
        raise MissingInput("This hatchery is not described yet: answer the first questions.")
    return last


def hatchery(site: Site) -> Hatchery:
    """The hatchery as described now."""
    return described(description(site).text, site.name)


@lru_cache(maxsize=32)
def described(text: str, name: str) -> Hatchery:
    """The hatchery that a text describes, read once."""
    return read_hatchery(text, f"{name}.toml")
