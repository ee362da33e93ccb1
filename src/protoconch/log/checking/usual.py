"""What is usual of the animals and the cultures, from the species' profiles."""

from datetime import datetime

from protoconch.algae.species import alga, known_algae
from protoconch.animals.species import Species
from protoconch.errors import MissingNumber, UnknownName
from protoconch.hatchery.vessels import Vessel
from protoconch.log.checking.verdict import Known
from protoconch.log.numbers import bound
from protoconch.log.state import Culture, Holding

Range = tuple[float, float]


def age_days(state: Known, holding: Holding, when: datetime) -> float:
    """Days since the batch hatched, or since it came into the vessel where that is not logged."""
    batch = state.batches.get(holding.batch)
    began = batch.hatched if batch is not None and batch.hatched is not None else holding.since
    return max(0.0, (when - began).total_seconds() / 86400)


def step_at(species: Species, name: str, days: float) -> float | None:
    """The planning value that holds at an age, None where the species has none."""
    found = None
    try:
        for from_day, value in species.steps(name):
            if from_day <= days or found is None:
                found = value.number
    except MissingNumber:
        return None
    return found


def length_range_mm(species: Species, stage: str) -> Range | None:
    """Usual mean shell lengths at a stage [mm]; None where the species has no such numbers."""
    try:
        settle = species.value("settlement.length_mm")
        if stage == "veliger":
            hatch = species.value("veliger.hatch_length_um")
            return (hatch.low or hatch.number) / 1000, settle.high or settle.number
        if stage == "post-larva":
            return settle.low or settle.number, species.number("post_larva.until_mm") * 2
        if stage == "juvenile":
            return settle.high or settle.number, species.number("juvenile.until_mm") * 1.25
    except (MissingNumber, UnknownName):
        return None
    return None


def usual_density(state: Known, species: Species, holding: Holding, when: datetime
                  ) -> float | None:  # fmt: skip
    """Larvae per litre that are usual at their age; None where nothing says."""
    return step_at(species, "veliger.density", age_days(state, holding, when))


def footprint_cm2(species: Species, length_mm: float) -> float:
    """Floor under one animal [cm²]. Raises: MissingNumber."""
    return species.number("cover.factor") * length_mm**2 / 100.0


def usual_cover(species: Species, length_mm: float) -> float:
    """Share of the floor that animals of a length usually cover. Raises: MissingNumber."""
    if length_mm < 12:
        return species.number("cover.share_5_mm")
    return species.number("cover.share_20_mm" if length_mm < 45 else "cover.share_75_mm")


def length_of(species: Species, holding: Holding | None, stage: str) -> float:
    """The last length [mm], or that at which a stage begins. Raises: MissingNumber."""
    if holding is not None and holding.length_mm is not None:
        return holding.length_mm
    if stage == "juvenile":
        return species.number("post_larva.until_mm")
    return species.number("settlement.length_mm")


def floor_cm2(vessel: Vessel) -> float:
    """Floor of a tray or nursery tank [cm²], 0 for other vessels."""
    return vessel.size * {"cm2": 1.0, "m2": 10_000.0}.get(vessel.unit, 0.0)


def peak_per_ml(species: str, group: str) -> Range | None:
    """Cells per mL at harvest, usual and highest, of an alga in a kind of vessel."""
    if species not in known_algae():
        return None
    numbers = alga(species).numbers
    names = [f"harvest_per_ml.{group}", "harvest_per_ml.carboy"]
    names += sorted(name for name in numbers if name.startswith("harvest_per_ml."))
    found = next((numbers[name] for name in names if name in numbers), None)
    return None if found is None else (found.number, found.high or found.number)


def dry_mg(food: str, litres: float, cells_per_ml: float) -> float | None:
    """Mass of the cells fed [mg], by which rations are counted; None for an unknown alga."""
    if food not in known_algae():
        return None
    try:
        return litres * 1000.0 * cells_per_ml * alga(food).number("ration_pg") * 1e-9
    except MissingNumber:
        return None


def density_of(culture: Culture | None) -> float | None:
    """The last density that was counted [cells/mL]."""
    return culture.counts[-1].cells_per_ml if culture is not None and culture.counts else None


def read_range(quantity: str, temperature_of_month_c: float) -> Range | None:
    """What is usual of a reading; None where anything is."""
    from protoconch.sources.reading import load_table

    if quantity == "temperature":
        reach = bound("unlikely.from_month_c")
        return temperature_of_month_c - reach, temperature_of_month_c + reach
    found = load_table("log_ranges").get(f"read.{quantity}")
    if found is None or found.low is None or found.high is None:
        return None
    return found.low, found.high
