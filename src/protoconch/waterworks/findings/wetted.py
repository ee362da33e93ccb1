"""Findings about what the water touches."""

from collections.abc import Iterator

from protoconch.units import text
from protoconch.waterworks.findings.finding import Finding
from protoconch.waterworks.materials import Material, days_to_harm, material_called
from protoconch.waterworks.network.parts import Network
from protoconch.words import joined, phrase, say

AND_MORE = phrase("{shown} and {more} more")


def material_findings(network: Network, smallest_tank_l: float) -> Iterator[Finding]:
    """Every wetted part against the table of materials.

    smallest_tank_l: water in the smallest tank with animals, for the arithmetic of release [L].
    """
    touched: dict[str, list[str]] = {}
    for part in network.parts:
        touched.setdefault(part.material, []).append(part.name)
    for name, parts in touched.items():
        for part_name in parts if _is_bad(name) else parts[:1]:
            yield from _verdict(name, part_name, parts, 0.0, smallest_tank_l)
    for fixture in network.fixtures:
        where = say("{name} at {at}", name=fixture.name, at=fixture.at)
        yield from _verdict(fixture.material, where, [where], fixture.wetted_cm2, smallest_tank_l)


def _is_bad(name: str) -> bool:
    material = material_called(name)
    return material is None or material.verdict in ("never", "dry")


def _verdict(
    name: str, where: str, parts: list[str], wetted_cm2: float, tank_l: float
) -> Iterator[Finding]:
    material = material_called(name)
    if material is None:
        yield Finding(
            "weakness",
            say("material not known"),
            where,
            say(
                "{material} stands in no table of this program, so nobody can say what it "
                "gives off.",
                material=name,
            ),
            say("Find out what it is made of, or soak it and try a few larvae first."),
            say("common practice, no source"),
        )
    elif material.verdict == "never":
        yield Finding(
            "danger",
            say("material"),
            where,
            joined(
                [
                    say(
                        "{where} is of {material}, which may not touch this water: {reason}.",
                        where=where,
                        material=say(name),
                        reason=material.reason,
                    ),
                    *_release(material, wetted_cm2, tank_l),
                ]
            ),
            say("Replace it with {instead}.", instead=material.instead),
            material.source,
        )
    elif material.verdict == "dry":
        yield Finding(
            "fault",
            say("material"),
            where,
            say(
                "{where} is of {material}, which belongs on the air side only: {reason}.",
                where=where,
                material=say(name),
                reason=material.reason,
            ),
            say("Replace it with {instead}.", instead=material.instead),
            material.source,
        )
    elif material.verdict == "cure":
        things = where if len(parts) < 2 else say(AND_MORE, shown=where, more=len(parts) - 1)
        yield Finding(
            "note",
            say("curing"),
            where,
            say(
                "{things} of {material}: {reason}.",
                things=things,
                material=say(name),
                reason=material.reason,
            ),
            say(
                "At least {cure_days} days, with changes of water, before animals.",
                cure_days=material.cure_days,
            ),
            material.source,
        )


def _release(material: Material, wetted_cm2: float, tank_l: float) -> Iterator[str]:
    days = days_to_harm(material, wetted_cm2, tank_l)
    if days is not None:
        yield say(
            "{wetted_cm2:g} cm² of it in {water} of standing water reach that in about "
            "{days:.2g} days.",
            wetted_cm2=wetted_cm2,
            water=text(tank_l, "L"),
            days=days,
        )
