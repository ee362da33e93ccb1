"""Where an entry may have happened: the vessels of the hatchery, by the kind of entry."""

from collections.abc import Mapping

from protoconch.hatchery.vessels import Vessel
from protoconch.log.kinds import Kind
from protoconch.sources.reading_toml import did_you_mean
from protoconch.words import begun, joined, phrase, say

KINDS_OF_PLACE = {
    "incubator": phrase("an incubator"), "larval tank": phrase("a larval tank"),
    "tray": phrase("a tray"), "nursery tank": phrase("a nursery tank"),
    "algae vessel": phrase("an algae vessel"), "reservoir": phrase("a reservoir"),
    "cartridge": phrase("a cartridge"), "UV lamp": phrase("a UV lamp"), "loop": phrase("a loop"),
}  # fmt: skip


def place_fault(kind: Kind, where: str, known: Mapping[str, Vessel]) -> str:
    """Why an entry of that kind cannot have happened there, in a sentence; empty where it can.

    where: as typed. known: the hatchery's vessels by name.
    A kind that is tied to no vessel may name any place in free words; a name that is nearly that
    of a vessel counts as a slip.
    """
    if not kind.places:
        near = did_you_mean(where, known) if where and where not in known else ""
        return _no_such(where, near) if near else ""
    asked = _listed(kind.places)
    if not where:
        return say("Say where it was {kind}: in {places}.", kind=say(kind.name), places=asked)
    if where not in known:
        fits = [name for name, vessel in known.items() if vessel.kind in kind.places]
        near = did_you_mean(where, fits) or did_you_mean(where, known)
        if near:
            return _no_such(where, near)
        return say("This hatchery has no {where}. Name {places}.", where=where, places=asked)
    if known[where].kind not in kind.places:
        return say(
            "'{kind}' cannot happen in {where}, which is {place}; it needs {places}.",
            kind=begun(say(kind.name)), where=where, place=_a(known[where].kind), places=asked,
        )  # fmt: skip
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
            found.append(_no_such(name, did_you_mean(name, fits)))
        elif known[name].kind not in kinds:
            found.append(
                say(
                    "{name} is {place}; what was {kind} needs {places} there.",
                    name=begun(name), place=_a(known[name].kind), kind=say(kind.name),
                    places=_listed(kinds),
                )
            )  # fmt: skip
    return found


def _no_such(where: str, near: str) -> str:
    return say("This hatchery has no {where}.{near}", where=where, near=near)


def _a(kind: str) -> str:
    return say(KINDS_OF_PLACE[kind]) if kind in KINDS_OF_PLACE else kind


def _listed(kinds: tuple[str, ...]) -> str:
    *first, last = (_a(kind) for kind in kinds)
    return say("{first} or {last}", first=joined(first, ", "), last=last) if first else last
