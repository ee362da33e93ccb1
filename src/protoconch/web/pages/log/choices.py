"""The kinds of entries a person may choose from, grouped plainly, and the names known here."""

from typing import Any, NamedTuple

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from protoconch.errors import ProtoconchError
from protoconch.hatchery.vessels import vessels
from protoconch.log.kinds import KINDS, Kind
from protoconch.log.state import State
from protoconch.records.models import Site
from protoconch.records.queries.site import hatchery


class Choice(NamedTuple):
    """A kind that can be chosen: its name, its name in an address, and what it tells."""

    name: str
    slug: str
    tells: Promise


GROUPS: tuple[tuple[Promise, tuple[str, ...]], ...] = (
    (
        _("Animals"),
        (
            "counted", "measured", "fed", "water changed", "lost", "thinned", "moved",
            "competence checked", "settled", "graded", "weighed", "egg mass collected",
            "incubator loaded", "hatched", "stocked", "released",
        ),
    ),
    (_("Water"), ("read", "pumped", "drawn", "cartridge changed", "lamp changed", "cleaned")),
    (
        _("Algae"),
        ("culture counted", "harvested", "inoculated", "culture ended", "medium made"),
    ),
    (_("Stores"), ("received", "used")),
    (_("Words"), ("note", "done")),
)  # fmt: skip


TELLS: dict[str, Promise] = {
    "counted": _("Animals of a vessel, by aliquots of its water or all of them."),
    "measured": _("Shell lengths, one by one or their mean and spread."),
    "fed": _("What animals were given, and how much of the last food was still there."),
    "water changed": _("All of a vessel's water, or a share of it."),
    "lost": _("Animals that died or went missing; no number means all of them."),
    "thinned": _("Animals taken out to give the others room."),
    "moved": _("Animals that went to other vessels; no number means all of them."),
    "competence checked": _("How many of the larvae looked at were ready to settle."),
    "settled": _("How many changed into snails."),
    "graded": _("Animals sorted by size, and where each heap went."),
    "weighed": _("What so many animals weigh together."),
    "egg mass collected": _("A piece of a wild egg mass was taken."),
    "incubator loaded": _("Pieces went into an incubator; from then on they are a batch."),
    "hatched": _("A batch hatched, with the number drawn off where it was counted."),
    "stocked": _("Larvae of a batch went into a tank."),
    "released": _("Animals left for the sea, or for a partner."),
    "read": _("A probe or a test kit was read."),
    "pumped": _("Seawater was brought into the reservoir."),
    "drawn": _("Seawater was taken from the reservoir, other than to change water."),
    "cartridge changed": _("A fresh cartridge went into its housing."),
    "lamp changed": _("A fresh lamp went into a UV unit."),
    "cleaned": _("Something was cleaned or disinfected."),
    "culture counted": _("Cells counted in a chamber, or a density that was read."),
    "harvested": _("Culture was drawn from a vessel."),
    "inoculated": _("A culture was started."),
    "culture ended": _("A culture was used up, crashed or thrown away."),
    "medium made": _("Culture medium or sterile seawater was made."),
    "received": _("Something came in and was put away."),
    "used": _("Something was taken out and used, or thrown away."),
    "note": _("Something worth keeping in words."),
    "done": _("Work that has no numbers of its own."),
}
"""What each kind tells, for those who choose."""


def grouped() -> tuple[tuple[Promise, tuple[Choice, ...]], ...]:
    """The kinds by group, each with what it tells."""
    return tuple((name, tuple(map(choice, kinds))) for name, kinds in GROUPS)


def choice(name: str) -> Choice:
    """The kind as a person chooses it."""
    return Choice(name, name.replace(" ", "-"), TELLS[name])


def kind_of(slug: str) -> Kind | None:
    """The kind by its name in an address; None for one that nobody chooses."""
    chosen = {choice(name).slug: name for _group, kinds in GROUPS for name in kinds}
    return KINDS[chosen[slug]] if slug in chosen else None


def places_of(site: Site, kind: Kind) -> tuple[str, ...]:
    """The vessels in which that kind may happen; all of them where it may happen anywhere."""
    try:
        all_of_them = vessels(hatchery(site))
    except ProtoconchError:
        return ()
    return tuple(
        vessel.name for vessel in all_of_them if not kind.places or vessel.kind in kind.places
    )


def known_names(state: State) -> dict[str, Any]:
    """By field of a payload, the names that the log has so far."""
    cultures = tuple(state.cultures)
    return {
        "batch": tuple(state.batches),
        "masses": tuple(state.masses),
        "mass": (),
        "to": tuple(state.holdings),
        "culture": cultures,
        "source": cultures,
        "food": tuple(dict.fromkeys(culture.species for culture in state.cultures.values())),
        "species": tuple(dict.fromkeys(culture.species for culture in state.cultures.values())),
        "item": tuple(state.jars),
        "unit": tuple(dict.fromkeys(jar.unit for jar in state.jars.values())),
    }
