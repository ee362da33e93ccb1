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
    tells: str


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


def grouped() -> tuple[tuple[Promise, tuple[Choice, ...]], ...]:
    """The kinds by group, each with what it tells."""
    return tuple((name, tuple(map(choice, kinds))) for name, kinds in GROUPS)


def choice(name: str) -> Choice:
    """The kind as a person chooses it."""
    doc = (KINDS[name].payload.__doc__ or "").strip()
    return Choice(name, name.replace(" ", "-"), doc.partition("\n\n")[0].replace("\n    ", " "))


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
