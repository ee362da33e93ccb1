"""The line of a species through the vessels of a room, from the data of species and vessels."""

import math
from collections.abc import Sequence
from typing import Any

from protoconch.algae.chain.description import Line, Step, VesselKind
from protoconch.algae.growth import days_to_reach
from protoconch.algae.species import AlgaSpecies, alga
from protoconch.algae.taking import refuse_washout, steady_taking
from protoconch.algae.weather import growth_at_per_d
from protoconch.errors import BadInput
from protoconch.sources.reading import load_catalogue
from protoconch.units import text
from protoconch.words import say

REFERENCE_C = 26.5
"""Middle of the 25 to 28 °C at which the default growth rates of the table hold."""
ML_PER_L = 1000.0
BELOW_PEAK_DAYS = 2
"""Days from the usual density at harvest to the peak; assumption, for growth of about one a day."""


def growth_in_room_per_d(species: AlgaSpecies, temperature_c: float) -> float:
    """Growth rate at the temperature of the room [per d].

    Raises: BadInput, where the species does not grow at it.
    Source: default rate of tables/algae_species.toml, moved by the cardinal temperatures.
    """

    def share(at_c: float) -> float:
        return growth_at_per_d(
            at_c, coldest_c=species.number("coldest_c"), best_c=species.number("best_c"),
            hottest_c=species.number("hottest_c"), most_per_d=1.0,
        )  # fmt: skip

    usual, here = share(REFERENCE_C), share(temperature_c)
    if here <= 0:
        raise BadInput(
            say(
                "{name} does not grow at {temperature_c}.",
                name=species.name,
                temperature_c=text(temperature_c, "°C", 6),
            )
        )
    return species.number("growth_per_d") * (here / usual if usual > 0 else here)


def line_of(key: str, kinds: Sequence[VesselKind], temperature_c: float = REFERENCE_C) -> Line:
    """The line of a species through these kinds, small to large; the last one feeds.

    key: of the species. kinds: in the order of the line. temperature_c: of the room.
    Returns: growing days from lag and logistic growth up to the usual density at harvest; days
        of use from the stationary days and the age limit; a part taken each day where the species
        bears it and the vessel feeds.
    Raises: UnknownName; BadInput, where a step cannot work; MissingNumber.
    """
    species = alga(key)
    if not kinds:
        raise BadInput(say("The line of {name} has no vessels.", name=species.name))
    growth = growth_in_room_per_d(species, temperature_c)
    steps: list[Step] = []
    for place, kind in enumerate(kinds):
        before = kinds[place - 1] if place else None
        feeds = place == len(kinds) - 1
        steps.append(_step(species, kind, before, growth, feeds=feeds))
    return Line(key, tuple(steps))


def _row(kind: VesselKind) -> Any:
    """The data of the kind of the same name, or of the one nearest in size."""
    rows = load_catalogue("algae_vessels")["kinds"]
    if kind.name in rows:
        return rows[kind.name]
    return min(rows.values(), key=lambda row: abs(math.log(row["litres"].number / kind.litres)))


def usual_and_peak_per_ml(key: str, kind: VesselKind) -> tuple[float, float]:
    """Usual and highest cells at harvest of a species in a kind of vessel [cells/mL].

    Raises: UnknownName; BadInput, where no density is known.
    """
    species = alga(key)
    value = species.numbers.get(f"harvest_per_ml.{_row(kind)['density_as']}")
    if value is None:
        raise BadInput(
            say("No density is known for {name} in a {kind}.", name=species.name, kind=kind.name)
        )
    return value.number, value.high or value.number / 0.7


def start_per_ml(key: str, kind: VesselKind, donor: VesselKind | None) -> float:
    """Cells in a culture just inoculated, from a donor at its usual density [cells/mL].

    donor: None for a starter, whose tube is taken to be as dense as itself.
    Raises: as `usual_and_peak_per_ml`.
    """
    poured: float = _row(kind)["inoculum_share"].number
    usual, _ = usual_and_peak_per_ml(key, donor or kind)
    return max(poured * usual, alga(key).number("start_per_ml"))


def _step(
    species: AlgaSpecies, kind: VesselKind, before: VesselKind | None, growth: float, *, feeds: bool
) -> Step:
    row = _row(kind)
    usual, peak = usual_and_peak_per_ml(species.key, kind)
    share = row["inoculum_share"].number
    donors, starts = _transfer(kind, before, share)
    grow, use = _days(species, kind, before, growth)
    drawn = feeds and species.drawn
    cells, taken_l = usual * kind.litres * ML_PER_L, 0.0
    if drawn:
        part = load_catalogue("algae_growth")["taken"]["daily_share"].number
        taking = steady_taking(part, 1, growth_per_d=growth, peak_per_ml=peak)
        refuse_washout(taking, growth)
        taken_l = part * kind.litres
        cells = taken_l * ML_PER_L * taking.before_per_ml
        use = max(1, round(species.number("drawn_limit_d")) - grow)
    return Step(
        kind.name, grow, use, cells, drawn, donors, starts,
        row["start_min"].number + row["empty_min"].number, row["care_min"].number,
        kind.litres * (1 - share), taken_l, _crash_per_d(species, row, drawn=drawn),
    )  # fmt: skip


def _transfer(kind: VesselKind, before: VesselKind | None, share: float) -> tuple[int, int]:
    """Donors poured out whole, and starts they serve."""
    if before is None:
        return 1, 1
    needed_l = share * kind.litres
    if before.litres >= needed_l * (1 - 1e-9):
        return 1, math.floor(before.litres / needed_l * (1 + 1e-9))
    return math.ceil(needed_l / before.litres * (1 - 1e-9)), 1


def _days(
    species: AlgaSpecies, kind: VesselKind, before: VesselKind | None, growth: float
) -> tuple[int, int]:
    """Days of growing and of use of a culture that is used up.

    Use ends `BELOW_PEAK_DAYS` after the stationary days would end if it were at its peak, since at
    the usual density it still grows; and never past the age limit.
    """
    if before is None:
        ready = species.numbers["starter_ready_d"]
        first = round(ready.low or ready.number)
        return first, round(ready.high or ready.number) - first + 1
    usual, peak = usual_and_peak_per_ml(species.key, kind)
    start = start_per_ml(species.key, kind, before)
    lag = load_catalogue("algae_growth")["lag"]["growing"].number
    days = 1.0 if start >= usual else days_to_reach(
        usual, start_per_ml=start, growth_per_d=growth, peak_per_ml=peak, lag_d=lag)  # fmt: skip
    grow = max(1, math.ceil(days))
    oldest = round(species.number("age_limit_d"))
    use = min(round(species.number("stationary_d")) + BELOW_PEAK_DAYS, max(1, oldest - grow + 1))
    return grow, use


def _crash_per_d(species: AlgaSpecies, row: Any, *, drawn: bool) -> float:
    factor = species.number("crash_factor")
    if drawn:
        table = load_catalogue("algae_vessels")["drawn"]
        if species.key == "tetraselmis":
            return float(table["tetraselmis_per_d"].number)
        return min(1.0, float(table["crash_per_d"].number) * factor)
    cycle = min(1.0, row["crash_per_cycle"].number * factor)
    days: float = row["cycle_d"].number
    return float(1.0 - (1.0 - cycle) ** (1.0 / days))
