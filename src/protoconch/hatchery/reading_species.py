"""What a hatchery file says of its animals: species, regime, genetics, and its own numbers."""

from collections.abc import Mapping

from protoconch.animals.profiles import known_species, species
from protoconch.animals.species import Species
from protoconch.hatchery.calendar_words import month_name
from protoconch.hatchery.description import Genetics, Permit
from protoconch.hatchery.own_values import may_be_own
from protoconch.hatchery.section import Section
from protoconch.sources.checking import sourced_value
from protoconch.sources.reading import number_tables
from protoconch.sources.reading_toml import Document, did_you_mean
from protoconch.sources.references import OWN, references
from protoconch.sources.values import SourcedValue

OWN_FIELDS = {"source": OWN, "confidence": "own"}
"""What holds for a hatchery's own number where it does not say otherwise."""


def profile_of(head: Section) -> Species | None:
    """The profile of the species that the file names, or None with a fault."""
    key = head.words("species")
    if not key:
        return None
    if key not in known_species():
        keys = {species(known).common_name: known for known in known_species()}
        hint = did_you_mean(keys.get(key.casefold(), key), known_species())
        head.fault(
            "species", f"{key} has no profile; there are {', '.join(known_species())}.{hint}"
        )
        return None
    return species(key)


def regime_of(head: Section, profile: Species | None) -> str:
    """The larval feeding regime named, or the profile's first."""
    if not head.has("regime"):
        return profile.regimes[0] if profile else ""
    regime = head.words("regime")
    if profile and regime and regime not in profile.regimes:
        head.fault(
            "regime",
            f"{regime} is no feeding regime of the {profile.common_name}; "
            f"there are {', '.join(profile.regimes)}.{did_you_mean(regime, profile.regimes)}",
        )
    return regime


def genetics(section: Section | None, profile: Species | None) -> Genetics:
    """The limits that keep the release varied; the profile's where the file gives none."""

    def usual(name: str) -> float:
        return profile.number(name) if profile else 0.0

    if section is None:
        return Genetics(int(usual("genetics.min_masses")), usual("genetics.max_share"))
    least = section.whole("min_masses") if section.has("min_masses") else None
    most = section.measure("max_share") if section.has("max_share") else None
    section.close()
    return Genetics(
        int(usual("genetics.min_masses")) if least is None else least,
        usual("genetics.max_share") if most is None else most,
    )


def own_values(document: Document, profile: Species | None) -> Mapping[str, SourcedValue]:
    """The hatchery's own numbers, which stand in for the profile's, by name."""
    table = document.content.get("own", {})
    if profile is None or not isinstance(table, dict):
        return {}
    known = may_be_own(profile)
    found: dict[str, SourcedValue] = {}
    for key, entry in table.items():
        for path in number_tables(document, ("own", key), entry):
            name = ".".join(str(part) for part in path[1:])
            if name not in known:
                document.fault(
                    path,
                    f"{name} is no number that the program uses for the {profile.common_name}."
                    f"{did_you_mean(name, known)}",
                )
                continue
            value = sourced_value(document, path, name, references(), OWN_FIELDS)
            if name in found:
                document.fault(path, f"{name} is given twice in [own].")
            elif value and value.unit != known[name].unit:
                document.fault(
                    (*path, "unit"),
                    f'{name} has unit "{value.unit}"; it must be "{known[name].unit}".',
                )
            elif value:
                found[name] = value
    return found


def notes_on(profile: Species, permit: Permit, breeding: Genetics) -> tuple[str, ...]:
    """What the manager should know of a file in which nothing is wrong."""
    notes: list[str] = []
    idle = [month_name(month) for month in permit.months if month not in profile.months]
    if idle:
        laying = ", ".join(month_name(month) for month in profile.months)
        notes.append(
            f"The permit has {', '.join(idle)}, outside the months in which the "
            f"{profile.common_name} was seen to lay ({laying})."
        )
    if permit.egg_masses < breeding.min_masses:
        notes.append(
            f"The permit allows {permit.egg_masses} egg masses, fewer than the "
            f"{breeding.min_masses} asked for the sake of variety among the released."
        )
    if permit.egg_masses * breeding.max_share < 1:
        notes.append(
            f"With {permit.egg_masses} egg masses at most, the largest share of one mass cannot "
            f"stay at or below {breeding.max_share:g}."
        )
    return tuple(notes)
