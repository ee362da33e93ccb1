"""What may touch the water, and how soon a bad metal does harm."""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from protoconch.seawater.ranges import within
from protoconch.sources.references import references
from protoconch.waterworks.parameters import number, table
from protoconch.words import phrase, say

Verdict = Literal["use", "cure", "dry", "never"]
HARM = {"copper": "copper.half_die", "zinc": "zinc.no_effect"}
"""Where the harmful content of a metal stands in water_limits.toml."""


@dataclass(frozen=True, slots=True)
class Material:
    """A row of the table of materials.

    verdict: use, cure first, dry side only, never. cure_days: [d]. reason: in words.
    instead: a safe substitute. source: cited in full. metal: that it gives off, or empty.
    """

    name: str
    verdict: Verdict
    cure_days: int
    reason: str
    instead: str
    source: str
    metal: str


@cache
def materials() -> tuple[tuple[tuple[str, ...], Material], ...]:
    """Every material with all the names it goes by, in small letters."""
    return tuple(
        (
            (row["name"], *row["called"]),
            Material(
                row["name"],
                row["verdict"],
                row["cure_days"],
                say(row["reason"]),
                say(row["instead"]),
                references()[row["source"]].citation,
                row.get("metal", ""),
            ),
        )
        for row in table("materials")["materials"]
    )


def material_called(name: str) -> Material | None:
    """The material of that name, or None where the table has none."""
    wanted = name.strip().lower()
    for names, material in materials():
        if wanted in names:
            return material
    return None


def days_to_harm(material: Material, wetted_cm2: float, water_l: float) -> float | None:
    """Days in which a metal part brings standing water to a harmful content [d].

    wetted_cm2: of the part [cm²]. water_l: [L].
    Returns: None where the material gives off no listed metal or nothing of it is wet.
    Raises: BadInput or OutOfRange.
    Source: release by corrosion, materials.toml; Stofberg et al. 2011 for copper, Hunt & Anderson
    1989 for zinc.
    """
    within(phrase("the wetted area"), wetted_cm2, 0.0, 1e7, "cm²")
    if not material.metal or wetted_cm2 <= 0 or water_l <= 0:
        return None
    ug_day = number("materials", f"release.{material.metal}") * wetted_cm2 * 1e-4 * 1e6
    return number("water_limits", HARM[material.metal]) * water_l / ug_day
