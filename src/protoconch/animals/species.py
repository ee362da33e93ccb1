"""A species profile: every number of its life in the hatchery, each with its source."""

from collections.abc import Mapping
from dataclasses import dataclass

from protoconch.errors import UnknownName
from protoconch.sources.values import SourcedValue
from protoconch.words import say


@dataclass(frozen=True, slots=True)
class Species:
    """One species, as read from sources/species/<key>.toml.

    key: "queen-conch"; scientific_name; common_name; size_measure: "shell length" or "shell width".
    larvae_feed: False where larvae live on their yolk. months: calendar months of laying (1-12).
    regimes: names of larval feeding regimes, the default for planning first.
    values: sourced values by dotted name.
    """

    key: str
    scientific_name: str
    common_name: str
    size_measure: str
    egg_unit: str
    larvae_feed: bool
    months: tuple[int, ...]
    regimes: tuple[str, ...]
    notes: tuple[str, ...]
    values: Mapping[str, SourcedValue]

    def value(self, name: str) -> SourcedValue:
        """The sourced value of that name.

        Raises: UnknownName, where the profile carries no such entry.
        """
        try:
            return self.values[name]
        except KeyError:
            raise UnknownName(
                say(
                    "The profile of {species} has no {name}.",
                    species=say(self.common_name),
                    name=name,
                )
            ) from None

    def number(self, name: str) -> float:
        """The planning value of that name, in the unit of its file.

        Raises: UnknownName; MissingNumber where no source gives one and nothing stands in.
        """
        return self.value(name).number

    def steps(self, name: str) -> tuple[tuple[float, SourcedValue], ...]:
        """Values that hold from a day of age on: ((from_day, value), ...) for name.day_<n>."""
        prefix = f"{name}.day_"
        found = [
            (float(k.removeprefix(prefix)), v)
            for k, v in self.values.items()
            if k.startswith(prefix)
        ]
        return tuple(sorted(found, key=lambda step: step[0]))
