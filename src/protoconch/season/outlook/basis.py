"""What an outlook rests on besides the log: the plan, the species, the hatchery, their beliefs."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from protoconch.animals.species import Species
from protoconch.hatchery.description import Hatchery
from protoconch.hatchery.own_values import without_learned
from protoconch.season.answer import SeasonPlan
from protoconch.season.model.beliefs import Beliefs, beliefs
from protoconch.season.model.draws import Streams, streams
from protoconch.season.outlook.laid_out import Measures
from protoconch.season.outlook.lots import Vessels, known_vessels
from protoconch.season.outlook.unknowns import Site, site
from protoconch.season.plan.calendar import BatchCalendar, batch_calendars
from protoconch.sources.values import SourcedValue


@dataclass(frozen=True, slots=True)
class Basis:
    """Everything but the log. first_day: day 0; days: the morning of release.

    size_days: standard days from settlement to the size asked. calendars: of the plan's batches,
    by letter. year: the two digits by which the log calls this season's batches.
    """

    plan: SeasonPlan
    species: Species
    beliefs: Beliefs
    site: Site
    measures: Measures
    vessels: Vessels
    first_day: date
    days: int
    size_days: float
    calendars: Mapping[str, BatchCalendar]

    @property
    def first_day_of_year(self) -> int:
        """Day of the year of day 0 (0 to 365)."""
        return self.first_day.timetuple().tm_yday - 1

    def day(self, on: date) -> int:
        """The season's day of a calendar day."""
        return (on - self.first_day).days

    def code(self, letter: str) -> str:
        """What the log calls a batch of the plan: "27A"."""
        return f"{self.first_day.year % 100:02d}{letter}"

    def with_beliefs(self, believed: Beliefs) -> "Basis":
        """The same with other beliefs of species and site."""
        return replace(self, beliefs=believed, site=site(believed, self.measures.counting))


def plan_streams(seed: int) -> Streams:
    """The common streams with which a plan of this seed was made."""
    return streams(np.random.Generator(np.random.SFC64(seed)))


def basis(
    plan: SeasonPlan, species: Species, assumed: Mapping[str, SourcedValue],
    counting: Mapping[str, SourcedValue],
) -> Basis:  # fmt: skip
    """The basis of a plan's outlook.

    What this or a later season's log has taught is left out: a log must not be used twice.
    assumed: sources/tables/season.toml; counting: sources/tables/outlook.toml.
    Raises: MissingNumber, where the species lacks a number that cannot be done without.
    """
    first = plan.forecast.first_day
    hatchery = without_learned(plan.hatchery, first)
    counting = own_counting(counting, hatchery)
    believed = beliefs(species, hatchery, assumed)
    days = (plan.target.by - first).days
    size_days = believed.path.days_to(plan.target.size_mm)
    starts = tuple((batch.dates.collect - first).days for batch in plan.batches)
    made = batch_calendars(believed, plan_streams(plan.seed), starts, days,
                           first.timetuple().tm_yday - 1, size_days) if starts else ()  # fmt: skip
    settled = species.number("settlement.length_mm")
    names = ("veliger.hatch_length_um", f"regime.{hatchery.regime}.competence_length_um")
    found = [species.values.get(name) for name in names]
    hatch_mm, competent_mm = (v.value / 1000 if v and v.value else settled for v in found)
    measures = Measures(
        counting, min(hatch_mm, 0.9 * competent_mm), competent_mm,
        _or(species, "weight.a", 5.2e-5), _or(species, "weight.b", 3.2), believed.path,
    )  # fmt: skip
    return Basis(
        plan, species, believed, site(believed, counting), measures,
        known_vessels(hatchery, believed.larvae_per_cm2, believed.path), first, days, size_days,
        {batch.code: calendar for batch, calendar in zip(plan.batches, made, strict=True)},
    )  # fmt: skip


def own_counting(
    counting: Mapping[str, SourcedValue], hatchery: Hatchery
) -> dict[str, SourcedValue]:  # fmt: skip
    """The errors of counting, the hatchery's own before the program's."""
    own = hatchery.own_values
    return {name: own.get(name, value) for name, value in counting.items()}


def _or(species: Species, name: str, other: float) -> float:
    """A number of the profile; `other` (the queen conch's, common practice) where it has none."""
    found = species.values.get(name)
    return found.value if found is not None and found.value is not None else other
