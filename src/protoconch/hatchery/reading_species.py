"""What a hatchery file says of its animals: species, regime, genetics, and its own numbers."""

from collections.abc import Mapping

from protoconch.animals.profiles import known_species, species
from protoconch.animals.species import Species
from protoconch.hatchery.calendar_words import month_text
from protoconch.hatchery.description import Genetics, Permit
from protoconch.hatchery.own_values import may_be_own
from protoconch.hatchery.section import Section
from protoconch.sources.checking import sourced_value
from protoconch.sources.reading import number_tables
from protoconch.sources.reading_toml import Document, did_you_mean
from protoconch.sources.references import OWN, references
from protoconch.sources.values import SourcedValue
from protoconch.words import joined, say

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
            "species",
            say(
                "{key} has no profile; there are {known}.{hint}",
                key=key,
                known=", ".join(known_species()),
                hint=hint,
            ),
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
            say(
                "{regime} is no feeding regime of the {species}; there are {regimes}.{near}",
                regime=regime,
                species=say(profile.common_name),
                regimes=", ".join(profile.regimes),
                near=did_you_mean(regime, profile.regimes),
            ),
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
                    say(
                        "{name} is no number that the program uses for the {species}.{near}",
                        name=name,
                        species=say(profile.common_name),
                        near=did_you_mean(name, known),
                    ),
                )
                continue
            value = sourced_value(document, path, name, references(), OWN_FIELDS)
            if name in found:
                document.fault(path, say("{name} is given twice in [own].", name=name))
            elif value and value.unit != known[name].unit:
                document.fault(
                    (*path, "unit"),
                    say(
                        '{name} has unit "{unit}"; it must be "{other_unit}".',
                        name=name,
                        unit=value.unit,
                        other_unit=known[name].unit,
                    ),
                )
            elif value:
                found[name] = value
    return found


def notes_on(profile: Species, permit: Permit, breeding: Genetics) -> tuple[str, ...]:
    """What the manager should know of a file in which nothing is wrong."""
    notes: list[str] = []
    idle = [month_text(month) for month in permit.months if month not in profile.months]
    if idle:
        laying = joined((month_text(month) for month in profile.months), ", ")
        notes.append(
            say(
                "The permit has {idle}, outside the months in which the {species} was seen "
                "to lay ({laying}).",
                idle=joined(idle, ", "),
                species=say(profile.common_name),
                laying=laying,
            )
        )
    if permit.egg_masses < breeding.min_masses:
        notes.append(
            say(
                "The permit allows {egg_masses} egg masses, fewer than the {min_masses} asked "
                "for the sake of variety among the released.",
                egg_masses=permit.egg_masses,
                min_masses=breeding.min_masses,
            )
        )
    if permit.egg_masses * breeding.max_share < 1:
        notes.append(
            say(
                "With {egg_masses} egg masses at most, the largest share of one mass cannot stay "
                "at or below {max_share:g}.",
                egg_masses=permit.egg_masses,
                max_share=breeding.max_share,
            )
        )
    return tuple(notes)
