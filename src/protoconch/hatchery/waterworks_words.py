"""One table of the waterworks part of a hatchery file, read value by value."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files

from protoconch.errors import BadInput
from protoconch.hatchery.section import Section
from protoconch.sources.reading import load_values
from protoconch.sources.reading_toml import did_you_mean, shown
from protoconch.sources.values import SourcedValue
from protoconch.units import text
from protoconch.waterworks.water import Water, water_at
from protoconch.words import say


@cache
def water_limits() -> dict[str, SourcedValue]:
    """What makes sense in the waterworks part, by kind of table and key."""
    data = files("protoconch.hatchery").joinpath("waterworks_limits.toml").read_text("utf-8")
    return load_values(data, "hatchery/waterworks_limits.toml")


@dataclass(slots=True)
class WaterSection(Section):
    """A table of the waterworks part.

    kind: the part of the limits that it goes by. water: what runs through the parts.
    assumed: gathers sentences on figures that were not given.
    """

    kind: str = ""
    water: Water = field(default_factory=lambda: water_at(25.0, 35.0))
    assumed: list[str] = field(default_factory=list)

    @property
    def called(self) -> str:
        """The table as a person knows it: by its own name where it has one."""
        name = self.table.get("name")
        return name.strip() if isinstance(name, str) and name.strip() else self.name

    def size(self, key: str, default: float | None = None) -> float:
        """A number in the unit of its limits.

        default: stands in where the key is left out; without one, that is a fault and 0 is given.
        """
        limit = water_limits()[f"{self.kind}.{key}"]
        if not self.has(key):
            if default is not None:
                return default
            shown_value = text(limit.number).replace(",", "")
            example = shown_value if limit.unit == "1" else f'"{shown_value} {limit.unit}"'
            self.fault(
                key,
                say(
                    "{key} is missing in {called}; for example {key} = {example}.",
                    key=key,
                    called=self.called,
                    example=example,
                ),
            )
            return 0.0
        number = self.amount((*self.path, key), self.table[key], limit)
        return 0.0 if number is None else number

    def maybe(self, key: str) -> float | None:
        """A number in the unit of its limits, or None where the key is left out."""
        return self.size(key) if self.has(key) else None

    def one_of(self, key: str, words: Iterable[str], default: str = "") -> str:
        """One of a few words; the first of them with a fault where it is wrong."""
        known = tuple(words)
        if not self.has(key) and default:
            return default
        said = self.words(key).lower()
        if said and said not in known:
            hint = did_you_mean(said, known)
            self.fault(
                key,
                say(
                    "{key} of {called} must be one of {known}, not {said}.{hint}",
                    key=key,
                    called=self.called,
                    known=", ".join(known),
                    said=said,
                    hint=hint,
                ),
            )
        return said if said in known else known[0]

    def counts(self, key: str, words: Iterable[str]) -> dict[str, int]:
        """A small table from words to how many of each; empty where it is left out."""
        if not self.has(key):
            return {}
        typed, known = self.table[key], tuple(words)
        if not isinstance(typed, Mapping):
            self.fault(
                key,
                say(
                    "{key} of {called} must be as in {{ elbow = 3 }}, not {typed}.",
                    key=key,
                    called=self.called,
                    typed=shown(typed),
                ),
            )
            return {}
        found = {}
        for word, count in typed.items():
            if word not in known:
                hint = did_you_mean(word, known) or say(
                    " There are {known}.", known=", ".join(known)
                )
                self.fault(
                    key,
                    say(
                        "{key} of {called}: {word} is not known.{hint}",
                        key=key,
                        called=self.called,
                        word=word,
                        hint=hint,
                    ),
                )
            elif isinstance(count, bool) or not isinstance(count, int) or not 0 <= count <= 1000:
                self.fault(
                    key,
                    say(
                        "{key} of {called}: {word} must be a whole number from 0 to 1,000, not"
                        " {count}.",
                        key=key,
                        called=self.called,
                        word=word,
                        count=shown(count),
                    ),
                )
            else:
                found[word] = count
        return found

    def pairs(self, key: str, first: str, second: str) -> tuple[tuple[float, float], ...]:
        """Pairs typed as "0:25, 60:20"; empty with a fault where they are wrong."""
        said = self.words(key)
        found = []
        for piece in said.split(",") if said else ():
            left, colon, right = piece.partition(":")
            if not colon:
                self.fault(
                    key,
                    say(
                        '{key} of {called} must be pairs as in "0:25, 60:20", not {piece!r}.',
                        key=key,
                        called=self.called,
                        piece=piece,
                    ),
                )
                return ()
            numbers = [
                self.amount((*self.path, key), side.strip(), water_limits()[f"{self.kind}.{name}"])
                for side, name in ((left, first), (right, second))
            ]
            if None in numbers:
                return ()
            found.append((numbers[0] or 0.0, numbers[1] or 0.0))
        return tuple(found)

    def sound(self, key: str, error: BadInput) -> None:
        """Note what the waterworks itself finds wrong with a value."""
        self.fault(key, f"{self.called}: {error}")
