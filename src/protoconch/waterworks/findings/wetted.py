"""Findings about what the water touches."""

from collections.abc import Iterator

from protoconch.waterworks.findings.finding import Finding
from protoconch.waterworks.materials import Material, days_to_harm, material_called
from protoconch.waterworks.network.parts import Network


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
        where = f"{fixture.name} at {fixture.at}"
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
            "weakness", "material not known", where,
            f"{name} stands in no table of this program, so nobody can say what it gives off.",
            "Find out what it is made of, or soak it and try a few larvae first.",
            "common practice, no source",
        )  # fmt: skip
    elif material.verdict == "never":
        yield Finding(
            "danger", "material", where,
            f"{where} is of {name}, which may not touch this water: {material.reason}."
            + _release(material, wetted_cm2, tank_l),
            f"Replace it with {material.instead}.", material.source,
        )  # fmt: skip
    elif material.verdict == "dry":
        yield Finding(
            "fault", "material", where,
            f"{where} is of {name}, which belongs on the air side only: {material.reason}.",
            f"Replace it with {material.instead}.", material.source,
        )  # fmt: skip
    elif material.verdict == "cure":
        more = f" and {len(parts) - 1} more" if len(parts) > 1 else ""
        yield Finding(
            "note", "curing", where,
            f"{where}{more} of {name}: {material.reason}.",
            f"At least {material.cure_days} days, with changes of water, before animals.",
            material.source,
        )  # fmt: skip


def _release(material: Material, wetted_cm2: float, tank_l: float) -> str:
    days = days_to_harm(material, wetted_cm2, tank_l)
    if days is None:
        return ""
    return (
        f" {wetted_cm2:g} cm² of it in {tank_l:g} L of standing water reach that in about "
        f"{days:.2g} days."
    )
