"""What a card tells: what a kind of work is for, how it is done, where care is due."""

from dataclasses import dataclass

from protoconch.animals.species import Species
from protoconch.errors import UnknownName
from protoconch.sources.reading import load_catalogue
from protoconch.sources.values import SourcedValue
from protoconch.words import say

OF_SPECIES = "species"


@dataclass(frozen=True, slots=True)
class Number:
    """A number that the work needs, by its place among the sourced ones.

    words: what it says. table: file in sources/tables, or OF_SPECIES for the species' own profile.
    name: dotted, in there. percent: a share that reads as so many in a hundred.
    """

    words: str
    table: str
    name: str
    percent: bool = False


@dataclass(frozen=True, slots=True)
class HowTo:
    """A kind of work: its words, the reason for it, its steps, its cautions, and its round.

    numbers: what is measured or dosed in it. record: what to write down at the end; writes: the
    kinds of entries of the log that take it.
    """

    what: str
    why: str
    steps: tuple[str, ...]
    round: str = "morning"
    cautions: tuple[str, ...] = ()
    numbers: tuple[Number, ...] = ()
    record: str = ""
    writes: tuple[str, ...] = ()


def sourced(number: Number, species: Species) -> SourcedValue | None:
    """The number of a card with its source, None where the species' profile has none of it.

    Raises: UnknownName, where a table of the program has none of it.
    """
    if number.table == OF_SPECIES:
        return species.values.get(number.name)
    found = load_catalogue(number.table)
    for part in number.name.split("."):
        found = found.get(part) if hasattr(found, "get") else None  # type: ignore[assignment]
    if not isinstance(found, SourcedValue):
        raise UnknownName(
            say("There is no number {name} in {table}.", name=number.name, table=number.table)
        )
    return found
