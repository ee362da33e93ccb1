"""A warning, and the cautions that go with it."""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from protoconch.sources.reading import load_catalogue
from protoconch.words import say

Topic = Literal["water", "animals", "algae", "stores", "permit", "log"]
Urgency = Literal["now", "soon"]


@dataclass(frozen=True, slots=True)
class Warned:
    """Something that is wrong or soon will be.

    when: "now" is today, "soon" this week. where: the vessel or place, may be empty.
    sentence: what is the matter. do: what to do about it. cautions: where someone can be hurt.
    source: of the limit, an id in references.toml, empty where there is no limit.
    """

    topic: Topic
    when: Urgency
    where: str
    sentence: str
    do: str
    cautions: tuple[str, ...] = ()
    source: str = ""

    @property
    def urgent(self) -> bool:
        """Whether it is a matter of today."""
        return self.when == "now"


@cache
def caution(about: str) -> tuple[str, ...]:
    """The caution of the water table about that, empty where it has none."""
    table = load_catalogue("water_cautions")["cautions"]
    return tuple(say(entry["say"]) for entry in table if entry["about"] == about)
