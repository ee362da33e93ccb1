"""Where an entry may have happened: the vessels of the hatchery, by the kind of entry."""

from collections.abc import Mapping

from protoconch.hatchery.vessels import Vessel
from protoconch.log.kinds import Kind
from protoconch.sources.reading_toml import did_you_mean

ARTICLES = {"incubator": "an incubator", "algae vessel": "an algae vessel", "UV lamp": "a UV lamp"}


def place_fault(kind: Kind, where: str, known: Mapping[str, Vessel]) -> str:
    """Why an entry of that kind cannot have happened there, in a sentence; empty where it can.

    where: as typed. known: the hatchery's vessels by name.
    A kind that is tied to no vessel may name any place in free words; a name that is nearly that
    of a vessel counts as a slip.
    """
    if not kind.places:
        near = did_you_mean(where, known) if where and where not in known else ""
        return f"This hatchery has no {where}.{near}" if near else ""
    asked = _listed(kind.places)
    if not where:
        return f"Say where it was {kind.name}: in {asked}."
    if where not in known:
        fits = [name for name, vessel in known.items() if vessel.kind in kind.places]
        near = did_you_mean(where, fits) or did_you_mean(where, known)
        return f"This hatchery has no {where}.{near}" + ("" if near else f" Name {asked}.")
    if known[where].kind not in kind.places:
        return (
            f"'{kind.name[:1].upper()}{kind.name[1:]}' cannot happen in {where},"
            f" which is {_a(known[where].kind)}; it needs {asked}."
        )
    return ""


def payload_place_faults(kind: Kind, names: Mapping[str, str], known: Mapping[str, Vessel]
                         ) -> list[str]:  # fmt: skip
    """The same for vessels that a payload names: where animals went, what a culture came from.

    names: by the vessel typed, the kinds asked for, parted by "|", for example "algae vessel".
    """
    found = []
    for name, asked in names.items():
        kinds = tuple(asked.split("|"))
        if name not in known:
            fits = [vessel.name for vessel in known.values() if vessel.kind in kinds]
            found.append(f"This hatchery has no {name}.{did_you_mean(name, fits)}")
        elif known[name].kind not in kinds:
            found.append(
                f"{name[:1].upper()}{name[1:]} is {_a(known[name].kind)}; what was {kind.name}"
                f" needs {_listed(kinds)} there."
            )
    return found


def _a(kind: str) -> str:
    return ARTICLES.get(kind, f"a {kind}")


def _listed(kinds: tuple[str, ...]) -> str:
    named = [_a(kind) for kind in kinds]
    return named[0] if len(named) == 1 else f"{', '.join(named[:-1])} or {named[-1]}"
